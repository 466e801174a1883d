package ide

import (
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Target is a place that a reference leads to.
type Target struct {
	Origin Range    // the reference, in v.File
	Name   Location // what to put the cursor on
	Whole  Location // all of the block or value
}

// Definition finds where the thing at an offset is declared: a block, a port,
// a pin of a board, a named value; also in stock and in the catalogue.
func Definition(v *View, offset int) []Target {
	h, ok := v.hit(offset)
	if !ok {
		return nil
	}
	t, at, ok := v.at(h)
	if !ok {
		return nil
	}
	return v.targets(h.file(at), t)
}

// TypeDefinition finds the part that the thing at an offset is made of: from
// a run to its strip, from a lead or signal to its wire, from a controller to
// its board, and from any other block to the one that it is like.
func TypeDefinition(v *View, offset int) []Target {
	h, ok := v.hit(offset)
	if !ok {
		return nil
	}
	t, at, ok := v.at(h)
	if !ok || t.block == nil {
		return nil
	}
	part := madeOf(t.block)
	if part == nil {
		return nil
	}
	return v.targets(h.file(at), thing{node: schema.HeaderOf(part).Node, block: part})
}

// madeOf is the part that a block is made of; nil where there is none.
func madeOf(b schema.Block) schema.Block {
	switch b := b.(type) {
	case *schema.Run:
		if b.Strip.Known() {
			return b.Strip.V
		}
	case *schema.Lead:
		if b.Wire.Known() {
			return b.Wire.V
		}
	case *schema.Signal:
		if b.Wire.Known() {
			return b.Wire.V
		}
	case *schema.Controller:
		if b.Board.Known() {
			return b.Board.V
		}
	case *schema.Universes:
		if b.Order.Known() {
			return b.Order.V
		}
	}
	return schema.HeaderOf(b).Like
}

func (v *View) targets(origin Range, t thing) []Target {
	name, ok1 := v.Locate(t.name())
	whole, ok2 := v.Locate(t.whole())
	if !ok1 || !ok2 {
		return nil
	}
	return []Target{{Origin: origin, Name: name, Whole: whole}}
}

// locations turns spans into places, leaving out those of other plans.
func (v *View) locations(spans []source.Span) []Location {
	var out []Location
	for _, s := range spans {
		if l, ok := v.Locate(s); ok {
			out = append(out, l)
		}
	}
	return out
}
