package ide

import (
	"slices"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// placeOnRun is a reference to a run, or to a place on one, as written.
type placeOnRun struct {
	val  *schema.Val
	kind string       // of the block that it stands in, or of that which a copy, branch or hop in it is of
	in   *schema.Node // that block
	run  *schema.Run  // of copies the first that is meant
}

// placesOn lists the references to some runs in the plan's files, in the order of the text.
func (v *View) placesOn(of func(*schema.Run) bool) (out []placeOnRun) {
	var walk func(n *schema.Node, kind string, in *schema.Node)
	var look func(val *schema.Val, kind string, in *schema.Node)
	look = func(val *schema.Val, kind string, in *schema.Node) {
		if val.Kind == schema.RefVal && len(val.Steps) > 1 && val.Steps[0].Name == "run" {
			if t, used := v.follow(val.Steps); used == 2 && t.block != nil {
				if r, ok := t.block.(*schema.Run); ok && of(r) {
					out = append(out, placeOnRun{val, kind, in, r})
				}
			}
		}
		for _, x := range val.Items {
			look(x, kind, in)
		}
	}
	walk = func(n *schema.Node, kind string, in *schema.Node) {
		if !slices.Contains([]string{"copy", "branch", "hop"}, n.Type) {
			kind, in = n.Type, n
		}
		for _, a := range n.Assigns {
			if a.Name != "like" {
				look(a.Val, kind, in)
			}
		}
		for _, c := range n.Blocks {
			walk(c, kind, in)
		}
	}
	for _, f := range v.Plan.Files {
		for _, p := range f.Pieces {
			for _, n := range schema.NodesIn(p) {
				walk(n, "", nil)
			}
		}
	}
	return out
}

// ends is where a feed feeds runs that it names without a place.
func (x placeOnRun) ends() string {
	if a, ok := x.in.Assign("ends"); ok {
		return a.Val.Text
	}
	return "start"
}

// insertBehind is the edit that adds to an expression.
func insertBehind(val *schema.Val, more string) schema.Edit {
	return schema.Edit{At: source.Span{Piece: val.At.Piece, Start: val.At.End, End: val.At.End}, New: more}
}
