package schema

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestPictures(t *testing.T) {
	drawn := map[string]bool{}
	var of func(b *BlockType)
	of = func(b *BlockType) {
		for i := range b.Attrs {
			if b.Picture(&b.Attrs[i]) != "" {
				drawn[b.Name+"."+b.Attrs[i].Name] = true
			}
		}
		for _, n := range b.Blocks {
			of(n)
		}
	}
	for _, b := range Language {
		of(b)
	}
	for name, text := range pictures {
		if !drawn[name] {
			t.Errorf("there is no attribute %s", name)
		}
		for line := range strings.SplitSeq(text, "\n") {
			if n := utf8.RuneCountInString(line); n > 76 || strings.TrimRight(line, " ") != line || strings.Contains(line, "\t") {
				t.Errorf("%s: %q has %d letters, blanks at its end or a tab", name, line, n)
			}
		}
	}
}
