package drawn

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/text/encoding/charmap"
)

// Sizes beyond which a drawing is refused: more than anybody draws, and little
// enough that the worst file is read in seconds.
const (
	MaxFile  = 16 << 20  // bytes of a file
	maxDepth = 256       // elements within each other
	maxNodes = 200_000   // elements
	maxWork  = 128 << 20 // bytes of elements as they are drawn, those that a use draws again included
	maxDrawn = 100_000   // lines, arcs and curves of all shapes
)

// Error says why a drawing is not read.
type Error struct {
	Line    int // 0: the whole of it
	Message string
}

func (e *Error) Error() string { return e.Message }

func refuse(line int, format string, args ...any) *Error {
	return &Error{line, fmt.Sprintf(format, args...)}
}

// svgSpace is the namespace of SVG.
const svgSpace = "http://www.w3.org/2000/svg"

// node is one element of SVG. Those of other namespaces, which programs keep
// their own notes in, are left out with all that they hold.
type node struct {
	name  string
	attrs map[string]string // by local name
	text  string            // of it and all that it holds
	line  int
	kids  []*node
	style map[string]string // see sheet.own
}

// parse reads a file into its elements. It loads nothing and knows no entities
// but those of XML; an internal subset is not read.
func parse(file []byte) (*node, *Error) {
	switch {
	case len(file) > MaxFile:
		return nil, refuse(0, "it has %d bytes; at most %d are read", len(file), MaxFile)
	case bytes.HasPrefix(file, []byte{0x1f, 0x8b}):
		return nil, refuse(0, "it is compressed; unpack it, or save it as plain SVG")
	}
	d := xml.NewDecoder(bytes.NewReader(file))
	d.CharsetReader = func(charset string, in io.Reader) (io.Reader, error) {
		switch strings.ToLower(charset) {
		case "us-ascii":
			return in, nil
		case "iso-8859-1":
			return charmap.ISO8859_1.NewDecoder().Reader(in), nil
		case "windows-1252":
			return charmap.Windows1252.NewDecoder().Reader(in), nil
		}
		return nil, fmt.Errorf("it is written in %s; save it in UTF-8", charset)
	}
	var root *node
	var open []*node
	for count := 0; ; {
		line, _ := d.InputPos()
		t, err := d.Token()
		if err != nil {
			return nil, broken(d, err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			if t.Name.Space != svgSpace && t.Name.Space != "" {
				if root == nil {
					return nil, refuse(line, "it is no SVG: its first element is %q", t.Name.Local)
				}
				if err := d.Skip(); err != nil {
					return nil, broken(d, err)
				}
				continue
			}
			n := &node{name: t.Name.Local, line: line, attrs: attributes(t.Attr)}
			switch count++; {
			case root == nil && n.name != "svg":
				return nil, refuse(line, "it is no SVG: its first element is %q", n.name)
			case count > maxNodes:
				return nil, refuse(line, "it has more than %d elements; simplify the drawing", maxNodes)
			case len(open) == maxDepth:
				return nil, refuse(line, "its groups lie more than %d deep; take groups apart", maxDepth)
			case root == nil:
				root = n
			default:
				up := open[len(open)-1]
				up.kids = append(up.kids, n)
			}
			open = append(open, n)
		case xml.EndElement:
			open = open[:len(open)-1]
			if len(open) == 0 {
				return root, nil
			}
		case xml.CharData:
			for _, n := range slices.Backward(open) {
				if n.name == "style" || n.name == "title" || n.name == "text" {
					n.text += string(t)
					break
				}
			}
		}
	}
}

func broken(d *xml.Decoder, err error) *Error {
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		line, _ := d.InputPos()
		if errors.Is(err, io.EOF) {
			return refuse(line, "it is no SVG: there is no element in it")
		}
		return refuse(line, "%s", strings.TrimPrefix(err.Error(), "xml: "))
	}
	if strings.HasPrefix(syntax.Msg, "invalid character entity") {
		return refuse(syntax.Line, "%s: entities of a drawing's own are not read; save it as plain SVG", syntax.Msg)
	}
	return refuse(syntax.Line, "it is broken XML: %s", syntax.Msg)
}

// attributes are those of SVG by their names, and of others what is understood:
// references, ids and labels, whoever's they are.
func attributes(list []xml.Attr) map[string]string {
	m := make(map[string]string, len(list))
	for _, a := range list {
		name := a.Name.Local
		switch {
		case a.Name.Space == "":
			m[name] = a.Value
		case name == "href" || name == "id" || name == "label":
			if _, own := m[name]; !own {
				m[name] = a.Value
			}
		}
	}
	return m
}

// title is what the element's own title says.
func (n *node) title() string {
	for _, k := range n.kids {
		if k.name == "title" {
			return strings.TrimSpace(k.text)
		}
	}
	return ""
}

// bytes is about how much there is to read of an element alone.
func (n *node) bytes() int {
	sum := 1000
	for k, v := range n.attrs {
		sum += len(k) + len(v)
	}
	return sum
}
