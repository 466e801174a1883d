package source

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestLines(t *testing.T) {
	tests := []struct {
		name, text string
		starts     []int
		lines      []string
	}{
		{"empty", "", []int{0}, []string{""}},
		{"one line", "ab", []int{0}, []string{"ab"}},
		{"line end last", "ab\n", []int{0, 3}, []string{"ab", ""}},
		{"CRLF", "a\r\n\r\nb", []int{0, 3, 5}, []string{"a", "", "b"}},
		{"lone CR", "a\rb\n\r", []int{0, 4}, []string{"a\rb", "\r"}},
		{"mark", "\ufeffa\nb", []int{3, 5}, []string{"a", "b"}},
		{"only a mark", "\ufeff", []int{3}, []string{""}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			text := NewText("p.hcl", []byte(test.text))
			var starts []int
			var lines []string
			for i := range text.Lines() {
				starts = append(starts, text.LineStart(i))
				lines = append(lines, string(text.Line(i)))
			}
			if !slices.Equal(starts, test.starts) || !slices.Equal(lines, test.lines) {
				t.Errorf("got %v %q, want %v %q", starts, lines, test.starts, test.lines)
			}
			if text.Line(-1) != nil || text.Line(text.Lines()) != nil {
				t.Error("a line outside the text is not empty")
			}
			if got := text.LineStart(99); got != test.starts[len(test.starts)-1] {
				t.Errorf("start of a line behind the text: %d", got)
			}
		})
	}
}

func TestEdit(t *testing.T) {
	text := NewText("p.hcl", []byte("ab\ncd\n"))
	next := text.Edit(1, 4, []byte("X\nY"))
	if next.String() != "aX\nYd\n" || next.Path() != "p.hcl" || next.Len() != 6 {
		t.Errorf("got %q", next)
	}
	if text.String() != "ab\ncd\n" {
		t.Errorf("the old version became %q", text)
	}
	if got := text.Edit(-5, 99, nil).String(); got != "" {
		t.Errorf("clamped edit: %q", got)
	}
	if got := text.Edit(4, 2, []byte("-")).String(); got != "ab\nc-d\n" {
		t.Errorf("edit with its end before its start: %q", got)
	}
}

func TestEditKeepsLineIndex(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	bits := []string{"", "x", "\n", "\r\n", "\r", "ab\ncd", "\n\n", "\ufeff", "é"}
	text := NewText("p.hcl", []byte("ab\r\ncd\n\nef"))
	for range 5000 {
		start := random.IntN(text.Len() + 1)
		end := min(start+random.IntN(4), text.Len())
		next := text.Edit(start, end, []byte(bits[random.IntN(len(bits))]))
		if want := NewText("p.hcl", next.Bytes()); !slices.Equal(next.starts, want.starts) {
			t.Fatalf("edit %d-%d of %q to %q: lines start at %v, want %v", start, end, text, next, next.starts, want.starts)
		}
		if text = next; text.Len() > 60 {
			text = text.Edit(20, text.Len(), nil)
		}
	}
}
