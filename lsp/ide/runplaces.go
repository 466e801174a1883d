package ide

import (
	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// placeOnRun is a reference to a run, or to a place on one, as written.
type placeOnRun struct {
	ref
	run *schema.Run // of copies the first that is meant
}

// placesOn lists the references to some runs in the plan's files, in the order of the text.
func (v *View) placesOn(of func(*schema.Run) bool) (out []placeOnRun) {
	for _, p := range pieces(v.Plan.Files) {
		for _, x := range refsIn(p) {
			if x.assign.Name == "like" || x.val.Steps[0].Name != "run" {
				continue
			}
			if t, used := v.follow(x.val.Steps); used == 2 {
				if r, ok := t.block.(*schema.Run); ok && of(r) {
					out = append(out, placeOnRun{x, r})
				}
			}
		}
	}
	return out
}

// within is the place that the reference says by a pixel or a distance.
func (x placeOnRun) within() (*schema.Point, bool) {
	pt := &schema.Point{Kind: schema.RunPlace, Run: x.run}
	switch ix := x.val.Steps[2].Index; {
	case ix == nil:
	case ix.Kind == schema.NumberVal:
		pt.Where, pt.Pixel = schema.AtPixel, int(ix.Number)
		return pt, true
	case ix.Kind == schema.TextVal:
		q, err := quantity.ParseFor(quantity.Length, ix.Text)
		pt.Where, pt.Distance = schema.AtDistance, q
		return pt, err == nil
	}
	return nil, false
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
