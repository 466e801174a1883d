package sheets

import "ohmstead/lint/sentences"

func say(key string, with ...string) string { return sentences.Say(key, with...) }

func count(n int, noun string) string { return sentences.Count(n, noun) }
