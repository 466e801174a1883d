package ide

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint/layout"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// applied is a text after edits that do not overlap.
func applied(t *source.Text, edits []TextEdit) string {
	slices.SortStableFunc(edits, func(a, b TextEdit) int { return b.Start - a.Start })
	for _, e := range edits {
		t = t.Edit(e.Start, e.End, []byte(e.New))
	}
	return t.String()
}

// The editor and the command lay a file out alike.
func TestFormatAgreesWithTheCommand(t *testing.T) {
	texts := demoPlans(t)
	for _, f := range schema.Catalogue().Files {
		texts[f.Text.Path()] = f.Text.String()
	}
	indent := regexp.MustCompile(`(?m)^ +`)
	spoilers := map[string]func(string) string{
		"as it is":       func(s string) string { return s },
		"no indentation": func(s string) string { return indent.ReplaceAllString(s, "") },
		"wide":           func(s string) string { return strings.ReplaceAll(s, " = ", "    =   ") },
		"narrow":         func(s string) string { return strings.ReplaceAll(s, " = ", "=") },
		"blanks at ends": func(s string) string { return strings.ReplaceAll(s, "\n", "  \n") },
		"no end":         func(s string) string { return strings.TrimRight(s, "\n") },
		"Windows":        func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") },
		"marked, Windows": func(s string) string {
			return "\ufeff" + strings.ReplaceAll(indent.ReplaceAllString(s, ""), "\n", "\r\n")
		},
	}
	for name, text := range texts {
		for how, spoil := range spoilers {
			t.Run(name+", "+how, func(t *testing.T) {
				spoilt := spoil(text)
				want, err := layout.Format([]byte(spoilt))
				if err != nil {
					t.Fatal(err)
				}
				f := source.Parse(source.NewText("p.ohm.hcl", []byte(spoilt)))
				if got := applied(f.Text, Format(&View{File: f})); got != string(want) {
					t.Errorf("got  %q\nwant %q", got, want)
				}
			})
		}
	}
}
