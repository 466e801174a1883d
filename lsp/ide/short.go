package ide

import (
	"fmt"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// mostStoodFor bounds how many blocks a hover lists.
const mostStoodFor = 12

// standsFor adds what a short form stands for: the blocks that it makes, or those
// that it says the usual of.
func (p *page) standsFor(v *View, b schema.Block) {
	h := schema.HeaderOf(b)
	if !h.Type.Short() {
		return
	}
	if a, ok := b.(*schema.Assembly); ok {
		p.holds(v, a)
		return
	}
	var lines []string
	var usual []string
	counts := map[string]int{}
	for _, x := range v.Plan.Blocks {
		xh := schema.HeaderOf(x)
		if u := xh.Usual; u == b || u != nil && schema.HeaderOf(u).MadeBy() == h.Node {
			if counts[xh.Type.Name]++; counts[xh.Type.Name] == 1 {
				usual = append(usual, xh.Type.Name)
			}
			continue
		}
		if h.Type.Name == "usual" {
			continue
		}
		if xh.MadeBy() == h.Node {
			lines = append(lines, "- "+prose(v.stoodFor(x)))
		}
	}
	for i, kind := range usual {
		usual[i] = quantity.Count(counts[kind], kind)
	}
	switch {
	case len(usual) > 0:
		p.add("Holds for %s", strings.Join(usual, ", "))
	case h.Type.Of != nil:
		p.add("Holds for %s", quantity.Count(0, h.Type.Of.Name))
	}
	if n := len(lines); n > mostStoodFor {
		lines = append(lines[:mostStoodFor-1:mostStoodFor-1], fmt.Sprintf("- and %d more", n-mostStoodFor+1))
	}
	if len(lines) > 0 {
		p.add("Stands for:\n%s", strings.Join(lines, "\n"))
	}
}

// alone adds what a nested block of a chain or a feed speaks of alone: a hop, a branch.
func (p *page) alone(v *View, n, of *schema.Node) {
	a, ok := n.Assign("to")
	if !ok {
		return
	}
	var lines []string
	for _, x := range v.Plan.Blocks {
		h := schema.HeaderOf(x)
		if h.MadeBy() != of || len(lines) == mostStoodFor {
			continue
		}
		if to, ok := h.Node.Assign("to"); ok && (to.Val.Text == a.Val.String() || strings.HasPrefix(to.Val.Text, a.Val.String()+".")) {
			lines = append(lines, "- "+prose(v.stoodFor(x)))
		}
	}
	if len(lines) > 0 {
		p.add("Speaks of:\n%s", strings.Join(lines, "\n"))
	}
}

// holds adds what an assembly makes, those of assemblies in it included.
func (p *page) holds(v *View, a *schema.Assembly) {
	var ids []string
	count := map[string]int{}
	for _, x := range v.members(a) {
		h := schema.HeaderOf(x)
		id := h.Type.Name + "." + h.Base()
		if count[id]++; count[id] == 1 {
			ids = append(ids, id)
		}
	}
	var lines []string
	for _, id := range ids {
		lines = append(lines, fmt.Sprintf("- %d × %s", count[id], prose(id)))
	}
	if len(lines) > 0 {
		p.add("Stands for:\n%s", strings.Join(lines, "\n"))
	}
}

// members are the blocks that an assembly makes, those of assemblies in it included.
func (v *View) members(a *schema.Assembly) (out []schema.Block) {
	for _, x := range v.Plan.Blocks {
		inner, nested := x.(*schema.Assembly)
		switch {
		case schema.HeaderOf(x).Assembly() != a.ID():
		case nested:
			out = append(out, v.members(inner)...)
		default:
			out = append(out, x)
		}
	}
	return out
}

// isUsual adds what a block has because it is usual, or because a chain goes through it from its end.
func (p *page) isUsual(b schema.Block) {
	h := schema.HeaderOf(b)
	var has []string
	attrs, _ := schema.Says(b)
	for _, a := range attrs {
		if h.IsUsual(a.Whole) {
			has = append(has, prose(a.Name+" = "+a.Val.String()))
		}
	}
	if by := h.Entered(); by != nil {
		p.add("Comes from %s: %s", prose(by.Type+" "+strconv.Quote(by.Label())), prose(`data_enters = "end"`))
	}
	if len(has) > 0 {
		p.add("Comes from usual %q: %s", h.Type.Name, strings.Join(has, ", "))
	}
}

// stoodFor says in a line what a made block is.
func (v *View) stoodFor(b schema.Block) string {
	h := schema.HeaderOf(b)
	text := h.ID()
	fromTo := func(from, to schema.Value[*schema.Point]) {
		if from.Known() && to.Known() {
			text += fmt.Sprintf(": from %s to %s", from.V, to.V)
		}
	}
	length := func(x float64, estimated, ok bool) {
		if ok {
			text += ", " + v.metres(x)
			if estimated {
				text += " (estimated)"
			}
		}
	}
	switch b := b.(type) {
	case *schema.Signal:
		fromTo(b.From, b.To)
		if v.Figures != nil {
			length(v.Figures.SignalLength(b))
		}
	case *schema.Lead:
		fromTo(b.From, b.To)
		if v.Figures != nil {
			if l, ok := v.Figures.Lead(b); ok {
				length(l.Length, l.Estimated, l.OK)
			}
		}
		if b.Fuse.Set && !b.Fuse.Bad {
			text += ", fuse " + b.Fuse.V.Exact()
		}
	case *schema.Order:
		text += ": " + quantity.Count(len(b.Runs.V), "run")
	}
	return text
}

// madeUses finds in a piece where blocks are named that have their name of a thing: of the block that makes
// them, or of the run that they lead to. A place is that of the thing's name in theirs.
func (v *View) madeUses(p *source.Piece, t thing) (out []source.Span) {
	if t.block == nil || t.port != nil {
		return nil
	}
	for _, r := range refsIn(p) {
		made, used := v.follow(r.val.Steps)
		if used != 2 || made.block == nil || made.node.Maker == nil {
			continue
		}
		at := bare(inBrackets(r.val.Steps[1].At))
		maker := made.node.Maker
		if maker != t.node {
			if !leadsTo(made.block, t) || !strings.HasPrefix(made.node.Label(), maker.Label()+"-"+t.node.Label()) {
				continue
			}
			at.Start += len(maker.Label()) + 1
		}
		out = append(out, at)
	}
	return out
}

// leadsTo reports whether a lead or signal goes to a thing.
func leadsTo(b schema.Block, t thing) bool {
	to := schema.Value[*schema.Point]{}
	switch b := b.(type) {
	case *schema.Lead:
		to = b.To
	case *schema.Signal:
		to = b.To
	}
	return to.Known() && schema.HeaderOf(to.V.Block()).Node == t.node
}
