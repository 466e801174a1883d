package ide

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// turnRun turns a run round where it hangs: it is drawn from its other end, so that its first pixel is there, and what feeds or
// measures it stays at its place. Data leads, chains and orders keep what they say, so that data enters at that end too. It is
// offered where the drawing can be said from its other end and the plan is then fed as before.
func (v *View) turnRun(h *hit) []Action {
	if len(h.nodes) == 0 || h.nodes[0].Type != "run" || !touches(h.nodes[0].Head, h.at) || len(h.nodes[0].Piece().Problems()) > 0 || v.Figures == nil || v.Try == nil {
		return nil
	}
	n := h.nodes[0]
	t := &turning{View: v, node: n}
	for _, b := range v.copies(n) {
		run, _ := b.(*schema.Run)
		r, ok := v.Figures.Run(run)
		if !ok || !r.OK || run.Home != schema.InPlan {
			return nil
		}
		t.runs = append(t.runs, r)
	}
	if len(t.runs) == 0 || slices.ContainsFunc(v.Plan.Runs, func(r *schema.Run) bool { return r.Beside.V != nil && t.turns(r.Beside.V) }) {
		return nil
	}
	edits, ok := t.drawing()
	if !ok {
		return nil
	}
	more, ok := t.places()
	if !ok {
		return nil
	}
	edits = append(edits, more...)
	if len(edits) == 0 || spoils(edits) { // of none nothing is said of its ends but by data
		return nil
	}
	changed, err := v.Plan.With(edits)
	if err != nil {
		return nil
	}
	fig, err := v.Try(changed)
	if err != nil || !t.sameWall(fig) || !t.sameFigures(fig) {
		return nil
	}
	title := "Turn run." + n.Label() + " round: its pixel 0 comes to its other end"
	if data := t.data(); len(data) > 0 {
		title += "; " + strings.Join(data, ", ")
	}
	a := Action{Title: title, Kind: RefactorRewrite, Renames: map[string]string{}}
	for i, l := range fig.Leads {
		if was := v.Figures.Leads[i].ID(); was != l.ID() {
			a.Renames[l.ID()] = was
		}
	}
	return v.offer(a, edits)
}

// turning is a run on its way to be turned.
type turning struct {
	*View
	node *schema.Node
	runs []*figures.Run // its copies
}

func (t *turning) turns(r *schema.Run) bool {
	return slices.ContainsFunc(t.runs, func(o *figures.Run) bool { return o.ID() == r.ID() })
}

// data says what the data leads of the run do.
func (t *turning) data() (out []string) {
	var to, from []string
	for _, s := range t.Plan.Signals {
		if s.To.V != nil && s.To.V.Run != nil && t.turns(s.To.V.Run) {
			to = append(to, s.ID())
		}
		if s.From.V != nil && s.From.V.Run != nil && t.turns(s.From.V.Run) {
			from = append(from, s.ID())
		}
	}
	say := func(ids []string, does string) {
		switch {
		case len(ids) == 1:
			out = append(out, ids[0]+" "+does+"s there")
		case len(ids) > 1:
			out = append(out, fmt.Sprintf("%d data leads %s there", len(ids), does))
		}
	}
	say(to, "end")
	say(from, "begin")
	if len(out) > 0 {
		out[len(out)-1] += " (measure anew)"
	}
	return out
}

// drawing are the edits that draw the run from its other end; false where its text does not carry that.
func (t *turning) drawing() ([]schema.Edit, bool) {
	if a, ok := t.node.Assign("through"); ok {
		return reversedPlaces(t.runs[0].Run, a)
	}
	for _, b := range t.node.Blocks {
		run := t.runs[0]
		turn := func(is string) string { return strconv.Quote(otherTurn[is]) }
		switch b.Type {
		case "path":
			return t.reversedPath(b)
		case "circle":
			c := run.Circle
			set := [][2]string{{"turn", turn(c.Turn.V)}}
			if c.Sweep.V.SI < 360 {
				end := c.Start.V.SI - c.Sweep.V.SI
				if c.Turn.V == "left" {
					end = c.Start.V.SI + c.Sweep.V.SI
				}
				set = append([][2]string{{"start", angle(end)}}, set...)
			}
			return setAttrs(b, set), true
		case "rectangle":
			return setAttrs(b, [][2]string{{"turn", turn(run.Rectangle.Turn.V)}}), true
		case "polygon":
			return setAttrs(b, [][2]string{{"turn", turn(run.Polygon.Turn.V)}}), true
		}
	}
	return nil, true // a mere length, or taken over: then what it lies on tells
}

var otherTurn = map[string]string{"left": "right", "right": "left"}

// angle writes an angle from 0 to 360 deg.
func angle(degrees float64) string {
	degrees = math.Mod(degrees, 360)
	if degrees < 0 {
		degrees += 360
	}
	return strconv.Quote(quantity.Number(degrees, 9) + " deg")
}

// setAttrs are the edits that give a block attributes, those that it has and those that it has not.
func setAttrs(n *schema.Node, values [][2]string) (out []schema.Edit) {
	var name, value string
	for _, x := range values {
		switch a, ok := n.Assign(x[0]); {
		case ok:
			out = append(out, schema.Edit{At: a.Val.At, New: x[1]})
		case name == "":
			name, value = x[0], x[1]
		default:
			value += "\n" + x[0] + " = " + x[1]
		}
	}
	if name != "" {
		out = append(out, schema.InsertAttr(n, name, value))
	}
	return out
}

// reversedPlaces are the edits that write places in the other order; of a closed run from the same place.
func reversedPlaces(r *schema.Run, a *schema.Assign) (out []schema.Edit, ok bool) {
	if a.Val.Kind != schema.ListVal || commented(a.Val.At) {
		return nil, false
	}
	items := a.Val.Items
	if r.Closed.V && len(items) > 0 {
		items = items[1:]
	}
	for i, x := range items {
		if now := text(items[len(items)-1-i].At); now != text(x.At) {
			out = append(out, schema.Edit{At: x.At, New: now})
		}
	}
	return out, true
}

// reversedPath are the edits that take the steps of a path in the other order and the other way round. They go either to places,
// all of them, or on from one another.
func (t *turning) reversedPath(n *schema.Node) (out []schema.Edit, ok bool) {
	run := t.runs[0]
	if commented(n.Inside) || run.Path == nil || run.Run.Path == nil || run.Run.Path.Closed.V || len(n.Blocks) != len(run.Run.Path.Steps) {
		return nil, false
	}
	start := `["0 cm", "0 cm"]`
	if a, ok := n.Assign("start"); ok {
		start = text(a.Val.At)
	}
	places, relative := []string{start}, 0
	for _, s := range n.Blocks {
		to, ok := s.Assign("to")
		if !ok {
			relative++
			continue
		}
		places = append(places, text(to.Val.At))
	}
	last := len(n.Blocks)
	if relative > 0 && relative < last {
		return nil, false
	}
	for i, slot := range n.Blocks {
		from := n.Blocks[last-1-i]
		var within []schema.Edit
		turn := func(a, b string) bool {
			x, hasX := from.Assign(a)
			y, hasY := from.Assign(b)
			if hasX && hasY {
				within = append(within, schema.Edit{At: x.Val.At, New: text(y.Val.At)}, schema.Edit{At: y.Val.At, New: text(x.Val.At)})
			}
			return hasX == hasY
		}
		if !turn("away", "toward") {
			return nil, false
		}
		if a, ok := from.Assign("turn"); ok {
			within = append(within, schema.Edit{At: a.Val.At, New: strconv.Quote(otherTurn[a.Val.Text])})
		}
		if a, ok := from.Assign("to"); ok {
			within = append(within, schema.Edit{At: a.Val.At, New: places[last-1-i]})
		}
		out = append(out, schema.Edit{At: slot.Whole, New: editedIn(from, within)})
	}
	if relative == 0 {
		return append(out, setAttrs(n, [][2]string{{"start", places[last]}})...), true
	}
	if !run.Motion().None() {
		return nil, false
	}
	x, y, heading := run.Path.At(run.Path.Length())
	unit := quantity.Units(quantity.Length)[0]
	if run.Run.Path.Start.Set {
		unit = unitOf(start)
	}
	return append(out, setAttrs(n, [][2]string{{"start", placeAt(x, y, unit)}, {"heading", angle(heading + 180)}})...), true
}

// unitOf is the unit that a place is written in, cm where it is none of a length.
func unitOf(place string) quantity.Unit {
	units := quantity.Units(quantity.Length)
	out := units[0]
	for _, u := range units {
		if strings.Contains(place, " "+u.Symbol+`"`) {
			return u
		}
		if u.Symbol == "cm" {
			out = u
		}
	}
	return out
}

// editedIn is the text of a block with some edits in it.
func editedIn(n *schema.Node, edits []schema.Edit) string {
	out := text(n.Whole)
	slices.SortFunc(edits, func(a, b schema.Edit) int { return b.At.Start - a.At.Start })
	for _, e := range edits {
		out = out[:e.At.Start-n.Whole.Start] + e.New + out[e.At.End-n.Whole.Start:]
	}
	return out
}

// places are the edits that call the places on the run, where leads end and readings were taken, as they are counted then.
func (t *turning) places() (out []schema.Edit, ok bool) {
	for _, x := range t.placesOn(func(r *schema.Run) bool { return t.turns(r) }) {
		switch x.in.Type {
		case "lead", "reading", "feed":
		case "let":
			return nil, false
		default:
			continue
		}
		steps := x.val.Steps
		switch {
		case len(steps) == 2 && x.in.Type == "feed":
			switch x.ends() {
			case "start":
				out = append(out, insertBehind(x.val, ".end"))
			case "end":
				out = append(out, insertBehind(x.val, ".start"))
			}
		case len(steps) == 3:
			now, ok := t.otherPlace(x)
			if !ok {
				return nil, false
			}
			out = append(out, schema.Edit{At: steps[2].At, New: now})
		}
	}
	return out, true
}

// otherPlace is the last step of a place on a run as it is counted from its other end.
func (t *turning) otherPlace(x placeOnRun) (string, bool) {
	switch x.val.Steps[2].Name {
	case "start":
		return "end", true
	case "end":
		return "start", true
	}
	r, ok := t.Figures.Run(x.run)
	pt, within := x.within()
	if !ok || !within {
		return "", false
	}
	at := r.Snap(pt)
	if pt.Where == schema.AtPixel {
		return fmt.Sprintf("[%d]", r.Pixels-at.Pixel), true
	}
	return "[" + measure(pt.Distance, r.StripLength()-at.At) + "]", true
}

// sameWall reports whether the runs lie where they lay, the other way round, and everything else of the plan says what it said.
func (t *turning) sameWall(after *figures.Figures) bool {
	if !resolved.AlikeBut(t.Plan, after.Plan, func(a, b schema.Block) bool {
		switch x := a.(type) {
		case *schema.Run:
			return t.turns(x)
		case *schema.Lead, *schema.Reading, *schema.Feed:
			return true
		}
		return false
	}) || len(t.Plan.Readings) != len(after.Plan.Readings) {
		return false
	}
	for i, r := range t.Figures.Runs {
		o := after.Runs[i]
		if !t.turns(r.Run) {
			continue
		}
		if o.ID() != r.ID() || !o.OK || o.Pixels != r.Pixels || (o.Path == nil) != (r.Path == nil) || math.Abs(o.Length-r.Length) > closing {
			return false
		}
		for k := 0; r.Path != nil && k <= 64; k++ {
			at := r.Path.Length() * float64(k) / 64
			x0, y0, _ := r.Path.At(at)
			x1, y1, _ := o.Path.At(o.Path.Length() - at)
			if math.Hypot(x0-x1, y0-y1) > closing {
				return false
			}
		}
	}
	for i, x := range t.Plan.Readings {
		if !t.samePlace(x.Place.V, after.Plan.Readings[i].Place.V, after) {
			return false
		}
	}
	return true
}

// closing is how far apart two places may be that are one, m: what written places are rounded to.
const closing = 1e-4

// samePlace reports whether a place is another one of the plan as it is then.
func (t *turning) samePlace(was, is *schema.Point, after *figures.Figures) bool {
	if was == nil || is == nil || was.Run == nil || !t.turns(was.Run) {
		return was == nil && is == nil || was.Same(is) || was != nil && is != nil && was.Lead != nil && is.Lead != nil && was.Where == is.Where && was.Kind == is.Kind
	}
	if is.Run == nil || is.Run.ID() != was.Run.ID() {
		return false
	}
	a, ok := t.Figures.Run(was.Run)
	b, there := after.Run(is.Run)
	return ok && there && a.Snap(was).Pixel == b.Pixels-b.Snap(is).Pixel
}

// sameFigures reports whether the leads go where they went, and the same flows in them and is left for the runs.
func (t *turning) sameFigures(after *figures.Figures) bool {
	if len(after.Leads) != len(t.Figures.Leads) || len(after.Cases) != len(t.Figures.Cases) {
		return false
	}
	for i, l := range t.Figures.Leads {
		o := after.Leads[i]
		if l.OK != o.OK || l.OK && (!sameFigure(l.Length, o.Length) || l.Wire.V.ID() != o.Wire.V.ID() || !t.samePlace(l.From.V, o.From.V, after) || !t.samePlace(l.To.V, o.To.V, after)) {
			return false
		}
	}
	for i, c := range t.Figures.Cases {
		o := after.Cases[i]
		for k, x := range c.Leads {
			if y := o.Leads[k]; x.OK && (!y.OK || !sameFigure(x.Amps, y.Amps)) {
				return false
			}
		}
		for k, x := range c.Runs {
			if y := o.Runs[k]; x.OK && (!y.OK || !sameFigure(x.MinVolts, y.MinVolts)) {
				return false
			}
		}
	}
	return true
}

// sameFigure reports whether two figures are one but for how they were worked out.
func sameFigure(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(math.Abs(a), math.Abs(b), 1e-3) }
