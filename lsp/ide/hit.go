package ide

import (
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// hit is what the syntax tree holds at a place.
type hit struct {
	spot
	nodes  []*schema.Node      // the blocks around it, outermost first
	types  []*schema.BlockType // their declarations, nil where there is none
	assign *schema.Assign      // the attribute that it is in
	attr   *schema.Attr        // its declaration, nil where there is none
	vals   []*schema.Val       // the expressions around it, outermost first
	step   int                 // index of the step of the innermost reference, -1 for none
	key    int                 // index of the key of the innermost map, -1 for none
	part   hitPart
}

type hitPart int

const (
	onNothing hitPart = iota
	onType
	onLabel
	onAttr // the name of an attribute
	onValue
	onFunc
)

func (h *hit) node() *schema.Node {
	if len(h.nodes) == 0 {
		return nil
	}
	return h.nodes[len(h.nodes)-1]
}

func (h *hit) blockType() *schema.BlockType {
	if len(h.types) == 0 {
		return nil
	}
	return h.types[len(h.types)-1]
}

func (h *hit) val() *schema.Val {
	if len(h.vals) == 0 {
		return nil
	}
	return h.vals[len(h.vals)-1]
}

// touches reports whether a place is in a stretch or at its end; within only
// whether it is in it. At the end of a word one still means the word.
func touches(s source.Span, at int) bool { return s.Start <= at && at <= s.End }
func within(s source.Span, at int) bool  { return s.Start <= at && at < s.End }

// pick finds the stretch at a place: the one that holds the byte behind it,
// else the one that ends there.
func pick[T any](list []T, at int, span func(T) source.Span) int {
	found := -1
	for i, x := range list {
		s := span(x)
		if within(s, at) {
			return i
		}
		if touches(s, at) && found < 0 {
			found = i
		}
	}
	return found
}

// hit looks a place up in the syntax tree.
func (v *View) hit(offset int) (*hit, bool) {
	s, ok := v.spot(offset)
	if !ok {
		return nil, false
	}
	h := &hit{spot: s, step: -1, key: -1}
	for nodes := schema.NodesIn(s.piece); ; {
		i := pick(nodes, s.at, func(n *schema.Node) source.Span { return n.Whole })
		if i < 0 {
			break
		}
		n := nodes[i]
		if n.Type == "" { // stray attributes at the top
			break
		}
		h.types = append(h.types, innerType(h.types, n.Type, n.LabelTexts()...))
		h.nodes = append(h.nodes, n)
		if k := len(h.types) - 1; k > 0 && h.types[k] != nil && h.types[k].MemberOf(h.types[k-1]) {
			h.nodes, h.types = h.nodes[k:], h.types[k:] // a member of an assembly is a block of its own
		}
		nodes = n.Blocks
	}
	n := h.node()
	if n == nil {
		return h, true
	}
	if touches(n.TypeAt, s.at) && n.TypeAt.Start < n.TypeAt.End { // in runs it is not written
		h.part = onType
		return h, true
	}
	if i := pick(n.Labels, s.at, func(l schema.Name) source.Span { return l.At }); i == 0 {
		h.part = onLabel
		return h, true
	}
	if i := pick(n.Assigns, s.at, func(a *schema.Assign) source.Span { return a.Whole }); i >= 0 {
		h.assign = n.Assigns[i]
		if t := h.blockType(); t != nil {
			h.attr = attrNamed(t, h.assign.Name)
		}
		if touches(h.assign.NameAt, s.at) && h.assign.NameAt.Start < h.assign.NameAt.End {
			h.part = onAttr
		} else if touches(h.assign.Val.At, s.at) {
			h.part = onValue
			h.into(h.assign.Val)
		}
	}
	return h, true
}

// attrNamed finds a declaration; named values of let share one.
func attrNamed(t *schema.BlockType, name string) *schema.Attr {
	if a, ok := t.Attr(name); ok {
		return a
	}
	if a, ok := t.Attr("*"); ok {
		return a
	}
	return nil
}

func valSpan(v *schema.Val) source.Span { return v.At }

// into goes down to the innermost expression at the place.
func (h *hit) into(v *schema.Val) {
	for v != nil {
		h.vals = append(h.vals, v)
		switch v.Kind {
		case schema.RefVal:
			h.step = pick(v.Steps, h.at, func(s schema.RefStep) source.Span { return s.At })
			if h.step < 0 || v.Steps[h.step].Index == nil {
				return
			}
			// The index of a step has the brackets in its place.
			v = v.Steps[h.step].Index
			if v.Kind != schema.RefVal && v.Kind != schema.CallVal {
				return
			}
			h.step = -1
		case schema.CallVal:
			if touches(v.Func.At, h.at) {
				h.part = onFunc
				return
			}
			v = item(v, h.at)
		case schema.MapVal:
			if h.key = pick(v.Keys, h.at, func(k schema.Name) source.Span { return k.At }); h.key >= 0 {
				return
			}
			v = item(v, h.at)
		case schema.ListVal:
			v = item(v, h.at)
		default:
			return
		}
	}
}

func item(v *schema.Val, at int) *schema.Val {
	if i := pick(v.Items, at, valSpan); i >= 0 {
		return v.Items[i]
	}
	return nil
}
