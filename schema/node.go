package schema

import (
	"slices"
	"sort"
	"strings"
	"sync/atomic"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/schema/source"
)

// Node is a block as written: nothing is looked up yet. A node depends on its
// piece of text alone, so it is made once for each piece and shared by all
// versions of the file that hold the piece.
type Node struct {
	Type    string
	TypeAt  source.Span
	Labels  []Name // text without quotes; the place includes them
	Head    source.Span
	Inside  source.Span // between the braces
	Whole   source.Span
	Assigns []*Assign // in the order of the text
	Blocks  []*Node

	Maker *Node // as written, of a block that another one made (made.go); nil for those that are written themselves
	Quiet bool  // of a made one: its maker tells what is wrong with its values, and names what they name

	known atomic.Bool             // some version of some plan has a record of it
	made  atomic.Pointer[[]*Node] // what it was last made into
}

// Assign is one attribute as written.
type Assign struct {
	Name   string
	NameAt source.Span
	Whole  source.Span
	Val    *Val
}

// Label is the node's first label, or "".
func (n *Node) Label() string {
	if len(n.Labels) == 0 {
		return ""
	}
	return n.Labels[0].Text
}

// Name is what stands behind the node's type: its label, or all of several.
func (n *Node) Name() string { return strings.Join(n.LabelTexts(), ", ") }

// LabelTexts are the node's labels.
func (n *Node) LabelTexts() (out []string) {
	for _, l := range n.Labels {
		out = append(out, l.Text)
	}
	return out
}

// Assign finds an attribute by name.
func (n *Node) Assign(name string) (*Assign, bool) {
	for _, a := range n.Assigns {
		if a.Name == name {
			return a, true
		}
	}
	return nil, false
}

// Text is the node that a person wrote for this one: itself, or that which made it.
func (n *Node) Text() *Node {
	if n.Maker != nil {
		return n.Maker.Text()
	}
	return n
}

// Piece is the stretch of text that the node stands in.
func (n *Node) Piece() *source.Piece { return n.Head.Piece }

// written is what a piece of text holds: its blocks, its stray attributes as a
// node without a type, and what stands in the way of them.
type written struct {
	nodes    []*Node
	early    bool          // one of them is a let block or an assembly, which others are read by
	headless []source.Span // see headlessBodies
	plain    *Header       // of the piece's one block, when filing it needs no second look
}

func writtenIn(p *source.Piece) *written {
	type memo struct{}
	return p.Memo(memo{}, func(p *source.Piece) any {
		w := &written{headless: headlessBodies(p)}
		root := &Node{}
		fill(p, root, p.Body())
		if len(root.Assigns) > 0 {
			at := root.Assigns[0].Whole
			root.Head, root.Whole, root.TypeAt = root.Assigns[0].NameAt, at, root.Assigns[0].NameAt
			w.nodes = append(w.nodes, &Node{Assigns: root.Assigns, Head: root.Head, TypeAt: root.TypeAt, Whole: at})
		}
		w.nodes = append(w.nodes, root.Blocks...)
		w.early = slices.ContainsFunc(w.nodes, func(n *Node) bool { return n.Type == letType.Name || n.Type == "assembly" })
		if len(w.nodes) == 1 && len(p.Problems()) == 0 {
			w.plain = plainHeader(w.nodes[0])
		}
		return w
	}).(*written)
}

// plainHeader is the header of a named block that is neither misspelt nor made
// several times; nil for others.
func plainHeader(n *Node) *Header {
	t, ok := TypeOf(n.Type, n.LabelTexts()...)
	if _, several := n.Assign("times"); !ok || several || t.Label == "" || t == planType || t.Name == "assembly" || len(n.Labels) != 1 || n.Label() == "" {
		return nil
	}
	if slices.ContainsFunc(n.Blocks, func(c *Node) bool { return c.Type == "copy" }) {
		return nil
	}
	h := &Header{Type: t, Node: n, Name: n.Label()}
	h.id = h.ID()
	return h
}

func nodesOf(p *source.Piece) []*Node { return writtenIn(p).nodes }

func fill(p *source.Piece, n *Node, body *hclsyntax.Body) {
	for _, a := range body.Attributes {
		as := &Assign{Name: a.Name, NameAt: span(p, a.NameRange), Whole: span(p, a.SrcRange)}
		as.Val = readVal(p, a.Expr, 0)
		if broken(p, as.Whole) {
			as.Val = &Val{Kind: BadVal, At: as.Val.At}
		}
		n.Assigns = append(n.Assigns, as)
	}
	slices.SortFunc(n.Assigns, func(a, b *Assign) int { return a.Whole.Start - b.Whole.Start })
	for _, b := range body.Blocks {
		c := &Node{Type: b.Type, TypeAt: span(p, b.TypeRange)}
		for i, l := range b.Labels {
			c.Labels = append(c.Labels, Name{l, span(p, b.LabelRanges[i])})
		}
		c.Head = c.TypeAt
		if len(c.Labels) > 0 {
			c.Head.End = c.Labels[len(c.Labels)-1].At.End
		}
		open, closed := b.OpenBraceRange.End.Byte, b.CloseBraceRange.Start.Byte
		if open < c.Head.End {
			open = c.Head.End
		}
		c.Inside = source.Span{Piece: p, Start: open, End: max(open, closed)}
		c.Whole = source.Span{Piece: p, Start: c.TypeAt.Start, End: max(c.Inside.End, b.CloseBraceRange.End.Byte)}
		if fill(p, c, b.Body); c.Type == runsName {
			c.drawn()
			slices.SortFunc(c.Blocks, func(a, b *Node) int { return a.Head.Start - b.Head.Start })
		}
		n.Blocks = append(n.Blocks, c)
	}
	slices.SortFunc(n.Blocks, func(a, b *Node) int { return a.Head.Start - b.Head.Start })
}

// broken reports whether a syntax problem lies on the stretch: what the parser
// made of it is then not what was meant.
func broken(p *source.Piece, at source.Span) bool {
	problems := p.Problems()
	if len(problems) == 0 {
		return false
	}
	src := p.Bytes()
	end := at.End
	for end < len(src) && src[end] != '\n' {
		end++
	}
	i := sort.Search(len(problems), func(i int) bool { return problems[i].End >= at.Start })
	return i < len(problems) && problems[i].Start <= end
}

func span(p *source.Piece, r hcl.Range) source.Span {
	return source.Span{Piece: p, Start: r.Start.Byte, End: r.End.Byte}
}

// NodesIn lists the top-level blocks of a piece as written.
func NodesIn(p *source.Piece) []*Node { return nodesOf(p) }

// Outermost is the top-level block that a node stands in, or is.
func (n *Node) Outermost() *Node {
	for _, top := range nodesOf(n.Piece()) {
		if top.Whole.Start <= n.Whole.Start && n.Whole.End <= top.Whole.End {
			return top
		}
	}
	return n
}
