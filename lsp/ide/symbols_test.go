package ide

import (
	"testing"

	"ohmstead/schema"
)

// Every type of block has its kind of symbol.
func TestSymbolKinds(t *testing.T) {
	var each func([]*schema.BlockType)
	each = func(types []*schema.BlockType) {
		for _, b := range types {
			if _, ok := symbolKinds[b.Name]; !ok {
				t.Errorf("%s has no kind of symbol", b.Name)
			}
			each(b.Blocks)
		}
	}
	each(schema.Language)
}

// What a person would mean comes first.
func TestFits(t *testing.T) {
	for _, c := range []struct{ query, better, worse string }{
		{"left", "run.left", "run.cleft"},                // at the start of a word
		{"left", "run.left", "lead.end-left-of-the-run"}, // of two alike the shorter
		{"rl", "run.left", "wire.all"},                   // the starts of words
		{"arch", "run.arch", "run.a-r-c-h"},              // side by side
		{"brick", "supply.brick", "strip.b-red-ick"},
		{"RUN", "run.left", "lead.r-u-n"},
	} {
		better, ok1 := fits(c.query, c.better)
		worse, ok2 := fits(c.query, c.worse)
		if !ok1 || !ok2 || better <= worse {
			t.Errorf("%q fits %s by %d (%v) and %s by %d (%v)", c.query, c.better, better, ok1, c.worse, worse, ok2)
		}
	}
	for _, c := range []struct {
		query, name string
		want        bool
	}{{"", "run.left", true}, {"lr", "run.left", false}, {"leftt", "run.left", false}, {"t", "run.left", true}} {
		if _, ok := fits(c.query, c.name); ok != c.want {
			t.Errorf("%q fits %s: %v", c.query, c.name, ok)
		}
	}
}
