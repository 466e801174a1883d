package ide

import (
	"bytes"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/lint/layout"
)

// Format gives the edits that bring v.File into the canonical layout. Only
// lines that change are touched; heredocs, line ends and a byte order mark
// stay as they are, and so do blocks that do not parse.
func Format(v *View) []TextEdit {
	var out []TextEdit
	sound := func(i int) bool { return len(v.File.Pieces[i].Problems()) == 0 }
	for i := 0; i < len(v.File.Pieces); {
		if !sound(i) {
			i++
			continue
		}
		j := i + 1
		for j < len(v.File.Pieces) && sound(j) {
			j++
		}
		out = append(out, v.laidOut(i, j)...)
		i = j
	}
	return out
}

// FormatRange does so for the lines of v.File that a range touches.
func FormatRange(v *View, at Range) []TextEdit {
	if len(v.File.Pieces) == 0 {
		return nil
	}
	return v.inLines(Format(v), v.lineOf(at.Start), v.lineOf(max(at.Start, at.End)))
}

func (v *View) lineOf(offset int) int { return v.File.Text.OffsetPosition(offset, 0).Line }

// inLines keeps the edits from one line to another.
func (v *View) inLines(edits []TextEdit, first, last int) []TextEdit {
	return slices.DeleteFunc(edits, func(e TextEdit) bool {
		line := v.lineOf(e.Start)
		return line < first || line > last
	})
}

// FormatTriggers are the characters after which FormatTyped has something to do.
var FormatTriggers = []string{"}", "\n"}

// FormatTyped tidies up after a "}" or a line end was typed in front of
// offset: the block that was closed, or the lines of the block above, and the
// indentation of a new line.
func FormatTyped(v *View, offset int, typed string) []TextEdit {
	s, ok := v.spot(offset)
	if !ok {
		return nil
	}
	i := v.File.PieceAt(offset)
	if i > 0 && s.at == 0 { // right behind the piece before
		i--
		s = spot{v.File.Pieces[i], v.File.Offset(i), len(v.File.Pieces[i].Bytes())}
	}
	var edits []TextEdit
	if len(s.piece.Problems()) == 0 {
		edits = slices.DeleteFunc(v.laidOut(i, i+1), func(e TextEdit) bool { return strings.Contains(e.New, "\n") })
	}
	line := v.lineOf(offset)
	switch typed {
	case "}":
		h, ok := v.hit(offset - 1)
		if !ok || h.node() == nil || h.node().Whole.End != h.at+1 {
			return nil
		}
		whole := h.file(h.node().Whole)
		return v.inLines(edits, v.lineOf(whole.Start), v.lineOf(whole.End))
	case "\n":
		first := 0
		if h, ok := v.hit(offset); ok && h.node() != nil {
			first = v.lineOf(h.file(h.node().Whole).Start)
		}
		edits = v.inLines(edits, first, line-1)
		return append(edits, v.indentation(s, offset)...)
	}
	return nil
}

// indentation puts a blank line as deep as what is open around it.
func (v *View) indentation(s spot, offset int) []TextEdit {
	line := v.lineOf(offset)
	have := v.File.Text.Line(line)
	if len(bytes.TrimSpace(have)) > 0 {
		return nil
	}
	c := s.cursor(v)
	if c.inside(heredocFrame) || c.inside(quoteFrame) {
		return nil
	}
	depth := 0
	lastLine := -1
	for _, f := range c.frames[1:] {
		if l := v.lineOf(s.base + c.tokens[f.open].Range.Start.Byte); l != lastLine {
			depth, lastLine = depth+1, l
		}
	}
	want := strings.Repeat("  ", depth)
	if string(have) == want {
		return nil
	}
	start := v.File.Text.LineStart(line)
	return []TextEdit{{Location{v.File.Text.Path(), start, start + len(have)}, want}}
}

// laidOut gives the edits for sound pieces from i to j. They only ever change
// the blanks within lines, and end the last one.
func (v *View) laidOut(i, j int) []TextEdit {
	data := v.File.Text.Bytes()
	start, end := v.File.Offset(i), len(data)
	if j < len(v.File.Pieces) {
		end = v.File.Offset(j)
	}
	plain := bytes.TrimSuffix(bytes.ReplaceAll(data[start:end], []byte("\r\n"), []byte("\n")), []byte("\r"))
	laid, err := layout.Sound(plain)
	if err != nil || bytes.Equal(plain, laid) {
		return nil
	}
	before, after := strings.Split(string(plain), "\n"), strings.Split(string(laid), "\n")
	ended := len(after) == len(before)+1 && after[len(before)] == ""
	if len(after) != len(before) && !ended {
		return nil // not a change of blanks
	}
	keep := v.heredocLines(i, j)
	var out []TextEdit
	at := start
	for k, old := range before {
		if old != after[k] && !keep[v.lineOf(at)] && sameButBlanks(old, after[k]) {
			out = append(out, v.lineEdit(at, old, after[k]))
		}
		at += len(old)
		if at < end && data[at] == '\r' {
			at++
		}
		at++ // the line end
	}
	if ended { // the last line had no end
		out = append(out, TextEdit{Location{v.File.Text.Path(), end, end}, lineEnds(data, "\n")})
	}
	return out
}

func sameButBlanks(a, b string) bool {
	strip := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r == ' ' || r == '\t' {
				return -1
			}
			return r
		}, s)
	}
	return strip(a) == strip(b)
}

// lineEdit replaces the least of a line.
func (v *View) lineEdit(at int, old, new string) TextEdit {
	a := 0
	for a < len(old) && a < len(new) && old[a] == new[a] {
		a++
	}
	b := 0
	for b < len(old)-a && b < len(new)-a && old[len(old)-1-b] == new[len(new)-1-b] {
		b++
	}
	// Only blanks differ, and they are single bytes: no character is cut in two.
	return TextEdit{Location{v.File.Text.Path(), at + a, at + len(old) - b}, new[a : len(new)-b]}
}

// heredocLines are the lines of the file that belong to heredocs, without the
// ones that start them.
func (v *View) heredocLines(i, j int) map[int]bool {
	out := map[int]bool{}
	for ; i < j; i++ {
		if !bytes.Contains(v.File.Pieces[i].Bytes(), []byte("<<")) {
			continue
		}
		base := v.File.Offset(i)
		from := -1
		for _, t := range v.File.Pieces[i].Tokens() {
			switch t.Type {
			case hclsyntax.TokenOHeredoc:
				from = v.lineOf(base+t.Range.Start.Byte) + 1
			case hclsyntax.TokenCHeredoc:
				for line := from; from >= 0 && line <= v.lineOf(base+t.Range.Start.Byte); line++ {
					out[line] = true
				}
				from = -1
			}
		}
	}
	return out
}
