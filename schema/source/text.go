package source

import (
	"bytes"
	"slices"
)

// Text is one immutable version of a file's bytes.
//
// Lines end with "\n" or "\r\n"; a lone "\r" is an ordinary character, as it is in most editors and in HCL. A UTF-8
// byte order mark at the start counts as bytes of the text but has no width in positions.
type Text struct {
	path   string
	data   []byte
	starts []int // offset of the first byte of each line; starts[0] lies behind a byte order mark
}

var byteOrderMark = []byte{0xef, 0xbb, 0xbf}

// NewText returns a text over data, which the caller must not change afterwards. The path is the slash-separated name
// under which findings show the file.
func NewText(path string, data []byte) *Text {
	t := &Text{path: path, data: data, starts: make([]int, 1, 1+bytes.Count(data, newline))}
	t.starts[0] = markLength(data)
	t.starts = appendStarts(t.starts, data, 0)
	return t
}

var newline = []byte{'\n'}

// appendStarts appends the offsets, moved by base, that follow a line end in data.
func appendStarts(starts []int, data []byte, base int) []int {
	for i := 0; ; {
		n := bytes.IndexByte(data[i:], '\n')
		if n < 0 {
			return starts
		}
		i += n + 1
		starts = append(starts, base+i)
	}
}

func markLength(data []byte) int {
	if bytes.HasPrefix(data, byteOrderMark) {
		return len(byteOrderMark)
	}
	return 0
}

// Path returns the slash-separated name under which findings show the file.
func (t *Text) Path() string { return t.path }

// Named returns the same text under another path.
func (t *Text) Named(path string) *Text {
	u := *t
	u.path = path
	return &u
}

// Bytes returns the bytes of the text, which must not be changed.
func (t *Text) Bytes() []byte { return t.data }

// String returns a copy of the text.
func (t *Text) String() string { return string(t.data) }

// Len returns the number of bytes.
func (t *Text) Len() int { return len(t.data) }

// Lines returns the number of lines, which is one more than the number of line ends.
func (t *Text) Lines() int { return len(t.starts) }

// LineStart returns the offset of the first character of a line, counted from 0. Lines outside the text are clamped.
func (t *Text) LineStart(line int) int {
	return t.starts[min(max(line, 0), len(t.starts)-1)]
}

// Line returns the bytes of a line, counted from 0, without its line end. It is empty for lines outside the text.
func (t *Text) Line(line int) []byte {
	if line < 0 || line >= len(t.starts) {
		return nil
	}
	return t.data[t.starts[line]:t.lineEnd(line)]
}

// lineEnd returns the offset behind the last character of a line that exists.
func (t *Text) lineEnd(line int) int {
	if line == len(t.starts)-1 {
		return len(t.data)
	}
	end := t.starts[line+1] - 1
	if end > t.starts[line] && t.data[end-1] == '\r' {
		end--
	}
	return end
}

// Edit returns the next version of the text, in which the bytes from start to end are replaced. Offsets are clamped to
// the text, and an end before start counts as start.
func (t *Text) Edit(start, end int, replacement []byte) *Text {
	start = min(max(start, 0), len(t.data))
	end = min(max(end, start), len(t.data))
	data := slices.Concat(t.data[:start], replacement, t.data[end:])
	if start < len(byteOrderMark) {
		return NewText(t.path, data)
	}
	// Only the replacement is searched for line ends: those before it stay, those behind it move. A line start equal to
	// start or end comes from the line end before it, which is why the first search keeps it and the second drops it.
	before, _ := slices.BinarySearch(t.starts, start+1)
	after, _ := slices.BinarySearch(t.starts, end+1)
	starts := make([]int, 0, before+bytes.Count(replacement, newline)+len(t.starts)-after)
	starts = append(starts, t.starts[:before]...)
	starts = appendStarts(starts, replacement, start)
	shift := start + len(replacement) - end
	for _, s := range t.starts[after:] {
		starts = append(starts, s+shift)
	}
	return &Text{path: t.path, data: data, starts: starts}
}
