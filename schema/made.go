package schema

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/schema/source"
)

// A block whose type declares makes stands for others, as a chain does for the
// signals along its runs. They are made when all written blocks are filed
// under their names and before any value is read, so that everything behind
// sees nothing but the blocks that there are.
//
// A maker builds nodes, as the parser does. A made node
//
//   - has as its Maker the node that was written, and as its Inside and Whole the
//     maker's, so that what a rule writes into the block is written into the maker;
//   - has as its Head the words of the maker that ask for it;
//   - has values of the maker's own text, or values put together with places in it
//     (refVal): a value's place is where the maker would mend it;
//   - is Quiet where the maker's own attributes hold the same values: then these
//     tell what is wrong with them and what they name, and the made block does not. One
//     that is not quiet tells it itself;
//   - has a name made of the maker's and of what it joins, so that one more in the
//     middle gives no other a new name.
//
// What is made may be a maker again. Nodes that say the same as those made of the
// version before are those (remembered), and so are the blocks that a Memo keeps of them.
//
// A new maker is a BlockType with makes, whose form holds its attributes.

// MadeBy is the block that stands for this one, as written; nil for one that is written itself.
func (h *Header) MadeBy() *Node {
	if h.Node == nil {
		return nil
	}
	return h.Node.Maker
}

// Short reports whether blocks of the type are but a short way to say others,
// which are there as well: what it makes, or the blocks that it says the usual of.
func (b *BlockType) Short() bool {
	return b.makes != nil || b == usualType || b.Of != nil || b == assemblyType
}

// making is a block on its way to those that it stands for.
type making struct {
	*resolver
	node *Node // the maker's
	own  conversion
	out  []*Node

	written []Block // of the plan and its stock
}

// planWrites reports whether the plan itself writes a block of a type.
func (m *making) planWrites(t *BlockType) bool {
	return slices.ContainsFunc(m.written, func(b Block) bool { return b.header().Type == t && b.header().Home == InPlan })
}

// add makes one more block.
func (m *making) add(typeName, name string, head source.Span, assigns ...*Assign) *Node {
	n := &Node{
		Type: typeName, TypeAt: head, Head: head, Labels: []Name{{name, head}},
		Inside: m.node.Inside, Whole: m.node.Whole, Maker: m.node, Quiet: true,
	}
	for _, a := range assigns {
		if a != nil {
			n.Assigns = append(n.Assigns, a)
		}
	}
	m.out = append(m.out, n)
	return n
}

// say is the maker's own attribute of a name, for a made block; nil where it has none.
func (m *making) say(name string) *Assign {
	a, _ := m.node.Assign(name)
	return a
}

// has is an attribute of a made block: as a nested block of the maker has it that speaks of this one
// alone (nil where there is none), else as the maker has it for all.
func (m *making) has(alone *Node, name string) *Assign {
	if alone != nil {
		if a, ok := alone.Assign(name); ok {
			return a
		}
	}
	return m.say(name)
}

// each is the i-th of a list with one for each, or what the maker says for all.
func (m *making) each(alone *Node, name string, i int) *Assign {
	a := m.has(alone, name)
	if a == nil {
		return nil
	}
	v := m.own.follow(a.Val)
	if v == nil || v.Kind != ListVal {
		return a
	}
	if i >= len(v.Items) {
		return nil
	}
	return says(name, v.Items[i])
}

// alone finds the nested block of a type that speaks of what is called by one of some addresses.
func (m *making) alone(typeName string, addresses ...string) *Node {
	for _, n := range m.node.Blocks {
		if a, ok := n.Assign("to"); ok && n.Type == typeName && a.Val.Kind == RefVal && slices.Contains(addresses, addressed(a.Val)) {
			return n
		}
	}
	return nil
}

// addressed is a reference without the spaces that it may be written with.
func addressed(v *Val) string {
	var out strings.Builder
	for i, s := range v.Steps {
		switch {
		case s.Index != nil && s.Index.Kind == RefVal:
			fmt.Fprintf(&out, "[%s]", addressed(s.Index))
		case s.Index != nil:
			fmt.Fprintf(&out, "[%s]", s.Index.Text)
		case i > 0:
			out.WriteString("." + s.Name)
		default:
			out.WriteString(s.Name)
		}
	}
	return out.String()
}

// blockOf is the address of the block that a place is on.
func blockOf(v *Val) string { return addressed(&Val{Steps: v.Steps[:2]}) }

// says is an attribute of a made block whose value is put together.
func says(name string, v *Val) *Assign {
	return &Assign{Name: name, NameAt: v.At, Whole: v.At, Val: v}
}

// items are those of a list that the maker says, named values followed and
// copies one by one; none where it is no list.
func (m *making) items(name string) []*Val {
	a := m.say(name)
	if a == nil {
		return nil
	}
	v := m.own.follow(a.Val)
	if v == nil || m.own.spreads(v.Listed()) > mostItems {
		return nil
	}
	return m.own.spread(v.Listed())
}

// refVal is a reference to a place on what another one names.
func refVal(v *Val, more ...string) *Val {
	out := &Val{Kind: RefVal, At: v.At, Steps: slices.Clone(v.Steps)}
	for _, name := range more {
		out.Steps = append(out.Steps, RefStep{Name: name, At: v.At})
	}
	out.Text = addressed(out)
	return out
}

// makeAll makes the blocks that others stand for, and puts them behind those.
func (r *resolver) makeAll() {
	if len(r.makers) == 0 {
		return
	}
	r.anyMade = true
	written := r.blocks
	made := map[Block][]Block{}
	total := 0
	for len(r.makers) > 0 {
		b := r.makers[0]
		r.makers = r.makers[1:]
		r.blocks = nil
		if total > mostMade {
			r.leaveOut(b)
			continue
		}
		nodes := r.madeOf(b.header(), written)
		if total += len(nodes); total > mostMade {
			r.leaveOut(b)
			r.report(RuleTooLarge, b.header().Head(), "%s makes %d blocks, %d in the plan with those before; short forms make at most %d in a plan, so these and those behind are left out: say fewer, or split the plan",
				describe(b.header()), len(nodes), total, mostMade)
			continue
		}
		for _, n := range nodes {
			if h := b.header(); h.frame != nil {
				r.fileMade(n, h)
				continue
			}
			r.collectNode(n, InPlan, nil)
		}
		made[b] = r.blocks
	}
	r.blocks = make([]Block, 0, len(written)+len(made))
	var put func(bs []Block)
	put = func(bs []Block) {
		for _, b := range bs {
			r.blocks = append(r.blocks, b)
			put(made[b])
		}
	}
	put(written)
}

// leaveOut keeps a block that would make too many others from being read at all.
func (r *resolver) leaveOut(b Block) {
	b.header().Broken = true
	if r.leftOut == nil {
		r.leftOut = map[Block]bool{}
	}
	r.leftOut[b] = true
}

// madeOf are the nodes that a block stands for, those of the version before
// where they say the same.
func (r *resolver) madeOf(h *Header, written []Block) []*Node {
	out := r.nodesOf(h, written)
	if last := h.Node.made.Load(); last != nil && slices.EqualFunc(*last, out, sameNode) {
		return *last
	}
	h.Node.made.Store(&out)
	return out
}

func (r *resolver) nodesOf(h *Header, written []Block) []*Node {
	quiet := &resolver{plan: &Plan{}, scope: r.scope} // the block itself reports
	m := &making{resolver: r, node: h.Node, written: written, own: conversion{r: quiet, a: &Attr{}, sc: r.scope, of: h}}
	h.Type.makes(m)
	return m.out
}

// sameNode reports whether two made nodes say the same at the same places.
func sameNode(a, b *Node) bool {
	return a.Type == b.Type && a.Head == b.Head && a.Quiet == b.Quiet && slices.Equal(a.Labels, b.Labels) &&
		slices.EqualFunc(a.Assigns, b.Assigns, func(a, b *Assign) bool { return a.Name == b.Name && sameVal(a.Val, b.Val) }) &&
		slices.EqualFunc(a.Blocks, b.Blocks, sameNode)
}

func sameVal(a, b *Val) bool {
	if a == b {
		return true
	}
	return a != nil && b != nil && a.Kind == b.Kind && a.At == b.At && a.Text == b.Text && a.Number == b.Number && a.Bool == b.Bool && a.Func == b.Func &&
		slices.Equal(a.Keys, b.Keys) && slices.EqualFunc(a.Items, b.Items, sameVal) &&
		slices.EqualFunc(a.Steps, b.Steps, func(a, b RefStep) bool { return a.Name == b.Name && a.At == b.At && sameVal(a.Index, b.Index) })
}
