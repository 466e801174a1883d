// Package layout gives plan files their canonical layout. It moves words; it
// changes none.
package layout

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/hashicorp/hcl/v2/hclwrite"

	"ohmstead/schema/source"
)

// Broken says why a text is not laid out: its syntax is not sound.
type Broken struct {
	Offset  int // bytes
	Message string
}

func (b *Broken) Error() string { return b.Message }

var errUnsafe = errors.New("the layout would change more than blanks, which is a mistake in this program; the file stays as it is")

// Format gives a text its canonical layout: that of HCL, a line end at the end,
// and no blanks at line ends. A byte order mark and line ends of "\r\n" stay;
// of mixed line ends the more frequent wins. A text with a syntax error comes
// back as a *Broken error.
func Format(text []byte) ([]byte, error) {
	f := source.Parse(source.NewText("", text))
	if err := sound(f); err != nil {
		return nil, err
	}
	mark, body := splitMark(text)
	crlf := bytes.Count(body, []byte("\r\n"))
	windows := 2*crlf > bytes.Count(body, []byte("\n"))
	plain := bytes.ReplaceAll(body, []byte("\r\n"), []byte("\n"))
	out, err := Sound(plain)
	if err != nil {
		return nil, err
	}
	if windows {
		out = bytes.ReplaceAll(out, []byte("\n"), []byte("\r\n"))
	}
	return slices.Concat(mark, out), nil
}

// Sound is as Format, for a text that is known to be without a syntax error and
// has neither a byte order mark nor line ends of "\r\n".
func Sound(text []byte) ([]byte, error) {
	if len(text) > 0 && text[len(text)-1] != '\n' {
		text = append(text[:len(text):len(text)], '\n')
	}
	if out, ok := tidy(text); ok {
		return out, nil
	}
	out := fixpoint(text)
	if !sameWords(text, out) {
		return nil, errUnsafe
	}
	return out, nil
}

// fixpoint formats until nothing moves any more: one pass of the HCL formatter
// can leave cells that only the next one lines up.
func fixpoint(text []byte) []byte {
	for range 4 {
		next := hclwrite.Format(text)
		if bytes.Equal(next, text) {
			break
		}
		text = next
	}
	return text
}

func sound(f *source.File) error {
	if p := f.Refused(); p != nil {
		return &Broken{p.Start, join(p)}
	}
	for i, piece := range f.Pieces {
		if ps := piece.Problems(); len(ps) > 0 {
			return &Broken{f.Offset(i) + ps[0].Start, join(&ps[0])}
		}
	}
	return nil
}

func join(p *source.Problem) string {
	if p.Detail == "" {
		return p.Summary
	}
	return fmt.Sprintf("%s: %s", p.Summary, p.Detail)
}

var byteOrderMark = []byte{0xef, 0xbb, 0xbf}

func splitMark(text []byte) (mark, body []byte) {
	if bytes.HasPrefix(text, byteOrderMark) {
		return byteOrderMark, text[len(byteOrderMark):]
	}
	return nil, text
}

// sameWords reports whether two texts have the same tokens: comments, quoted
// text and heredocs to the byte.
func sameWords(a, b []byte) bool {
	x, _ := hclsyntax.LexConfig(a, "", hcl.InitialPos)
	y, _ := hclsyntax.LexConfig(b, "", hcl.InitialPos)
	return slices.EqualFunc(x, y, func(s, t hclsyntax.Token) bool {
		return s.Type == t.Type && bytes.Equal(s.Bytes, t.Bytes)
	})
}
