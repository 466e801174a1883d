package page

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"sync"
)

// board is what is shown, in pieces. Each has a key such as "run/run.arch" and
// the number of the change that put it up, so that a browser is sent what is
// new to it and nothing else.
type board struct {
	mu      sync.Mutex
	pieces  map[string]piece
	number  int           // of the last change
	changed chan struct{} // closed at the next one
}

type piece struct {
	text   json.RawMessage // nil for one that was taken down
	number int
}

// news is what a browser is sent.
type news struct {
	Number int                        `json:"number"`
	Pieces map[string]json.RawMessage `json:"pieces"` // null for one that was taken down
}

// put replaces all pieces whose keys begin with one of the kinds by others.
func (b *board) put(kinds []string, pieces map[string]any) {
	texts := make(map[string]json.RawMessage, len(pieces))
	for k, v := range pieces {
		text, err := json.Marshal(v)
		if err != nil {
			panic(err) // all of them are plain data of ours
		}
		texts[k] = text
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	next, some := b.number+1, false
	if b.pieces == nil {
		b.pieces = map[string]piece{}
	}
	for k, was := range b.pieces {
		kind, _, _ := strings.Cut(k, "/")
		if _, stays := texts[k]; !stays && was.text != nil && slices.Contains(kinds, kind) {
			b.pieces[k], some = piece{nil, next}, true
		}
	}
	for k, text := range texts {
		if !bytes.Equal(b.pieces[k].text, text) {
			b.pieces[k], some = piece{text, next}, true
		}
	}
	if some {
		b.number = next
		close(b.changed)
		b.changed = make(chan struct{})
	}
}

// since gives what changed after a change of that number, and a channel that
// is closed when something else has. One that is not known yet, as that of
// another page, counts as none.
func (b *board) since(number int) (news, <-chan struct{}) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if number > b.number {
		number = 0
	}
	out := news{b.number, map[string]json.RawMessage{}}
	for k, p := range maps.All(b.pieces) {
		if p.number > number && (p.text != nil || number > 0) {
			out.Pieces[k] = p.text
		}
	}
	return out, b.changed
}
