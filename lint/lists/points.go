package lists

import (
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Points is what a meter shows at each test point in each case that a wall under its ceilings can show, and how far a healthy meter and a plan that is
// right may lie off it. The points are in the order in which power reaches them: what a fault spoils comes after it.
func Points(f *figures.Figures) *Table {
	t := of(f, "points",
		textColumn("point"),
		measureColumn(quantity.Voltage, "volts", 2), measureColumn(quantity.Voltage, "volts_tolerance", 2),
		Column{Key: "volts_read", Kind: Blank},
		measureColumn(quantity.Voltage, "below", 2), measureColumn(quantity.Voltage, "below_tolerance", 2),
		Column{Key: "below_read", Kind: Blank},
		measureColumn(quantity.Current, "amps", 2), measureColumn(quantity.Current, "amps_tolerance", 2),
		Column{Key: "amps_read", Kind: Blank})
	t.Groups = say("points.groups")
	points := testPoints(f)
	high, bites := false, bitten(f, f.Cases[0])
	for i, c := range f.Cases {
		name := c.Name
		switch {
		case bitten(f, c), i == 1 && !bites:
			continue // nobody can show it, or it is the one before
		case i == 0 && ceilings(f):
			name = say("points.both", "full", schema.Full, "held", schema.Held)
		}
		for k, e := range f.Expect(points, c) {
			pt := points[k]
			if !e.OK {
				continue
			}
			high = high || e.Volts >= 20
			t.add(name, pt.Block(), words(pt.String()), number(e.Volts), number(e.VoltsLeave), Cell{},
				number(e.Below), number(e.BelowLeave), Cell{}, number(e.Amps), number(e.AmpsLeave), Cell{})
		}
	}
	if len(t.Rows) == 0 {
		return t
	}
	t.note(false, say("points.note.volts"))
	t.note(false, say("points.note.below"))
	if high {
		t.note(false, say("points.note.high"))
	}
	t.note(false, say("points.note.amps"))
	t.note(true, say("points.note.bridge"))
	if bites {
		t.note(true, say("points.note.full"))
	}
	return t
}

// ceilings tells whether there are any.
func ceilings(f *figures.Figures) bool {
	return slices.ContainsFunc(f.Controllers, func(c *figures.Controller) bool { return c.Ceiling.Set })
}

// bitten tells whether a case that ignores the ceilings asks for more than one of them lets through, as far as known.
func bitten(f *figures.Figures, c *figures.Case) bool {
	for i, ctl := range f.Controllers {
		if !c.Held && ctl.Ceiling.Set && (ctl.Ceiling.Bad || c.Controllers[i].Estimate > ctl.Ceiling.V.SI) {
			return true
		}
	}
	return false
}

// testPoints lists where a meter is put: outputs, joints, controllers, and of each run its ends and every place
// that a lead reaches in between.
func testPoints(f *figures.Figures) []*schema.Point {
	var out []*schema.Point
	seen := map[string]bool{}
	add := func(pt *schema.Point) {
		if id := pt.String(); !seen[id] {
			seen[id] = true
			out = append(out, pt)
		}
	}
	for _, s := range f.Plan.Supplies {
		for k := range max(s.Outputs.V, 1) {
			add(&schema.Point{Kind: schema.SupplyOut, Supply: s, Output: k + 1})
		}
	}
	for _, j := range f.Plan.Joints {
		add(&schema.Point{Kind: schema.JointPlace, Joint: j})
	}
	for _, c := range f.Plan.Controllers {
		add(&schema.Point{Kind: schema.ControllerPower, Controller: c})
	}
	for _, r := range f.Runs {
		add(&schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtStart})
		for _, l := range f.Ends(r.Run) {
			for _, pt := range []*schema.Point{l.From.V, l.To.V} {
				if pt != nil && pt.Run == r.Run {
					add(pt)
				}
			}
		}
		add(&schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtEnd})
	}
	return out
}
