package sheets

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// commissioning takes the person with the meter from a wall without power to
// values that are written down.
func (m *maker) commissioning() []Block {
	if len(m.plan.Supplies) == 0 {
		return []Block{Text(say("commission.none"))}
	}
	out := []Block{Text(say("commission.lead")), Caution(say("caution.mains"))}
	if errors, _, _ := m.counts(); errors > 0 {
		out = append(out, Caution(say("summary.errors", "errors", count(errors, "error"))))
	}
	n := 0
	step := func(head, text string, cautions ...string) {
		n++
		out = append(out, Step{Number: n, Head: head, Text: text, Cautions: cautions})
	}

	out = append(out, Heading(say("commission.before")))
	step(say("commission.off"), say("commission.off.how", "supplies", m.supplies()), say("commission.off.caution"))
	step(say("commission.paper"), say("commission.paper.how", "digest", Digest(m.plan)))
	step(say("commission.mains"), say("commission.mains.how", "circuit", m.circuit()))
	step(say("commission.earth"), say("commission.earth.how"))
	step(say("commission.selector"), m.selectors(), say("commission.selector.caution"))
	if fuses := m.fuses(); len(fuses) > 0 {
		step(say("commission.fuses"), say("commission.fuses.how", "fuses", fuseText(fuses)), m.backed()...)
	} else {
		step(say("commission.fuses"), say("commission.fuses.none"))
	}
	step(say("commission.polarity"), say("commission.polarity.how", "marks", m.marks()), say("commission.polarity.caution"))
	step(say("commission.ohms"), say("commission.ohms.how"))
	step(say("commission.strands"), say("commission.strands.how"))

	out = append(out, Heading(say("commission.first")), Caution(say("commission.first.caution")))
	step(say("commission.first.supply"), say("commission.first.supply.how", "volts", all(m.plan.Supplies, 6, func(s *schema.Supply) string {
		return say("commission.first.supply.volts", "supply", m.title(s), "volts", m.show(quantity.Voltage, s.Volts()))
	})), say("commission.off.caution"))
	if c := m.converters(); c != "" {
		step(say("commission.first.converter"), say("commission.first.converter.how", "converters", c), say("commission.off.caution"))
	}
	if c := m.ceilings(); c != "" {
		step(say("commission.first.ceiling"), say("commission.first.ceiling.how", "ceilings", c))
	}
	if t := m.powerUp(); len(t.Rows) > 0 {
		step(say("commission.first.run"), say("commission.first.run.how"), m.backed()...)
		out = append(out, Table{t})
	}
	step(say("commission.warm"), say("commission.warm.how"), say("commission.warm.caution"))
	if t := lists.Points(m.Figures); len(t.Rows) > 0 {
		out = append(out, Heading(say("commission.points")))
		step(say("commission.points.step"), say("commission.points.how"), say("commission.off.caution"))
		out = append(out, Table{t})
	}
	return append(out, Blanks{say("commission.done.meter"), say("commission.done.left"), say("commission.done"), say("commission.done.date")})
}

func (m *maker) supplies() string {
	return all(m.plan.Supplies, 4, func(s *schema.Supply) string { return m.title(s) })
}

func (m *maker) circuit() string {
	if h := m.plan.Head; h != nil && h.Circuit.Known() {
		return say("commission.circuit", "amps", h.Circuit.V.String())
	}
	return ""
}

// selectors says where the input switch of each supply has to stand.
func (m *maker) selectors() string {
	var out []string
	if h := m.plan.Head; h != nil && h.Mains.Known() {
		out = append(out, say("commission.selector.how", "mains", h.Mains.V.String()))
	}
	for _, s := range m.plan.Supplies {
		switch {
		case s.Selector.Known():
			out = append(out, say("commission.selector.set", "supply", name(s), "selector", s.Selector.V.String()))
		case s.Input.Known() && len(s.Input.V) > 0:
			out = append(out, say("commission.selector.unset", "supply", name(s), "input", all(s.Input.V, 6, schema.Quantity.String)))
		default:
			out = append(out, say("commission.selector.unknown", "supply", name(s)))
		}
	}
	return strings.Join(out, " ")
}

// backed is the caution of fuses that leave live what they feed.
func (m *maker) backed() []string {
	var leads []string
	for _, l := range m.Figures.Leads {
		if m.Figures.Backed(l) {
			leads = append(leads, name(l.Lead))
		}
	}
	if leads == nil {
		return nil
	}
	return []string{say("fuses.backed", "leads", every(lists.Spans(leads)))}
}

// fuseGroup is fuses that are alike.
type fuseGroup struct {
	amps  string
	kind  string
	si    float64
	leads []string
}

func (m *maker) fuses() []fuseGroup {
	var out []fuseGroup
	for _, l := range m.Figures.Leads {
		if !l.Fused() {
			continue
		}
		g := fuseGroup{amps: l.Fuse.V.String(), kind: l.Device.Name, si: l.Fuse.V.SI}
		i := slices.IndexFunc(out, func(o fuseGroup) bool { return o.amps == g.amps && o.kind == g.kind })
		if i < 0 {
			i, out = len(out), append(out, g)
		}
		out[i].leads = append(out[i].leads, name(l.Lead))
	}
	slices.SortStableFunc(out, func(a, b fuseGroup) int { return int(1000 * (b.si - a.si)) })
	return out
}

// fuseText lists fuses with their leads: how many of each, and all of them, for who ticks off has to find each.
func fuseText(fuses []fuseGroup) string {
	var out []string
	for _, g := range fuses {
		out = append(out, say("commission.fuses.each", "n", strconv.Itoa(len(g.leads)), "amps", g.amps, "kind", g.kind, "leads", every(lists.Spans(g.leads))))
	}
	return strings.Join(out, "; ")
}

// every lists all items, however many.
func every(items []string) string { return all(items, len(items), itself) }

func (m *maker) marks() string {
	if k := m.plan.Marking; k != nil && k.Plus.Known() && k.Minus.Known() {
		return " " + say("commission.polarity.marks", "plus", k.Plus.V, "minus", k.Minus.V)
	}
	return ""
}

// converters says what the step-down converter of each board that needs one has to give, all of them: a board behind one
// that nobody measured is lost.
func (m *maker) converters() string {
	var out []string
	for _, c := range m.plan.Controllers {
		if from, to := lists.Converter(c); from != "" {
			out = append(out, say("commission.first.converter.each", "controller", m.title(c), "from", from, "to", to))
		}
	}
	return every(out)
}

func (m *maker) ceilings() string {
	var out []string
	for _, c := range m.plan.Controllers {
		if c.Ceiling.Set && !c.Ceiling.Bad {
			out = append(out, say("commission.first.ceiling.each", "controller", m.title(c), "amps", c.Ceiling.V.String()))
		}
	}
	return all(out, 20, itself)
}

// powerUp is the order in which things get their power for the first time:
// controllers, then run by run, each with the leads that are new on its way.
// Dark pixels lose less than lit ones, so that what is there lies between the
// least voltage of the case full and that of the supply.
func (m *maker) powerUp() *lists.Table {
	t := m.tabled("power-up", say("commission.first"),
		column("what", say("commission.up.what")),
		column("fuses", say("commission.up.fuses")),
		measured(quantity.Voltage, "V", "least", say("commission.up.least"), 2),
		measured(quantity.Voltage, "V", "most", say("commission.up.most"), 2),
		blank("read", say("commission.up.read")),
		column("index", say("commission.up.index")),
		blank("lights", say("commission.up.lights")))
	in := map[*figures.Lead]bool{}
	full := m.Figures.Cases[0]
	add := func(b schema.Block, what string, paths [][]*figures.Lead, least float64, index lists.Cell) {
		most := 0.0
		var fuses []string
		for _, path := range paths {
			for _, l := range slices.Backward(path) {
				for _, pt := range []*schema.Point{l.From.V, l.To.V} {
					if pt.Supply != nil {
						most = max(most, pt.Supply.Volts())
					}
				}
				if !in[l] && l.Fused() {
					fuses = append(fuses, say("commission.up.fuse", "lead", name(l.Lead), "amps", l.Fuse.V.String()))
				}
				in[l] = true
			}
		}
		if most == 0 {
			return
		}
		if len(fuses) == 0 {
			fuses = []string{say("commission.up.none")}
		}
		t.Rows = append(t.Rows, lists.Row{Block: b, Cells: []lists.Cell{words(what), words(every(fuses)), number(least), number(most), {}, index, {}}})
	}
	for i, c := range m.Figures.Controllers {
		var paths [][]*figures.Lead
		for _, l := range m.Figures.Ends(c.Controller) {
			if l.OK && l.Plus() {
				paths = append(paths, []*figures.Lead{l})
			}
		}
		if full.Controllers[i].OK {
			add(c.Controller, say("commission.up.controller", "controller", name(c.Controller)), paths, full.Controllers[i].Volts, lists.Cell{})
		}
	}
	for i, r := range m.Figures.Runs {
		if rc := full.Runs[i]; rc.OK {
			add(r.Run, say("commission.up.run", "run", name(r.Run)), m.Figures.Feeds(r), rc.StartVolts, words(indexes(r)))
		}
	}
	if len(t.Rows) > 0 {
		t.Notes = append(t.Notes, lists.Note{Text: say("commission.up.note")})
	}
	return t
}

// indexes are those of the first and the last pixel of a run on its controller's output, as on the elevation, behind
// the output's name where there are several.
func indexes(r *figures.Run) string {
	first, output := 0, ""
	if r.Port != nil {
		first = r.First
		if len(r.Port.Controller.Ports) > 1 {
			output = r.Port.Name + " "
		}
	}
	if r.Pixels < 2 {
		return output + strconv.Itoa(first)
	}
	return fmt.Sprintf("%s%d…%d", output, first, first+r.Pixels-1)
}
