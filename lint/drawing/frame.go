package drawing

import "ohmstead/lint/sentences"

// Frame is the room that a drawing may take, mm.
type Frame struct{ Width, Height float64 }

// Sheet is the room that a drawing has on a sheet of A4 laid across.
var Sheet = Frame{Width: 277, Height: 175}

// say gives a sentence of drawings out of the catalogue.
func say(key string, with ...string) string { return sentences.Say("draw."+key, with...) }
