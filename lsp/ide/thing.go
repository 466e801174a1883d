package ide

import (
	"slices"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// thing is what a name stands for: a block, a port of a controller, or a named
// value.
type thing struct {
	node  *schema.Node // of a block or port
	block schema.Block // of a block; of copies the one that is meant, else the first
	one   bool         // of copies one in particular is meant
	port  *schema.Port
	let   *schema.LetValue
}

// same reports whether two things are declared at the same place.
func (t thing) same(o thing) bool {
	if t.let != nil || o.let != nil {
		return t.let != nil && o.let != nil && t.let.Assign == o.let.Assign
	}
	return t.node != nil && t.node == o.node
}

// is reports whether a thing is another one, or what that is in an assembly that is like its own.
func (t thing) is(o thing) bool {
	return t.same(o) || t.block != nil && t.port == nil && o.node != nil && schema.HeaderOf(t.block).WrittenIn(o.node)
}

// none reports whether a thing is none.
func (t thing) none() bool { return t.node == nil && t.let == nil }

// name is where a thing is declared, without quotes.
func (t thing) name() source.Span {
	switch {
	case t.let != nil:
		return t.let.NameAt
	case len(t.node.Labels) == 0:
		return t.node.TypeAt
	}
	return bare(t.node.Labels[0].At)
}

// whole is all of the block or value.
func (t thing) whole() source.Span {
	if t.let != nil {
		return t.let.Whole
	}
	return t.node.Whole
}

// id is the thing's address as it is written: without the number of a copy
// unless one in particular is meant.
func (t thing) id() string {
	switch {
	case t.let != nil:
		return "let." + t.let.Name
	case t.port != nil && t.port.Controller != nil:
		return t.port.ID()
	case t.block == nil:
		return strings.TrimSpace(t.node.Type + " " + t.node.Label())
	}
	h := schema.HeaderOf(t.block)
	if h.Copy > 0 && !t.one {
		return h.Type.Name + "." + h.Base()
	}
	return h.ID()
}

// find looks up the block that TYPE.NAME or catalog.NAME means outside of assemblies, as
// it is written: NAME may be that of all copies, or of the copy beside.
func (v *View) find(typeName, name string) (thing, bool) { return v.findIn(nil, typeName, name) }

// findIn is as find, in a block as written.
func (v *View) findIn(n *schema.Node, typeName, name string) (thing, bool) {
	var in schema.Block
	if n != nil {
		if blocks := v.copies(n); len(blocks) > 0 {
			in = blocks[0]
		}
	}
	b, one, ok := v.Plan.Meant(typeName, name, in)
	if !ok {
		return thing{}, false
	}
	return thing{node: schema.HeaderOf(b).Node, block: b, one: one}, true
}

// memberAround is the member of an assembly that a place lies in; nil for none.
func memberAround(at source.Span) *schema.Node {
	if at.Piece == nil {
		return nil
	}
	var out *schema.Node
	for nodes := schema.NodesIn(at.Piece); ; {
		i := slices.IndexFunc(nodes, func(n *schema.Node) bool { return n.Whole.Start <= at.Start && at.End <= n.Whole.End })
		if i < 0 || nodes[i].Type != "assembly" && nodes[i].Type != "copy" && nodes[i].Type != "runs" {
			if i >= 0 && out != nil {
				return nodes[i]
			}
			return nil
		}
		out, nodes = nodes[i], nodes[i].Blocks
	}
}

// follow finds what the first steps of a reference name, and how many steps
// that took.
func (v *View) follow(steps []schema.RefStep) (t thing, used int) {
	if len(steps) < 2 {
		return thing{}, 0
	}
	root, name := steps[0].Name, stepName(steps[1])
	if name == "" {
		return thing{}, 0
	}
	if root == "let" {
		if l, ok := v.Plan.Let(name); ok {
			return thing{let: l}, 2
		}
		return thing{}, 0
	}
	t, ok := v.findIn(memberAround(steps[0].At), root, name)
	if !ok {
		return thing{}, 0
	}
	if c, isController := t.block.(*schema.Controller); isController && len(steps) >= 4 && steps[2].Name == "port" {
		if p := portNamed(c, stepName(steps[3])); p != nil {
			return thing{node: p.Node, port: p}, 4
		}
	}
	return t, 2
}

// stepName is the name that a step gives: .NAME or ["NAME"].
func stepName(s schema.RefStep) string {
	if s.Index != nil {
		if s.Index.Kind == schema.TextVal {
			return s.Index.Text
		}
		return ""
	}
	return s.Name
}

func portNamed(c *schema.Controller, name string) *schema.Port {
	for _, p := range c.Ports {
		if p.Name == name && name != "" {
			return p
		}
	}
	return nil
}

// copies lists the typed blocks that a top-level node stands for: one, or the
// copies that times makes. There is none for a block that was not accepted.
func (v *View) copies(n *schema.Node) []schema.Block {
	var out []schema.Block
	for _, list := range [][]schema.Block{v.Plan.Blocks, v.Plan.Stock} {
		for _, b := range list {
			if h := schema.HeaderOf(b); h.WrittenIn(n) {
				out = append(out, b)
			} else if len(out) > 0 && schema.HeaderOf(out[0]).Assembly() == "" {
				return out // copies stand side by side, but for those of assemblies that are alike
			}
		}
	}
	return out
}

// thingAt finds what stands at an offset of v.File.
func (v *View) thingAt(offset int) (thing, bool) {
	h, ok := v.hit(offset)
	if !ok {
		return thing{}, false
	}
	t, _, ok := v.at(h)
	return t, ok
}

// at finds what stands at a place: what a reference there names, or the block,
// port or value that is declared there.
func (v *View) at(h *hit) (t thing, where source.Span, ok bool) {
	switch h.part {
	case onType, onLabel:
		if t, ok = v.declared(h.nodes); !ok {
			return thing{}, source.Span{}, false
		}
		if h.part == onLabel {
			return t, bare(h.node().Labels[0].At), true
		}
		return t, h.node().TypeAt, true
	case onAttr:
		if len(h.nodes) == 1 && h.node().Type == "let" {
			if l, ok := v.Plan.Let(h.assign.Name); ok && l.Assign == h.assign {
				return thing{let: l}, h.assign.NameAt, true
			}
		}
	case onValue:
		val := h.val()
		if val.Kind == schema.RefVal && h.step >= 0 {
			return v.atStep(val, h.step)
		}
		if h.attr != nil && h.attr.Name == "pin" && val.Kind == schema.NumberVal {
			if p := v.pin(h); p != nil {
				return thing{node: p.Node}, val.At, true
			}
		}
	}
	return thing{}, source.Span{}, false
}

// atStep finds what a reference up to a step names. The first step counts as
// the whole name of a block, and so do steps behind the name.
func (v *View) atStep(val *schema.Val, step int) (thing, source.Span, bool) {
	t, used := v.follow(val.Steps)
	if used == 0 {
		return thing{}, source.Span{}, false
	}
	if used == 4 && step < 3 { // the controller in front of its port
		t, used = v.follow(val.Steps[:2])
	}
	at := val.Steps[used-1].At
	if step < used {
		return t, at, true
	}
	return t, val.Steps[step].At, true
}

// declared finds the thing that a block in the text declares.
func (v *View) declared(nodes []*schema.Node) (thing, bool) {
	n := nodes[len(nodes)-1]
	if blocks := v.copies(n); len(blocks) > 0 {
		return thing{node: schema.HeaderOf(blocks[0]).Node, block: blocks[0]}, true // of what a copy says, the member's
	}
	blocks := v.copies(nodes[0])
	if len(nodes) == 1 || len(blocks) == 0 {
		return thing{}, false
	}
	if c, ok := blocks[0].(*schema.Controller); ok && n.Type == "port" {
		for _, p := range c.Ports {
			if p.Node == n {
				return thing{node: n, port: p}, true
			}
		}
	}
	return thing{node: n}, true
}

// pin finds the facts of the pin that the attribute pin of a port names.
func (v *View) pin(h *hit) *schema.Pin {
	if len(h.nodes) != 2 || h.node().Type != "port" || h.val().Number != float64(int(h.val().Number)) {
		return nil
	}
	for _, b := range v.copies(h.nodes[0]) {
		if c, ok := b.(*schema.Controller); ok && c.Board.Known() {
			if p, ok := c.Board.V.Pin(int(h.val().Number)); ok {
				return p
			}
		}
	}
	return nil
}

// ref is a reference as written.
type ref struct {
	val    *schema.Val
	node   *schema.Node // the block that it stands in
	in     *schema.Node // that block, or that which a copy, branch or hop in it is of
	assign *schema.Assign
}

// refsIn lists the references in a piece of text, in the order of the text.
func refsIn(p *source.Piece) []ref {
	type memo struct{}
	return p.Memo(memo{}, func(p *source.Piece) any {
		var out []ref
		var walk func(v *schema.Val, r ref)
		walk = func(v *schema.Val, r ref) {
			r.val = v
			if v.Kind == schema.RefVal {
				out = append(out, r)
				for _, s := range v.Steps {
					if s.Index != nil {
						walk(s.Index, r)
					}
				}
			}
			for _, x := range v.Items {
				walk(x, r)
			}
		}
		var block func(n, in *schema.Node)
		block = func(n, in *schema.Node) {
			if in == nil || n.Type != "copy" && n.Type != "branch" && n.Type != "hop" {
				in = n
			}
			for _, a := range n.Assigns {
				walk(a.Val, ref{node: n, in: in, assign: a})
			}
			for _, c := range n.Blocks {
				block(c, in)
			}
		}
		for _, n := range schema.NodesIn(p) {
			block(n, nil)
		}
		return out
	}).([]ref)
}
