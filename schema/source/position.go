package source

import (
	"slices"
	"unicode/utf8"
)

// Encoding says in which unit the columns of a [Position] are counted.
type Encoding int

// The units of columns. A byte that is not valid UTF-8 counts as one unit in each of them.
const (
	UTF8  Encoding = iota // bytes
	UTF16                 // UTF-16 code units, as editors count by default
	Rune                  // Unicode code points, as people count in messages
)

// Position is a place in a text as line and column, both counted from 0.
type Position struct{ Line, Column int }

// OffsetPosition converts a byte offset. An offset outside the text is clamped to it; one inside a character rounds
// down to its start, one inside a line end to the end of the line, one inside a byte order mark to the first character.
func (t *Text) OffsetPosition(offset int, e Encoding) Position {
	offset = min(max(offset, t.starts[0]), len(t.data))
	line, found := slices.BinarySearch(t.starts, offset)
	if !found {
		line--
	}
	text := t.data[t.starts[line]:t.lineEnd(line)]
	return Position{line, e.Width(text[:floor(text, offset-t.starts[line])])}
}

// Width returns how many columns a text within a line takes.
func (e Encoding) Width(text []byte) int {
	if e == UTF8 {
		return len(text)
	}
	columns := 0
	for len(text) > 0 {
		if text[0] < utf8.RuneSelf {
			columns++
			text = text[1:]
			continue
		}
		r, size := utf8.DecodeRune(text)
		columns += width(r, e)
		text = text[size:]
	}
	return columns
}

// PositionOffset converts a position to a byte offset. A line before the text gives its first character, one behind it
// its end. A column outside its line is clamped to it; one inside a character or surrogate pair rounds down.
func (t *Text) PositionOffset(p Position, e Encoding) int {
	switch {
	case p.Line < 0:
		return t.starts[0]
	case p.Line >= len(t.starts):
		return len(t.data)
	}
	start, end := t.starts[p.Line], t.lineEnd(p.Line)
	text := t.data[start:end]
	if e == UTF8 {
		return start + floor(text, max(p.Column, 0))
	}
	i := 0
	for column := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		column += width(r, e)
		if column > p.Column {
			break
		}
		i += size
	}
	return start + i
}

// width returns the columns that a character takes in an encoding other than UTF8.
func width(r rune, e Encoding) int {
	if e == UTF16 && r > 0xffff {
		return 2
	}
	return 1
}

// floor returns the greatest offset up to i at which a character of text starts or text ends.
func floor(text []byte, i int) int {
	if i >= len(text) {
		return len(text)
	}
	for back := 1; back < utf8.UTFMax && back <= i && !utf8.RuneStart(text[i-back+1]); back++ {
		if _, size := utf8.DecodeRune(text[i-back:]); size > back {
			return i - back
		}
	}
	return i
}
