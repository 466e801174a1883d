package resolved

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"ohmstead/calc/path"
	"ohmstead/calc/quantity"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// Write writes the blocks of a plan in the plan language with like, let and
// the functions followed, and copies and short forms spelt out. Blocks go in the order given;
// let blocks, short forms and marks of likeness are gone, comments too. What could not be
// resolved stands as it was written.
func Write(w io.Writer, blocks []schema.Block) error {
	p := printer{w: w}
	first := true
	for _, b := range blocks {
		if t := schema.HeaderOf(b).Type; t.Name == "let" || t.Short() {
			continue
		}
		if !first {
			p.line("")
		}
		first = false
		p.block(b, 0)
	}
	return p.err
}

type printer struct {
	w      io.Writer
	err    error
	motion path.Motion // of the run whose path is being written
}

func (p *printer) line(s string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, terminal.Printable(s)+"\n")
	}
}

func (p *printer) block(b schema.Block, depth int) {
	h := schema.HeaderOf(b)
	indent := strings.Repeat("  ", depth)
	head := indent + h.Type.Name
	if h.Type.Label != "" {
		head += " " + quote(h.Name)
	}
	run, isRun := b.(*schema.Run)
	if isRun {
		p.motion = run.Motion()
	}
	attrs := p.attrs(b)
	if isRun && run.Rectangle != nil && !upright(p.motion) {
		attrs = append(attrs, moves(p.motion)...)
		p.motion = path.Motion{}
	}
	width := 0
	for _, a := range attrs {
		width = max(width, utf8.RuneCountInString(a.name))
	}
	nested := Nested(b)
	if len(attrs) == 0 && len(nested) == 0 {
		p.line(head + " {}")
		return
	}
	p.line(head + " {")
	for _, a := range attrs {
		p.line(fmt.Sprintf("%s  %-*s = %s", indent, width, a.name, a.text))
	}
	for _, n := range nested {
		p.block(n, depth+1)
	}
	p.line(indent + "}")
}

type written struct{ name, text string }

// attrs gives the attributes as they are written: what moves a run is already
// in the places of its geometry, and times in the number of blocks.
func (p *printer) attrs(b schema.Block) []written {
	h := schema.HeaderOf(b)
	var out []written
	if a, ok := h.Node.Assign("like"); ok && h.Like == nil {
		out = append(out, written{"like", a.Val.String()}) // it names nothing that is known here
	}
	if drawn, ok := b.(*schema.Path); ok {
		if corner := p.move(schema.XY{}); !drawn.Start.Set && corner != (schema.XY{}) {
			out = append(out, written{"start", Literal(corner)})
		}
		if h := drawn.Heading.V; !drawn.Heading.Set && p.motion.Heading(h.SI) != h.SI {
			out = append(out, written{"heading", Literal(h.With(p.motion.Heading(h.SI)))})
		}
	}
	for _, a := range Attrs(b) {
		if h.Copy > 0 && a.Name == "times" || h.Type.Name == "run" && schema.Moves(a.Name) && !a.Bad {
			continue
		}
		text := Literal(a.Value)
		if a.Bad {
			text = strings.Join(strings.Fields(a.Text()), " ")
		}
		switch v := a.Value.(type) {
		case []schema.XY:
			moved := make([]schema.XY, len(v))
			for i, xy := range v {
				moved[i] = p.move(xy)
			}
			text = Literal(moved)
		case schema.XY:
			if drawing[h.Type.Name] {
				text = Literal(p.move(v))
			}
		case schema.Quantity:
			if drawing[h.Type.Name] && (a.Name == "heading" || a.Name == "start") {
				text = Literal(v.With(p.motion.Heading(v.SI)))
			}
		case string:
			if drawing[h.Type.Name] && a.Name == "turn" && p.motion.Mirrored() {
				text = map[string]string{"left": `"right"`, "right": `"left"`}[v]
			}
		}
		out = append(out, written{a.Name, text})
	}
	return out
}

// upright reports whether a rectangle is an upright one again after a motion.
func upright(m path.Motion) bool { return math.Mod(m.Heading(0), 90) == 0 }

// moves writes a motion as what moves a run.
func moves(m path.Motion) (out []written) {
	if m.Mirrored() {
		out = append(out, written{"mirror", `"up-down"`})
	}
	turn := quantity.Of(quantity.Angle, m.Heading(0))
	return append(out, written{"turn", Literal(turn)}, written{"shift", Literal(schema.XY(m.Of(path.Point{})))})
}

// drawing are the blocks that draw a run.
var drawing = map[string]bool{"path": true, "line": true, "arc": true, "curve": true, "circle": true, "rectangle": true, "polygon": true}

func (p *printer) move(xy schema.XY) schema.XY {
	q := p.motion.Of(path.Point{X: xy.X, Y: xy.Y})
	return schema.XY{X: q.X, Y: q.Y}
}
