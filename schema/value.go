package schema

import (
	"slices"

	"ohmstead/calc/path"
	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// Value is an attribute's value with the place it was written at.
//
// V holds the default when the attribute was not written. A rule reads V only
// where Known reports true.
type Value[T any] struct {
	V   T
	Set bool // written in this block or in one that it is like
	Bad bool // written, but not usable: a problem stands at At
	At  source.Span
	Def bool // V is the declared default
}

// Known reports whether there is a value to work with, written or default; of a
// reference or place, V is then not nil.
func (v Value[T]) Known() bool { return (v.Set || v.Def) && !v.Bad }

// field is a Value of any type, as the decoder fills it.
type field interface {
	put(v any, at source.Span)
	spoil(at source.Span)
	setDefault(v any)
	refers() bool               // to other blocks
	renew(to func(Block) Block) // puts others in their place
}

func (v *Value[T]) put(x any, at source.Span) {
	v.V, v.Set, v.Bad, v.Def, v.At = x.(T), true, false, false, at
}
func (v *Value[T]) spoil(at source.Span) { v.Set, v.Bad, v.At = true, true, at }
func (v *Value[T]) setDefault(x any)     { v.V, v.Def = x.(T), true }

func (v *Value[T]) refers() bool {
	switch any(v.V).(type) {
	case Block, *Point, []*Run, []RunRef, []Block:
		return true
	}
	return false
}

func (v *Value[T]) renew(to func(Block) Block) {
	if !v.Known() {
		return
	}
	put := func(x any) { v.V = x.(T) }
	switch x := any(v.V).(type) {
	case Block:
		put(to(x))
	case *Point:
		put(x.renewed(to))
	case []*Run:
		runs := slices.Clone(x)
		for i, run := range runs {
			runs[i] = to(run).(*Run)
		}
		put(runs)
	case []Block:
		blocks := slices.Clone(x)
		for i, b := range blocks {
			blocks[i] = to(b)
		}
		put(blocks)
	case []RunRef:
		refs := slices.Clone(x)
		for i, ref := range refs {
			refs[i].Run = to(ref.Run).(*Run)
		}
		put(refs)
	}
}

// The forms that values take in the typed plan.
type (
	// Quantity is a measured value: SI inside, shown in the unit as written.
	Quantity = quantity.Quantity

	// ByLetter is one quantity for all channels, or one for each letter.
	ByLetter struct {
		All     Quantity
		Letters map[string]Quantity // nil when All holds
	}

	// XY is a place on a surface in metres: x to the right, y up.
	XY struct{ X, Y float64 }

	// Name is a name with its place, as in a list of rules.
	Name struct {
		Text string
		At   source.Span
	}

	// RunRef is a run as an element of a list; FromEnd turns it round.
	RunRef struct {
		Run     *Run
		FromEnd bool
		At      source.Span
	}

	// RGB is a colour, each channel a share of one.
	RGB struct{ R, G, B float64 }
)

// For gives the quantity that holds for a channel letter.
func (b ByLetter) For(letter string) (Quantity, bool) {
	if b.Letters == nil {
		return b.All, true
	}
	q, ok := b.Letters[letter]
	return q, ok
}

// Header is what every typed block knows of itself.
type Header struct {
	Type  *BlockType
	Name  string
	Node  *Node  // the text it was decoded from; nil for blocks that are not written anywhere
	Home  Home   // whose block it is
	Copy  int    // which of the copies that times makes, counted from 1; 0 where there is no times
	Like  former // the block it is like, if any
	Usual former // the block that says what is usual for it, if any

	entered entry       // of a run, where a chain goes through it from its end
	frame   *frame      // the copy of an assembly that it is a member of
	numbers []int       // which copy it is of all, see copies.go
	says    []*Node     // what it is written in, what wins first; nil where that is Node alone
	placed  path.Motion // where its assembly puts it
	id      string      // what ID gives, kept because everything asks for it
	rec     *record
	// Broken is set when any of the block's values is Bad or a required one is
	// missing: what is worked out from it would not be the truth.
	Broken bool
}

// Home says where a block stands.
type Home int

// A block stands in the plan itself, in one of its stock directories, or in
// the built-in catalogue.
const (
	InPlan Home = iota
	InStock
	InCatalogue
)

// ID is the block's address: "run.arch", or "plan" where there is no name.
func (h *Header) ID() string {
	switch {
	case h.id != "":
		return h.id
	case h.Home == InCatalogue:
		return "catalog." + h.Name
	case h.Type.Label == "" || h.Type.Name == "plan" || h.Name == "":
		return h.Type.Name
	}
	return h.Type.Name + "." + h.Name
}

// Rename gives a copy of a block, made to try something out, a name of its own.
func (h *Header) Rename(name string) { h.Name, h.id = name, "" }

// Head is the header's own place: type and labels.
func (h *Header) Head() source.Span {
	if h.Node == nil {
		return source.Span{}
	}
	return h.Node.Head
}

// At is the place to show for a value of this block: the value itself where it is
// written here or usual, else the attribute like where it comes by that, else the block's head.
func (h *Header) At(written source.Span) source.Span {
	if h.Node == nil {
		return written
	}
	if h.holds(written) || h.IsUsual(written) {
		return written
	}
	if a, ok := h.Assign("like"); ok && written.Piece != nil {
		return a.Val.At
	}
	return h.Head()
}

// IsUsual reports whether a place lies where the plan says what is usual for the block.
func (h *Header) IsUsual(at source.Span) bool { return h.Usual != nil && h.Usual.header().holds(at) }

// holds reports whether a place lies in the block's text.
func (h *Header) holds(at source.Span) bool {
	for _, n := range h.Written() {
		if at.Piece == n.Head.Piece && at.Piece != nil && at.Start >= n.Whole.Start && at.End <= n.Whole.End {
			return true
		}
	}
	return false
}

func (h *Header) header() *Header { return h }

// former is a typed block.
type former interface{ header() *Header }

// Block is any typed block, for those who walk a plan whatever its types.
type Block = former

// HeaderOf gives a typed block's header.
func HeaderOf(b Block) *Header { return b.header() }
