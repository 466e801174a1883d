package lists

import (
	"maps"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Wires is the wire schedule: each lead and signal, from where to where, and the most that it carries and loses:
// over every case, full without the ceilings among them, and over every pattern that the ceilings allow.
func Wires(f *figures.Figures) *Table {
	t := of(f, "wires", "Wire schedule",
		textColumn("label", "label"), textColumn("kind", "kind"), textColumn("from", "from"), textColumn("to", "to"),
		textColumn("gauge", "gauge"), countColumn("cores", "cores"), countColumn("conductors", "conductors"), textColumn("color", "colour"),
		lengthColumn(f.Habit, "length", "cut length"), textColumn("estimated", "length is"),
		measureColumn(quantity.Current, "fuse", "fuse", -1), measureColumn(quantity.Current, "ampacity", "wire may carry", 1),
		measureColumn(quantity.Current, "amps", "worst", 2), textColumn("case", "in case"), measureColumn(quantity.Voltage, "drop", "drop of wire, fuse, holder", 2),
		textColumn("remark", "remark"))
	w := wired(f)
	byBlock := map[schema.Block][]*conductor{}
	for _, c := range w.all {
		byBlock[c.of] = append(byBlock[c.of], c)
	}
	row := func(of schema.Block, fuse, ampacity, amps, worst, drop Cell, remarks []string) {
		cs := byBlock[of]
		if len(cs) == 0 {
			return
		}
		c := cs[0]
		var gauge, estimated Cell
		cores := Cell{}
		if c.wire != nil {
			gauge, cores = words(gaugeOf(c.wire)), count(c.wire.Cores.V)
		}
		length := Cell{}
		if c.length > 0 {
			length = number(c.length)
		}
		if c.estimated {
			estimated = words("estimated")
			t.note(false, "An estimated length comes from the places of its two ends, with the policy's slack and tails: measure before cutting.")
		}
		if schema.HeaderOf(c.host) != schema.HeaderOf(of) {
			remarks = append(remarks, "in the cable of "+schema.HeaderOf(c.host).ID())
		}
		t.add("", of, words(c.name), words(schema.HeaderOf(of).Type.Name), words(c.from.String()), words(c.to.String()),
			gauge, cores, count(len(cs)), words(colors(cs)), length, estimated, fuse, ampacity, amps, worst, drop, words(strings.Join(remarks, "; ")))
	}
	for i, l := range f.Leads {
		var remarks []string
		var fuse, ampacity, amps, worst, drop Cell
		if l.Fused() {
			fuse = number(l.Fuse.V.SI)
			if h := l.Holder.V; h != nil {
				remarks = append(remarks, "fuse in "+h.ID())
			}
		}
		if l.OK && l.Ampacity > 0 {
			ampacity = number(l.Ampacity)
		}
		if x := f.WorstLead(l); x.OK && l.OK {
			for _, c := range f.Cases {
				if a := math.Max(math.Abs(c.Leads[i].Amps), math.Abs(c.Leads[i].Back)); c.Leads[i].OK && a > x.Value {
					x.Value, x.Case = a, c.Name
				}
			}
			amps, worst = number(x.Value), words(x.Case)
			drop = number(f.LeadDrop(l, x.Value))
			t.note(false, "Worst is the most of every case, full without the ceilings among them, and of any pattern under the ceilings. The drop is that of plus and minus together, warm, with contacts, fuse and holder.")
		}
		if l.Carries.V != "pair" {
			remarks = append(remarks, "only "+l.Carries.V)
		}
		row(l.Lead, fuse, ampacity, amps, worst, drop, remarks)
	}
	for _, s := range f.Plan.Signals {
		var remarks []string
		if s.Resistor.Known() && s.Resistor.V.SI > 0 {
			remarks = append(remarks, s.Resistor.V.String()+" in series")
		}
		switch {
		case !s.From.Known() || !s.To.Known() || !backed(s.To.V):
		case backed(s.From.V):
			remarks = append(remarks, "data and the second data line")
		default:
			remarks = append(remarks, "backup data input: see the strip's sheet")
			t.note(false, "The second data line begins at the first run: where the backup data input of its first pixel goes stands in the datasheet of the strip.")
		}
		row(s, Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, remarks)
	}
	t.colored(slices.Collect(maps.Keys(w.sides)))
	for _, why := range w.lacks {
		t.note(false, why)
	}
	return t
}

// of begins the list of a plan.
func of(f *figures.Figures, name, title string, columns ...Column) *Table {
	return &Table{Name: name, Title: title, Plan: f.Plan.Name(), Habit: f.Habit, Columns: columns}
}

// gaugeOf is the size of one conductor as the plan writes it.
func gaugeOf(w *schema.Wire) string {
	if !w.Gauge.Known() {
		return ""
	}
	return w.Gauge.V.String()
}

// colors are those of some conductors, each once.
func colors(cs []*conductor) string {
	var out []string
	seen := map[string]bool{}
	for _, c := range cs {
		if c.color != "" && !seen[c.color] {
			seen[c.color] = true
			out = append(out, c.color)
		}
	}
	return strings.Join(out, "/")
}
