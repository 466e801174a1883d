package ide

import (
	"slices"
	"strings"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// References finds every place of the plan and its stock that names the thing
// at an offset, in the order of the files.
func References(v *View, offset int, declaration bool) []Location {
	t, ok := v.thingAt(offset)
	if !ok {
		return nil
	}
	var out []Location
	declared := t.name()
	for _, p := range pieces(v.files()) {
		if declaration && declared.Piece == p {
			out = append(out, v.locations([]source.Span{declared})...)
		}
		out = append(out, v.locations(v.usesIn(p, t))...)
	}
	return out
}

// files are the plan's files and those of its stock.
func (v *View) files() []*source.File { return slices.Concat(v.Plan.Files, v.Plan.StockFiles) }

func pieces(files []*source.File) (out []*source.Piece) {
	for _, f := range files {
		out = append(out, f.Pieces...)
	}
	return out
}

// usesIn finds the places in a piece that name a thing: of a reference the
// step with the name.
func (v *View) usesIn(p *source.Piece, t thing) []source.Span {
	var out []source.Span
	for _, r := range refsIn(p) {
		if !v.mayName(r.val.Steps, t) {
			continue
		}
		got, used := v.follow(r.val.Steps)
		if used == 4 && !got.same(t) {
			got, used = v.follow(r.val.Steps[:2])
		}
		switch {
		case used > 0 && got.is(t):
			at := r.val.Steps[used-1].At
			if used == 2 && got.block != nil && schema.HeaderOf(got.block).Assembly() != "" {
				at, _ = partOf(bare(inBrackets(at)), got.block, got.node)
			}
			out = append(out, at)
		case used > 0 && t.node != nil && t.node.Type == "assembly" && got.block != nil:
			if at, ok := partOf(bare(inBrackets(r.val.Steps[1].At)), got.block, t.node); ok {
				out = append(out, at)
			}
		}
	}
	if t.node != nil && t.node.Type == "pin" {
		out = append(out, v.pinUses(p, t)...)
	}
	return out
}

// partOf is where a name in a reference names one of the assemblies that a block is
// in, or the block itself: a member is named by all of them from outside, and
// by the inner ones alone in an assembly.
func partOf(at source.Span, b schema.Block, n *schema.Node) (source.Span, bool) {
	text := string(at.Bytes())
	within := schema.HeaderOf(b).Within()
	for i := range within {
		name, start, length := "", -1, 0
		for k, x := range within[i:] {
			if k > 0 {
				name += "-"
			}
			if x == n {
				start, length = len(name), len(x.Label())
			}
			name += x.Label()
		}
		if text == name || strings.HasPrefix(text, name+"-") {
			at.Start += start
			at.End = at.Start + length
			return at, start >= 0
		}
	}
	return at, false
}

// mayName tells most references to other things apart at once.
func (v *View) mayName(steps []schema.RefStep, t thing) bool {
	if len(steps) < 2 {
		return false
	}
	switch root := steps[0].Name; {
	case t.let != nil:
		return root == "let" && steps[1].Name == t.let.Name
	case t.port != nil:
		return root == "controller"
	case t.block != nil && root == schema.HeaderOf(t.block).Type.Name: // which may be misspelt in the text
		return true
	default:
		return root == t.node.Type || root == "catalog" || t.node.Type == "assembly"
	}
}

// pinUses finds the ports in a piece that use a pin of a board.
func (v *View) pinUses(p *source.Piece, t thing) []source.Span {
	var out []source.Span
	for _, n := range schema.NodesIn(p) {
		if n.Type != "controller" {
			continue
		}
		blocks := v.copies(n)
		if len(blocks) == 0 {
			continue
		}
		c, ok := blocks[0].(*schema.Controller)
		if !ok || !c.Board.Known() {
			continue
		}
		for _, port := range n.Blocks {
			if a, ok := port.Assign("pin"); ok && a.Val.Kind == schema.NumberVal {
				if pin, ok := c.Board.V.Pin(int(a.Val.Number)); ok && pin.Node == t.node {
					out = append(out, a.Val.At)
				}
			}
		}
	}
	return out
}
