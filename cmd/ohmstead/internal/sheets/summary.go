package sheets

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/lists"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// mostFindings is how many findings the summary tells.
const mostFindings = 40

// summary is the first page: what it is, what it takes, and what is wrong with
// it. What may hurt somebody comes before everything else.
func (m *maker) summary() []Block {
	out := []Block{Facts{Lines: m.facts(), Scene: m.glance()}}
	errors, _, _ := m.counts()
	if errors > 0 {
		out = append([]Block{Caution(say("summary.errors", "errors", count(errors, "error")))}, out...)
		out = append(out, m.judged()...)
	}
	out = append(out, Heading(say("summary.cautions")))
	out = append(out, Caution(say("caution.mains")), Caution(say("caution.low")))
	if t := m.power(); len(t.Rows) > 0 {
		out = append(out, Heading(say("summary.power")), Table{t})
	}
	if errors == 0 {
		out = append(out, m.judged()...)
	}
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
	var supplies []string // those alike together
	named := map[string][]string{}
	for _, s := range m.plan.Supplies {
		text := say("summary.supply.one", "volts", m.show(quantity.Voltage, s.Volts()), "amps", s.Rating.V.String())
		if s.Outputs.V > 1 {
			text = say("summary.supply.is", "supply", text, "outputs", count(s.Outputs.V, "output"))
		}
		if named[text] == nil {
			supplies = append(supplies, text)
		}
		named[text] = append(named[text], name(s))
	}
	for _, text := range supplies {
		add("summary.supply", all(named[text], 4, itself)+": "+text)
	}
	for _, c := range m.Figures.Controllers {
		n := 0
		for _, p := range c.Ports {
			n += p.Pixels
		}
		text := say("summary.controller.is", "name", name(c.Controller), "ports", count(len(c.Ports), "output"), "pixels", count(n, "pixel"))
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
			cost = say("summary.cost.unpriced", "cost", cost, "items", count(p.Unpriced, "item"))
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
	runs := count(len(m.Figures.Runs), "run")
	if unknown > 0 {
		return say("summary.light.unknown", "runs", runs, "pixels", count(pixels, "pixel"), "unknown", count(unknown, "run"))
	}
	return say("summary.light.is", "runs", runs, "length", m.show(quantity.Length, length), "pixels", count(pixels, "pixel"))
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
	load := say("summary.power.load")
	if slices.ContainsFunc(m.plan.Supplies, func(s *schema.Supply) bool { return s.Outputs.V > 1 }) {
		load = say("summary.power.fullest")
	}
	t := m.tabled("power", say("summary.power"),
		column("case", say("summary.power.case")),
		column("supply", say("summary.power.supply")),
		measured(quantity.Voltage, "V", "volts", say("summary.power.volts"), 2),
		measured(quantity.Current, "A", "amps", say("summary.power.amps"), 2),
		measured(quantity.Power, "W", "watts", say("summary.power.watts"), 1),
		measured(quantity.Share, "%", "load", load, 0))
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
		found = say("summary.found", "errors", count(errors, "error"), "warnings", count(warnings, "warning"), "hints", count(hints, "hint"))
	}
	out := []Block{
		Heading(say("summary.judged")),
		Text(say("summary.judged.is", "program", m.Program, "rules", count(m.Rules, "rule"), "cases", all(names, 20, itself))),
		Text(found),
	}
	if open := lint.Open(m.Figures.Plan); len(open) > 0 {
		t := m.tabled("open", say("summary.open"), column("where", say("summary.open.where")), column("what", say("summary.open.what")))
		for _, at := range open {
			file, start, _, _ := m.Figures.Plan.Locate(at)
			line := file.Text.OffsetPosition(start, source.Rune).Line + 1
			t.Rows = append(t.Rows, lists.Row{Cells: []lists.Cell{words(fmt.Sprintf("%s:%d", path.Base(file.Text.Path()), line)), words(short(lint.Question(at), 500))}})
		}
		out = append(out, Heading(say("summary.open")), Table{t})
	}
	if h := m.Verdict.Hidden; len(h) > 0 {
		var rules []string
		for _, x := range h {
			if !slices.Contains(rules, x.Rule) {
				rules = append(rules, x.Rule)
			}
		}
		out = append(out, Text(say("summary.hidden", "hidden", count(len(h), "finding"), "rules", all(rules, 20, itself))))
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
					about = say("summary.finding.members", "about", about, "more", fmt.Sprint(len(f.Members)-1))
				}
				t.Rows = append(t.Rows, lists.Row{Cells: []lists.Cell{words(f.Level.String()), words(about), words(short(f.Message, 500))}})
			}
		}
	}
	out = append(out, Heading(say("summary.findings")), Table{t})
	if more := len(m.Verdict.Findings) - len(t.Rows); more > 0 {
		out = append(out, Text(say("summary.finding.more", "more", fmt.Sprint(more))))
	}
	return out
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
