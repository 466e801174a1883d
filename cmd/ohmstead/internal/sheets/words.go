package sheets

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

// english holds every sentence of the sheets. Another language is another such
// file: "key = text" in one line, and lines that begin with a space go on.
// {name} stands for what the plan says.
//
//go:embed english.txt
var english string

var sentences = sync.OnceValue(func() map[string]string { return read(english) })

// read reads a catalogue of sentences.
func read(text string) map[string]string {
	out := map[string]string{}
	key := ""
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		switch name, rest, ok := strings.Cut(line, " = "); {
		case line == "" || line[0] == '#':
		case line[0] == ' ':
			out[key] = strings.TrimSpace(out[key] + " " + strings.TrimSpace(line))
		case ok:
			key = name
			out[key] = strings.TrimSpace(rest)
		}
	}
	return out
}

// say gives a sentence of the catalogue with names and what stands for them,
// by turns.
func say(key string, with ...string) string {
	text, ok := sentences()[key]
	if !ok {
		panic("sheets: no sentence " + key)
	}
	pairs := make([]string, len(with))
	for i, w := range with {
		if i%2 == 0 {
			w = "{" + w + "}"
		}
		pairs[i] = w
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// count gives a number of things: both forms of the word stand in the catalogue.
func count(n int, noun string) string {
	one, many, _ := strings.Cut(say("count."+noun, "n", strconv.Itoa(n)), " | ")
	if n == 1 {
		return one
	}
	return many
}
