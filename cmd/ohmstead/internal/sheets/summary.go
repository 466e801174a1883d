package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// mostFindings is how many findings the summary tells.
const mostFindings = 40

// summary is the first page: what it is, what it takes, and what is wrong with it.
func (m *maker) summary() []Block {
	out := []Block{Facts{Lines: m.facts(), Scene: m.glance()}, Heading(say("summary.cautions"))}
	for _, c := range []string{"caution.mains", "caution.low", "caution.local"} {
		out = append(out, Caution(say(c)))
	}
	if t := m.power(); len(t.Rows) > 0 {
		out = append(out, Heading(say("summary.power")), Table{t})
	}
	out = append(out, m.judged()...)
	if len(m.contents) > 1 {
		out = append(out, Heading(say("summary.contents")), m.contents)
	}
	return out
}

func (m *maker) facts() []Fact {
	var out []Fact
	add := func(key, value string) { out = append(out, Fact{say(key), value}) }
	add("summary.light", m.light())
	for _, s := range m.plan.Surfaces {
		if s.Width.Known() && s.Height.Known() {
			add("summary.surface", say("summary.surface.is", "name", name(s), "width", s.Width.V.String(), "height", s.Height.V.String()))
		}
	}
	for _, s := range m.plan.Supplies {
		key := "summary.supply.is"
		if s.Outputs.V <= 1 {
			key = "summary.supply.one"
		}
		add("summary.supply", say(key, "name", name(s), "volts", m.show(quantity.Voltage, s.Volts()), "amps", s.Rating.V.String(), "outputs", quantity.Count(s.Outputs.V, "output")))
	}
	for _, c := range m.Figures.Controllers {
		n := 0
		for _, p := range c.Ports {
			n += p.Pixels
		}
		text := say("summary.controller.is", "name", name(c.Controller), "ports", quantity.Count(len(c.Ports), "output"), "pixels", quantity.Count(n, "pixel"))
		if c.Ceiling.Set && !c.Ceiling.Bad {
			text += say("summary.ceiling", "amps", c.Ceiling.V.String())
		}
		add("summary.controller", text)
	}
	if h := m.plan.Head; h != nil && h.Mains.Known() {
		add("summary.mains", h.Mains.V.String())
	}
	add("summary.air", m.show(quantity.Temperature, m.plan.Ambient()))
	if kg := m.weight(); kg > 0 {
		add("summary.weight", say("summary.weight.is", "mass", m.show(quantity.Mass, kg)))
	}
	if p := lists.Shop(m.Figures, m.Others...); len(p.Totals) > 0 {
		cost := all(p.Totals, 6, schema.Quantity.String)
		if p.Unpriced > 0 {
			cost = say("summary.cost.unpriced", "cost", cost, "items", quantity.Count(p.Unpriced, "item"))
		}
		add("summary.cost", cost)
	}
	if h := m.plan.Head; h != nil && h.Note.Known() && h.Note.V != "" {
		add("summary.note", short(h.Note.V, 1000))
	}
	return out
}

// light says how much light there is.
func (m *maker) light() string {
	length, pixels, unknown := m.extent()
	runs := quantity.Count(len(m.Figures.Runs), "run")
	if unknown > 0 {
		return say("summary.light.unknown", "runs", runs, "pixels", quantity.Count(pixels, "pixel"), "unknown", quantity.Count(unknown, "run"))
	}
	return say("summary.light.is", "runs", runs, "length", m.show(quantity.Length, length), "pixels", quantity.Count(pixels, "pixel"))
}

func (m *maker) extent() (length float64, pixels, unknown int) {
	for _, r := range m.Figures.Runs {
		length += r.Length
		pixels += r.Pixels
		if !r.OK {
			unknown++
		}
	}
	return length, pixels, unknown
}

// weight of the diffusers, kg.
func (m *maker) weight() float64 {
	kg := 0.0
	for _, r := range m.Figures.Runs {
		if d := r.Diffuser.V; r.OK && d != nil && d.Weight.Known() {
			kg += d.Weight.V.SI * r.Length
		}
	}
	return kg
}

// caseTitle is a case as a reader is told of it.
func caseTitle(name string, own *schema.Case) string {
	switch {
	case own != nil:
		return own.Name
	case name == schema.Full:
		return say("summary.power.full")
	case name == schema.Held:
		return say("summary.power.held")
	}
	return name
}

func (m *maker) power() *lists.Table {
	t := m.tabled("power", say("summary.power"),
		column("case", say("summary.power.case")),
		column("supply", say("summary.power.supply")),
		measured(quantity.Voltage, "V", "volts", say("summary.power.volts"), 2),
		measured(quantity.Current, "A", "amps", say("summary.power.amps"), 2),
		measured(quantity.Power, "W", "watts", say("summary.power.watts"), 1),
		measured(quantity.Share, "%", "load", say("summary.power.load"), 0))
	for _, c := range m.Figures.Cases {
		for _, s := range c.Supplies {
			if s.OK {
				t.Rows = append(t.Rows, lists.Row{Block: s.Supply, Cells: []lists.Cell{
					words(caseTitle(c.Name, c.Own)), words(name(s.Supply)), number(s.Volts), number(s.Amps), number(s.Volts * s.Amps), number(s.Load)}})
			}
		}
	}
	return t
}

// watts is what the supplies give at the most in a case.
func (m *maker) watts(named string) float64 {
	for _, c := range m.Figures.Cases {
		if c.Name == named && c.Own == nil {
			w := 0.0
			for _, s := range c.Supplies {
				if s.OK {
					w += s.Volts * s.Amps
				}
			}
			return w
		}
	}
	return math.NaN()
}

func (m *maker) judged() []Block {
	var names []string
	for _, c := range m.Figures.Cases {
		names = append(names, c.Name)
	}
	found := say("summary.found.none")
	if errors, warnings, hints := m.counts(); errors+warnings+hints > 0 {
		found = say("summary.found", "errors", quantity.Count(errors, "error"), "warnings", quantity.Count(warnings, "warning"), "hints", quantity.Count(hints, "hint"))
	}
	out := []Block{
		Heading(say("summary.judged")),
		Text(say("summary.judged.is", "rules", quantity.Count(m.Rules, "rule"), "cases", "the "+plural("case", len(names))+" "+quantity.List(names))),
		Text(found),
	}
	if h := m.Verdict.Hidden; len(h) > 0 {
		var rules []string
		for _, x := range h {
			if !slices.Contains(rules, x.Rule) {
				rules = append(rules, x.Rule)
			}
		}
		out = append(out, Text(say("summary.hidden", "hidden", quantity.Count(len(h), "finding"), "rules", quantity.List(rules))))
	}
	if len(m.Verdict.Findings) == 0 {
		return out
	}
	t := m.tabled("findings", say("summary.findings"), column("level", say("summary.finding.level")), column("about", say("summary.finding.about")), column("message", say("summary.finding.message")))
	for _, level := range []lint.Level{lint.Error, lint.Warning, lint.Hint} {
		for _, f := range m.Verdict.Findings {
			if f.Level == level && len(t.Rows) < mostFindings {
				about := f.Subject
				if len(f.Members) > 1 {
					about += fmt.Sprintf(" and %d more like it", len(f.Members)-1)
				}
				t.Rows = append(t.Rows, lists.Row{Cells: []lists.Cell{words(f.Level.String()), words(about), words(upper(short(f.Message, 500)))}})
			}
		}
	}
	out = append(out, Heading(say("summary.findings")), Table{t})
	if more := len(m.Verdict.Findings) - len(t.Rows); more > 0 {
		out = append(out, Text(say("summary.finding.more", "more", fmt.Sprint(more))))
	}
	return out
}

func plural(noun string, n int) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

// upper begins a sentence.
func upper(s string) string {
	for i, r := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
		_ = r
	}
	return s
}
