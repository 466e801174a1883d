// Package sentences holds every sentence that lists, drawings and sheets say, so
// that another language is one file.
package sentences

import (
	_ "embed"
	"strconv"
	"strings"
	"sync/atomic"
)

// English is the catalogue: "key = text" in one line, and lines that begin with
// a space go on. {name} stands for what the plan says.
//
//go:embed english.txt
var English string

var spoken atomic.Pointer[map[string]string]

// Speak takes another catalogue, in the form of English, for all that is said from then on.
func Speak(catalogue string) {
	read := Read(catalogue)
	spoken.Store(&read)
}

// Read reads a catalogue: sentences by their keys.
func Read(catalogue string) map[string]string {
	out := map[string]string{}
	key := ""
	for line := range strings.Lines(catalogue) {
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

// Say gives a sentence of the catalogue with names and what stands for them,
// by turns.
func Say(key string, with ...string) string {
	text, ok := Find(key)
	if !ok {
		panic("sentences: no sentence " + key)
	}
	if len(with) == 0 {
		return text
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

// Find gives a sentence that need not be there.
func Find(key string) (text string, ok bool) {
	if spoken.Load() == nil {
		Speak(English)
	}
	text, ok = (*spoken.Load())[key]
	return text, ok
}

// Count gives a number of things: both forms of the word stand in the catalogue.
func Count(n int, noun string) string {
	one, many, _ := strings.Cut(Say("count."+noun, "n", strconv.Itoa(n)), " | ")
	if n == 1 {
		return one
	}
	return many
}
