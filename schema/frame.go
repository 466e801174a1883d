package schema

import (
	"slices"
	"strings"

	"ohmstead/calc/path"
)

// frame is one copy of an assembly: what its members' names begin with, which copy it is and where it is put.
type frame struct {
	outer   *frame
	name    string  // of the assembly, with the names of those around it
	says    []*Node // how the assembly is written: its own block, then what that is like
	numbers []int   // those of the frames around it first
	of      counts  // of this assembly alone: none where it is made once; rows, then copies of a row
}

// Placed is where an assembly puts a block; the zero Motion where it stands in none.
func (h *Header) Placed() path.Motion { return h.placed }

// Base is a block's name without the numbers of copies.
func (h *Header) Base() string {
	switch {
	case h.frame != nil:
		return h.frame.name + "-" + h.Node.Label()
	case h.Copy > 0:
		return h.Node.Label()
	}
	return h.Name
}

// Within are the assemblies that a block is a member of, the outermost first, and the block itself, as they are written.
func (h *Header) Within() []*Node {
	out := []*Node{h.Node}
	for f := h.frame; f != nil; f = f.outer {
		out = append([]*Node{f.says[0]}, out...)
	}
	return out
}

// Assembly is the address of the assembly that a block is a member of; "" for none.
func (h *Header) Assembly() string {
	if h.frame == nil {
		return ""
	}
	return assemblyType.Name + "." + h.frame.name
}

// Numbers says which copy a block is, as 7, or as 2-7 for the seventh of the second; "" where it is none.
func (h *Header) Numbers() string {
	return strings.TrimPrefix(copyNamed("", h.numbers), "-")
}

// WrittenIn reports whether a block says what stands in a node: its own one, or one that varies this copy.
func (h *Header) WrittenIn(n *Node) bool { return h.Node == n || slices.Contains(h.says, n) }

// Written are the nodes that a block is written in, what wins first: what is different in its
// copy, its own one, and those of what its assembly is like.
func (h *Header) Written() []*Node {
	if h.says != nil {
		return h.says
	}
	return []*Node{h.Node}
}

// SaidIn is the node in which an attribute of the block is written, or would be: its own one, or one
// that says what is different in its copy.
func (h *Header) SaidIn(name string) *Node {
	for _, n := range h.Written() {
		if _, ok := n.Assign(name); ok {
			return n
		}
	}
	return h.Node
}

// vary puts nodes that win before those that a block is written in; nil where there are none.
func (h *Header) vary(by []*Node) []*Node {
	if len(by) == 0 {
		return h.says
	}
	return append(slices.Clone(by), h.Written()...)
}

// Assign finds an attribute where a block is written.
func (h *Header) Assign(name string) (*Assign, bool) {
	for _, n := range h.Written() {
		if a, ok := n.Assign(name); ok {
			return a, true
		}
	}
	return nil, false
}

// around are the numbers of the frames around.
func (f *frame) around() []int { return f.numbers[:len(f.numbers)-len(f.of)] }

// neighbour are the numbers of the copy beside, or what they would be.
func (f *frame) neighbour(word string) ([]int, bool) {
	if len(f.of) == 0 {
		return nil, false
	}
	n := len(f.numbers) - len(f.of)
	out := slices.Clone(f.numbers)
	switch word {
	case pickNext:
		copy(out[n:], f.of.after(out[n:], 1))
	case pickPrevious:
		copy(out[n:], f.of.after(out[n:], -1))
	}
	return out, true
}

// lacks reports whether there is no copy beside.
func (f *frame) lacks(word string) bool {
	for f.outer != nil && len(f.of) == 0 {
		f = f.outer
	}
	at := f.of.ordinal(f.numbers[len(f.around()):])
	return word == pickNext && at == f.of.product()-1 || word == pickPrevious && at == 0
}

// same reports whether two frames of two versions of a plan are one.
func (f *frame) same(g *frame) bool {
	if f == g || f == nil || g == nil {
		return f == g
	}
	return f.name == g.name && slices.Equal(f.says, g.says) && slices.Equal(f.numbers, g.numbers) && slices.Equal(f.of, g.of) && f.outer.same(g.outer)
}

// assign finds an attribute that an assembly says itself or takes over.
func (f *frame) assign(name string) (*Assign, bool) {
	for _, n := range f.says {
		if a, ok := n.Assign(name); ok {
			return a, true
		}
		if name == "times" || name == "rows" {
			break
		}
	}
	return nil, false
}

// motion is where a frame is put on the surface: mirrored, then turned about the
// corner that its places are counted from, then moved; then what is around it is.
// Whoever asks depends on the named values that it holds.
func (r *resolver) motion(f *frame) (m path.Motion, ok bool) {
	ok = true
	get := func(name string) any {
		a, written := f.assign(name)
		if !written {
			return nil
		}
		x, good := r.convert(assemblyType.must(name), a.Val, r.scope, nil, false)
		if !good {
			ok = false
			return nil
		}
		return x
	}
	if way, written := get("mirror").(string); written {
		m = mirrored(way)
	}
	if q, turned := get("turn").(Quantity); turned {
		m = m.Then(path.TurnAbout(path.Point{}, q.SI))
	}
	at := XY{}
	add := func(name string, times int) {
		if xy, written := get(name).(XY); written {
			at.X += xy.X * float64(times)
			at.Y += xy.Y * float64(times)
		}
	}
	own := f.numbers[len(f.around()):]
	add("at", 1)
	if len(own) > 0 {
		add("shift", own[len(own)-1]-1)
	}
	if len(own) > 1 {
		add("row_shift", own[0]-1)
	}
	get("times") // how many there are counts too: see keep.go
	get("rows")
	m = m.Then(path.Shift(at.X, at.Y))
	if f.outer != nil && ok {
		outer, good := r.motion(f.outer)
		return m.Then(outer), good
	}
	return m, ok
}

// mirrored is what mirror says, at the corner that places are counted from.
func mirrored(way string) path.Motion {
	heading := 0.0
	if way == "left-right" {
		heading = 90
	}
	return path.MirrorAt(path.Point{}, heading)
}

// placedAs is the motion that holds for a block: of the assembly that it stands
// in, else of that of the block that it is like.
func (r *resolver) placedAs(h *Header) (m path.Motion, ok bool) {
	for h.frame == nil && h.Like != nil {
		h = h.Like.header()
	}
	if h.frame == nil {
		return m, true
	}
	return r.motion(h.frame)
}

// moved is where a place gets to.
func (xy XY) moved(m path.Motion) XY {
	p := m.Of(path.Point{X: xy.X, Y: xy.Y})
	return XY{p.X, p.Y}
}
