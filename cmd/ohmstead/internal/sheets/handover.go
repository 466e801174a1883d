package sheets

import (
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// handover is for those who live with it.
func (m *maker) handover() []Block {
	length, pixels, _ := m.extent()
	out := []Block{Heading(say("hand.what")), Text(say("hand.what.is",
		"title", short(m.plan.Title(), 300), "runs", count(len(m.plan.Runs), "run"), "pixels", count(pixels, "pixel"),
		"length", m.show(quantity.Length, length), "controllers", count(len(m.plan.Controllers), "controller"),
		"supplies", count(len(m.plan.Supplies), "supply"), "watts", m.brightest()))}
	if h := m.plan.Head; h != nil && h.Note.Known() && h.Note.V != "" {
		out = append(out, Facts{Lines: []Fact{{say("hand.note"), short(h.Note.V, 1000)}}})
	}
	out = append(out,
		Heading(say("hand.off")), Text(say("hand.off.how", "supplies", m.supplies())), Caution(say("hand.off.caution")), Blanks{say("hand.off.where")})
	for _, c := range m.backed() {
		out = append(out, Caution(c))
	}
	out = append(out,
		Heading(say("hand.who")), Table{m.who()},
		Heading(say("hand.again")), Table{m.again()},
		Heading(say("hand.spares")), Table{m.spares()},
		Blanks{say("hand.signed"), say("hand.signed.to"), say("hand.signed.date")})
	return out
}

// brightest is the power in the case that people will see: held, else full.
func (m *maker) brightest() string {
	w := m.watts(schema.Held)
	if math.IsNaN(w) {
		w = m.watts(schema.Full)
	}
	return m.show(quantity.Power, w)
}

// pairs is a table of two columns of text, for people only.
func (m *maker) pairs(left, right string, rows ...[2]string) *lists.Table {
	t := m.tabled("", "", column("a", left), column("b", right))
	for _, r := range rows {
		t.Rows = append(t.Rows, lists.Row{Cells: []lists.Cell{words(r[0]), words(r[1])}})
	}
	return t
}

func (m *maker) who() *lists.Table {
	rows := [][2]string{{say("hand.who.mains"), say("hand.who.mains.who")}}
	if f := m.fuses(); len(f) > 0 {
		rows = append(rows, [2]string{say("hand.who.fuses", "fuses", ratings(f)), say("hand.who.fuses.who")})
	}
	rows = append(rows,
		[2]string{say("hand.who.joints"), say("hand.who.joints.who")},
		[2]string{say("hand.who.light"), say("hand.who.light.who")})
	return m.pairs(say("hand.who.what"), say("hand.who.who"), rows...)
}

func ratings(fuses []fuseGroup) string {
	return all(fuses, 8, func(g fuseGroup) string { return g.amps })
}

func (m *maker) again() *lists.Table {
	rows := [][2]string{{say("hand.again.month"), say("hand.again.month.what")}, {say("hand.again.year"), say("hand.again.year.what")}}
	if m.wet() {
		rows = append(rows, [2]string{say("hand.again.wet"), say("hand.again.wet.what")})
	}
	if c := m.ceilings(); c != "" {
		rows = append(rows, [2]string{say("hand.again.firmware"), say("hand.again.firmware.what", "ceilings", c)})
	}
	if f := m.fuses(); len(f) > 0 {
		rows = append(rows, [2]string{say("hand.again.blown"), say("hand.again.blown.what")})
	}
	rows = append(rows, [2]string{say("hand.again.change"), say("hand.again.change.what")})
	return m.pairs(say("hand.again.when"), say("hand.again.what"), rows...)
}

// wet tells that some place of the plan has water.
func (m *maker) wet() bool {
	places := []schema.Value[string]{}
	if m.plan.Head != nil {
		places = append(places, m.plan.Head.Exposure)
	}
	for _, s := range m.plan.Surfaces {
		places = append(places, s.Exposure)
	}
	for _, r := range m.plan.Runs {
		places = append(places, r.Exposure)
	}
	return slices.ContainsFunc(places, func(v schema.Value[string]) bool { return v.Known() && v.V != "" && v.V != "dry" })
}

// spares are what is hard to find in some years: two fuses of each rating, as one may open while the fault is looked for.
func (m *maker) spares() *lists.Table {
	t := m.tabled("spares", say("hand.spares"), column("part", say("hand.spares.part")), counted("pieces", say("hand.spares.count")), column("why", say("hand.spares.why")))
	add := func(part string, n int, why string) {
		for _, r := range t.Rows {
			if r.Cells[0].Text == part {
				return
			}
		}
		t.Rows = append(t.Rows, lists.Row{Cells: []lists.Cell{words(part), number(float64(n)), words(why)}})
	}
	for _, f := range m.fuses() {
		add(say("hand.spares.fuse", "amps", f.amps, "kind", f.kind), 2, say("hand.spares.fuse.why"))
	}
	for _, r := range m.plan.Runs {
		if s := r.Strip.V; r.Strip.Known() && s != nil {
			add(say("hand.spares.strip", "strip", schema.HeaderOf(s).ID()), 1, say("hand.spares.strip.why"))
		}
	}
	for _, s := range m.plan.Supplies {
		add(say("hand.spares.supply", "supply", m.title(s), "volts", s.Output.V.String(), "amps", s.Rating.V.String()), 1, say("hand.spares.supply.why"))
	}
	for _, c := range m.plan.Controllers {
		add(say("hand.spares.controller", "controller", m.title(c)), 1, say("hand.spares.controller.why"))
	}
	return t
}
