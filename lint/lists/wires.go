package lists

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Wires is the wire schedule: each lead and signal, from where to where, and the most that it carries and loses:
// over every case, full without the ceilings among them, and over every pattern that the ceilings allow.
func Wires(f *figures.Figures) *Table {
	t := of(f, "wires",
		textColumn("label"), textColumn("kind"), textColumn("from"), textColumn("to"),
		textColumn("gauge"), countColumn("cores"), countColumn("conductors"), textColumn("color"),
		lengthColumn(f.Habit, "length"), textColumn("estimated"),
		measureColumn(quantity.Current, "fuse", -1), textColumn("behind"), measureColumn(quantity.Current, "ampacity", 1),
		measureColumn(quantity.Current, "amps", 2), textColumn("case"), measureColumn(quantity.Voltage, "drop", 2),
		textColumn("remark"))
	w := wired(f)
	byBlock := map[schema.Block][]*conductor{}
	for _, c := range w.all {
		byBlock[c.of] = append(byBlock[c.of], c)
	}
	row := func(of schema.Block, fuse, behind, ampacity, amps, worst, drop Cell, remarks []string) {
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
			length.About = c.estimated
		}
		if c.estimated {
			estimated = words(say("wires.is.estimated"))
			t.note(false, say("wires.note.estimated"))
		}
		if schema.HeaderOf(c.host) != schema.HeaderOf(of) {
			remarks = append(remarks, say("wires.cable", "lead", schema.HeaderOf(c.host).ID()))
		}
		t.add("", of, words(c.name), words(say("part."+schema.HeaderOf(of).Type.Name)), words(c.from.String()), words(c.to.String()),
			gauge, cores, count(len(cs)), words(colors(cs)), length, estimated, fuse, behind, ampacity, amps, worst, drop, words(strings.Join(remarks, "; ")))
	}
	var backed []string
	for i, l := range f.Leads {
		var remarks []string
		var fuse, behind, ampacity, amps, worst, drop Cell
		if l.Fused() {
			fuse = number(l.Fuse.V.SI)
			if h := l.Holder.V; h != nil {
				remarks = append(remarks, say("wires.holder", "holder", h.ID()))
			}
		}
		if l.Plus() && !l.Fused() {
			behind = words(guards(f, l))
		}
		if f.Backed(l) {
			backed = append(backed, l.Name)
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
			in := x.Case
			if in == schema.Any {
				in = say("wires.any")
			}
			amps, worst = number(x.Value), words(in)
			drop = number(f.LeadDrop(l, x.Value))
			t.note(false, say("wires.note.worst"))
		}
		if l.Carries.V != "pair" {
			remarks = append(remarks, say("wires.only", "side", say("side."+l.Carries.V)))
		}
		row(l.Lead, fuse, behind, ampacity, amps, worst, drop, remarks)
	}
	for _, s := range f.Plan.Signals {
		var remarks []string
		if s.Resistor.Known() && s.Resistor.V.SI > 0 {
			remarks = append(remarks, say("wires.resistor", "ohms", s.Resistor.V.String()))
		}
		if to := s.To.V; s.From.Known() && s.To.Known() && to.Run != nil && to.Run.Strip.Known() && to.Run.Strip.V.BackupData.V {
			if slices.Contains(figures.Cores(s), "backup") {
				remarks = append(remarks, say("wires.backup"))
			} else {
				remarks = append(remarks, say("wires.backup.first"))
				t.note(false, say("wires.note.backup"))
			}
		}
		row(s, Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, Cell{}, remarks)
	}
	if len(backed) > 0 {
		t.note(true, say("fuses.backed", "leads", strings.Join(Spans(backed), ", ")))
	}
	t.colored(slices.Collect(maps.Keys(w.sides)))
	for _, why := range w.lacks {
		t.note(false, why)
	}
	return t
}

// of begins the list of a plan.
func of(f *figures.Figures, name string, columns ...Column) *Table {
	for i, c := range columns {
		columns[i].Title = say(name + "." + c.Key)
	}
	return &Table{Name: name, Title: say("sheet." + name), Plan: f.Plan.Name(), Habit: f.Habit, Columns: columns}
}

// guards names the fuses that a lead without one hangs on.
func guards(f *figures.Figures, l *figures.Lead) string {
	var out []string
	fuses, bare := f.Guards(l)
	for _, x := range fuses {
		out = append(out, say("wires.behind.fuse", "lead", x.Name, "amps", x.Fuse.V.String()))
	}
	if bare {
		out = append(out, say("wires.behind.none"))
	}
	return strings.Join(out, ", ")
}

// Spans writes three names or more that count on by one as the first and the last of them.
func Spans(names []string) []string {
	var out []string
	for i := 0; i < len(names); {
		j := i + 1
		for stem, n, ok := numbered(names[i]); ok && j < len(names) && names[j] == stem+strconv.Itoa(n+j-i); {
			j++
		}
		if j-i > 2 {
			out = append(out, names[i]+" … "+names[j-1])
		} else {
			out = append(out, names[i:j]...)
		}
		i = j
	}
	return out
}

// numbered parts a name from the number at its end.
func numbered(name string) (stem string, n int, ok bool) {
	stem = strings.TrimRight(name, "0123456789")
	n, err := strconv.Atoi(name[len(stem):])
	return stem, n, err == nil
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
