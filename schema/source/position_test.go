package source

import (
	"testing"
	"unicode/utf8"
)

func TestPositions(t *testing.T) {
	// Per character of the second line: a 1 byte, é 2, combining accent 2, 漢 3, tree 4 (two UTF-16 units), bad byte 1.
	const text = "ab\r\naé\u0301漢🎄\xff\r\nz"
	tests := []struct {
		name               string
		offset, line       int
		utf8, utf16, runes int // columns
		back               int // offset that the position converts to
	}{
		{name: "start", offset: 0, back: 0},
		{name: "end of line", offset: 2, utf8: 2, utf16: 2, runes: 2, back: 2},
		{name: "inside CRLF", offset: 3, utf8: 2, utf16: 2, runes: 2, back: 2},
		{name: "start of line", offset: 4, line: 1, back: 4},
		{name: "é", offset: 5, line: 1, utf8: 1, utf16: 1, runes: 1, back: 5},
		{name: "inside é", offset: 6, line: 1, utf8: 1, utf16: 1, runes: 1, back: 5},
		{name: "combining accent", offset: 7, line: 1, utf8: 3, utf16: 2, runes: 2, back: 7},
		{name: "漢", offset: 9, line: 1, utf8: 5, utf16: 3, runes: 3, back: 9},
		{name: "inside 漢", offset: 11, line: 1, utf8: 5, utf16: 3, runes: 3, back: 9},
		{name: "tree", offset: 12, line: 1, utf8: 8, utf16: 4, runes: 4, back: 12},
		{name: "inside tree", offset: 15, line: 1, utf8: 8, utf16: 4, runes: 4, back: 12},
		{name: "bad byte", offset: 16, line: 1, utf8: 12, utf16: 6, runes: 5, back: 16},
		{name: "behind bad byte", offset: 17, line: 1, utf8: 13, utf16: 7, runes: 6, back: 17},
		{name: "end", offset: 20, line: 2, utf8: 1, utf16: 1, runes: 1, back: 20},
		{name: "before the text", offset: -1, back: 0},
		{name: "behind the text", offset: 99, line: 2, utf8: 1, utf16: 1, runes: 1, back: 20},
	}
	source := NewText("p.hcl", []byte(text))
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for _, e := range []struct {
				name   string
				e      Encoding
				column int
			}{{"UTF8", UTF8, test.utf8}, {"UTF16", UTF16, test.utf16}, {"Rune", Rune, test.runes}} {
				want := Position{test.line, e.column}
				got := source.OffsetPosition(test.offset, e.e)
				if got != want {
					t.Errorf("%s: OffsetPosition(%d) = %v, want %v", e.name, test.offset, got, want)
				}
				if back := source.PositionOffset(got, e.e); back != test.back {
					t.Errorf("%s: PositionOffset(%v) = %d, want %d", e.name, got, back, test.back)
				}
			}
		})
	}
}

func TestPositionOffsetClamps(t *testing.T) {
	source := NewText("p.hcl", []byte("a🎄b\r\ncd"))
	tests := []struct {
		name string
		p    Position
		e    Encoding
		want int
	}{
		{"inside a surrogate pair", Position{0, 2}, UTF16, 1},
		{"behind a surrogate pair", Position{0, 3}, UTF16, 5},
		{"inside a character", Position{0, 3}, UTF8, 1},
		{"behind the line end", Position{0, 99}, UTF16, 6},
		{"behind the line end in bytes", Position{0, 99}, UTF8, 6},
		{"before the line", Position{1, -3}, UTF16, 8},
		{"before the line in bytes", Position{1, -3}, UTF8, 8},
		{"before the text", Position{-1, 4}, UTF16, 0},
		{"behind the text", Position{2, 0}, UTF16, 10},
		{"far behind the text", Position{99, 99}, Rune, 10},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := source.PositionOffset(test.p, test.e); got != test.want {
				t.Errorf("PositionOffset(%v) = %d, want %d", test.p, got, test.want)
			}
		})
	}
	marked := NewText("p.hcl", []byte("\ufeffab"))
	if got := marked.PositionOffset(Position{}, UTF16); got != 3 {
		t.Errorf("the first position of a text with a mark is offset %d, want 3", got)
	}
	if got := marked.OffsetPosition(1, UTF16); got != (Position{}) {
		t.Errorf("offset 1, inside the mark, is at %v", got)
	}
	if got := marked.OffsetPosition(4, UTF16); got != (Position{0, 1}) {
		t.Errorf("offset 4, behind the mark, is at %v", got)
	}
}

func FuzzPositions(f *testing.F) {
	for _, seed := range []string{"", "a", "é\r\n🎄\u0301", "\ufeffa\n", "\r\r\n\n", "\xf0\x9f\x8e", "\x80\xff\ud7ff", "👩‍👩‍👧‍👦\n"} {
		f.Add([]byte(seed), 1)
	}
	f.Fuzz(func(t *testing.T, data []byte, offset int) {
		text := NewText("p.hcl", data)
		for _, e := range []Encoding{UTF8, UTF16, Rune} {
			p := text.OffsetPosition(offset, e)
			back := text.PositionOffset(p, e)
			start := markLength(data)
			if clamped := min(max(offset, start), len(data)); back > clamped || clamped-back >= utf8.UTFMax {
				t.Errorf("offset %d of %q is %v in encoding %d, which is offset %d", offset, data, p, e, back)
			}
			if again := text.OffsetPosition(back, e); again != p {
				t.Errorf("%v in encoding %d of %q is offset %d, which is %v", p, e, data, back, again)
			}
			if line := text.Line(p.Line); back < text.LineStart(p.Line) || back > text.LineStart(p.Line)+len(line) {
				t.Errorf("%v of %q is offset %d, outside line %q", p, data, back, line)
			}
		}
	})
}
