package schema

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// Questions that a reader of the typed plan asks, such as an editor.

// Says lists what a block says once like is followed: its own attributes and
// nested blocks first, then those that it takes over.
func Says(b Block) (attrs []*Assign, blocks []*Node) {
	h := b.header()
	e := ownOf(scopedNode{Node: h.Node})
	if h.rec != nil && h.rec.says != nil { // else a nested block, which is like no other
		e = h.rec.says
	}
	for _, a := range e.assigns {
		attrs = append(attrs, a.Assign)
	}
	for _, n := range e.blocks {
		blocks = append(blocks, n.Node)
	}
	return attrs, blocks
}

// Referable reports whether a reference can have a block's name behind a dot.
func Referable(name string) bool { return hclsyntax.ValidIdentifier(name) }

// NamedBy lists the blocks that a block names, and those that it is like.
func NamedBy(b Block) []Block {
	rec := b.header().rec
	if rec == nil {
		return nil
	}
	return slices.Concat(rec.named, rec.reads)
}

// Evaluate works an expression out as a quantity of a dimension, with the
// plan's named values. It reports nothing.
func (p *Plan) Evaluate(v *Val, d quantity.Dimension) (Quantity, bool) {
	if v.Kind == TextVal {
		q, err := v.quantity(d)
		return q, err == nil
	}
	c := conversion{r: &resolver{plan: &Plan{}}, a: &Attr{}, sc: &scope{lets: p.lets, named: p.named}, own: true}
	return c.quantity(v, d)
}

// StockDir is the directory below the root that a path in the stock
// of a plan in base names; false where the language does not allow the path.
func StockDir(base, written string) (dir string, ok bool) {
	dir, why := stockPath(base, written)
	return dir, why == ""
}

// Takes says what a value of the attribute is, as "a reference to a strip";
// of a Choice, which are listed in Choices, only that it is one of them.
func (a *Attr) Takes() string { return a.takes(a.Kind) }

// takes is as Takes, for an item of a list or map too.
func (a *Attr) takes(k Kind) string {
	switch k {
	case Text:
		return "text in quotes"
	case Choice:
		return "one of its values"
	case Integer:
		return "a whole number"
	case Boolean:
		return "true or false"
	case Measure:
		return a.Dim.String()
	case Measures:
		return a.Dim.String() + ", or a list of several"
	case MeasureEach:
		return a.Dim.String() + ", or a list with one for each"
	case LetterMeasure:
		return a.Dim.String() + ", or a map of them by channel letter"
	case LetterShare:
		return "a map of shares by channel letter"
	case Coordinates:
		return "a place: right and up, two lengths"
	case Polyline:
		return "a list of places, each two lengths: right and up"
	case Reference:
		return "a reference to " + an(strings.Join(a.Types, " or "))
	case References:
		return "a reference to " + an(strings.Join(a.Types, " or ")) + ", or a list of several"
	case OrderedRuns:
		return "a run, `run.NAME` or `from_end(run.NAME)`, or a list of several"
	case Place:
		var out []string
		for _, k := range a.Places {
			out = append(out, "`"+k.Example()+"`")
		}
		return "a place: " + strings.Join(out, ", ")
	case Places:
		if len(a.Types) == 0 {
			return "a place, or a list of several"
		}
		return "a place, what is fed as a whole (a " + strings.Join(a.Types, ", a ") + "), or a list of several"
	case Letters:
		return "channel letters in their order on the wire"
	case Colour:
		return "a colour: # and six hexadecimal digits"
	case RuleNames:
		return "a rule name, or a list of several"
	case Directories:
		return "a directory, or a list of several"
	case Date:
		return "a day: year, month, day"
	case Enclosure:
		return "a protection class of IEC 60529"
	}
	return "a value of any kind"
}

// BlockAt is the address of the plan's block that a place lies in, of those that hold
// one another the innermost; "" for none.
func (p *Plan) BlockAt(at source.Span) string {
	var in *Header
	for _, b := range p.Blocks {
		h := b.header()
		whole := h.Node.Whole
		if h.Node.Piece() == at.Piece && at.Start >= whole.Start && at.Start <= whole.End && (in == nil || whole.Start > in.Node.Whole.Start) {
			in = h
		}
	}
	if in == nil {
		return ""
	}
	return in.ID()
}

// Shared names what an edit of an attribute of a block changes: the block alone, or all for which the same text says it.
// Copies of one are told as "lead.shelf (all 6)".
func (p *Plan) Shared(h *Header, attr string) string {
	in, all := h.SaidIn(attr).Text(), 0
	var ids []string
	copies := true
	for _, b := range p.Blocks {
		x := b.header()
		if x.Type != h.Type {
			continue
		}
		like := len(h.numbers) > 0 && x.Base() == h.Base()
		if like {
			all++
		}
		if x.SaidIn(attr).Text() == in {
			ids, copies = append(ids, x.ID()), copies && like
		}
	}
	switch {
	case len(ids) < 2:
		return h.ID()
	case !copies:
		return quantity.List(ids)
	case len(ids) == all:
		return fmt.Sprintf("%s.%s (all %d)", h.Type.Name, h.Base(), all)
	}
	return fmt.Sprintf("%s.%s (%d of %d)", h.Type.Name, h.Base(), len(ids), all)
}

// Meant finds the block that TYPE.NAME means in another one (nil: outside of any).
// Where NAME means several copies, or the one beside, it is the first of all, and
// one is false.
func (p *Plan) Meant(typeName, name string, in Block) (b Block, one, ok bool) {
	var of *Header
	if in != nil {
		of = in.header()
	}
	if of == nil || of.frame == nil {
		if b, ok = p.Find(typeName + "." + name); ok {
			return b, b.header().Copy > 0, true
		}
	}
	x, ok := p.scope.copies(typeName, name, of)
	if !ok {
		if x, ok = p.scope.split(typeName, "", name); !ok { // a copy beside, where there is none
			b, ok = p.Find(typeName + "." + name)
			return b, ok && b.header().Copy > 0, ok
		}
	}
	if id, single := x.one(); single && len(x.picks) > 0 {
		if b, ok = p.named[typeName+"."+id]; ok {
			return b, true, true
		}
	}
	if typeName == assemblyType.Name {
		b, ok = p.named[typeName+"."+x.base]
		return b, false, ok
	}
	for i := range x.of.product() { // some copies may not be made
		numbers, _ := x.of.numbered(i)
		if b, ok = p.named[typeName+"."+copyNamed(x.base, numbers)]; ok {
			return b, false, true
		}
	}
	return nil, false, false
}
