package main

import (
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/schema"
)

// Whatever is answered, there is a plan that passes, or it is said why none does.
func TestNewByAnswers(t *testing.T) {
	strips := schema.Catalogue().Entries("strip")
	lengths := []string{"1 m", "3.6 m", "60 m", "20 cm", "16 ft 4 in", "8 m", "15 m"}[:thorough.Or(7, 3)]
	n, none := 0, 0
	for i, b := range strips {
		for j, length := range lengths {
			if (i+j)%thorough.Or(6, 43) != 0 {
				continue
			}
			a := answers{length: length, strip: schema.HeaderOf(b).Name, mains: []string{"120 V", "230 V", "100 V"}[n%3]}
			n++
			text, err := fromAnswers(t.Context(), "first", a)
			switch {
			case err != nil:
				none++
				t.Log(err)
				if len(err.Error()) < 40 || text != nil {
					t.Errorf("%v: says only %q", a, err)
				}
			case passes(t.Context(), "first", text) != nil:
				t.Errorf("%v: %v", a, passes(t.Context(), "first", text))
			case !strings.Contains(string(text), a.strip) || !strings.Contains(string(text), length) && !strings.Contains(string(text), "-part-2"):
				t.Errorf("%v: is not what was asked for:\n%s", a, text)
			}
		}
	}
	t.Logf("%d combinations, %d of them without a plan", n, none)
}
