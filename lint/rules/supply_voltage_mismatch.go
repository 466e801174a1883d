package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var SupplyVoltageMismatch = &lint.Rule{
	Name:  "supply-voltage-mismatch",
	Title: "A strip or controller is fed with a voltage not made for it",
	Level: lint.Error,
	Guard: true,
	Why: `A 5 V strip on a 12 V supply is destroyed the moment it is powered, all of its pixels at once, and so is a 5 V board.
A 12 V strip on 5 V stays dark.
What counts is the set-point of the supply (` + "`trim`" + `, else ` + "`output`" + `) that the plus leads to.`,
	Formula: "the strip's `min_voltage` <= set-point <= its `max_voltage` (1.1 x nominal where it says none); for a controller, 0.9 to 1.1 times one of its `input_voltage`",
	Do: `Feed it from a supply of its own voltage.
One whose adjuster was turned too far is set back, by a meter and with nothing joined to its output; where the adjuster sits beside mains terminals, that is for a qualified person.
Several voltages in one installation keep their pluses apart and share the minus.
For a controller, put a step-down converter in between and write what the two take together into ` + "`input_voltage`" + `.`,
	Sources: []string{
		"the chip's datasheet, supply voltage, absolute maximum (the source of the catalogue entry)",
		"common practice, no source: 10 % either way where a part says only its nominal voltage",
	},
	Bad:   func() string { return instead(shelf, `  output = "5 V"`, `  output = "12 V"`) },
	Good:  func() string { return shelf },
	Check: checkSupplyVoltageMismatch,
}

func checkSupplyVoltageMismatch(p *lint.Pass) {
	joined := p.Figures.Connectivity()
	besides := map[change]string{}
	spoilt := func(to change) string {
		text, known := besides[to]
		if !known {
			text = to.butNot(p.Plan, joined)
			besides[to] = text
		}
		return text
	}
	for _, r := range p.Plan.Runs {
		s := r.Strip.V
		if !r.Strip.Known() || s == nil || !s.Voltage.Known() {
			continue
		}
		for _, o := range joined.Plus(r) {
			if !o.Supply.Output.Known() || o.Supply.Trim.Bad {
				continue
			}
			volts := o.Supply.Volts()
			most, limited := figures.MostVolts(s)
			least := s.MinVoltage.V.SI
			above, below := limited && volts > most, s.MinVoltage.Known() && volts < least
			if !above && !below {
				continue
			}
			back, turn := setBack(p.Plan, o.Supply, func(v float64) bool { return fits(s, v) }, spoilt)
			report := func(limit float64, message string) {
				p.Report(lint.Finding{Subject: r.ID(), At: r.At(r.Strip.At), Related: []lint.Related{suppliedBy(o)},
					Value: &lint.Value{Got: volts, Limit: limit, Unit: "V"}, Message: message,
					Propose: func() [][]lint.Proposal {
						return append([][]lint.Proposal{turn, fromAnother(p.Figures, r, o.Supply, func(v float64) bool { return fits(s, v) })},
							exchange(p.Plan, &r.Header, "strip", p.Plan.Strips, func(x *schema.Strip) bool { return fits(x, volts) && sameMake(x, s) })...)
					}})
			}
			use := func() string {
				if back != "" {
					return back
				}
				return fmt.Sprintf("use a supply of %s", s.Voltage.V) + spoilt(change{o.Supply, s.Voltage.V.SI})
			}
			if above {
				report(most, fmt.Sprintf("%s: %s gives it %s, above the %s that %s stands, and its pixels %s; %s", r.ID(), o.Supply.ID(),
					quantity.ShowAgainst(quantity.Voltage, volts, most), showVolts(most), s.ID(), dies(volts, most), use()))
			} else {
				report(least, fmt.Sprintf("%s: %s gives it %s, below the %s that %s needs; %s", r.ID(), o.Supply.ID(),
					quantity.ShowAgainst(quantity.Voltage, volts, least), showVolts(least), s.ID(), use()))
			}
			break
		}
	}
	for _, c := range p.Plan.Controllers {
		made := c.Takes()
		if len(made) == 0 || c.InputVoltage.Bad {
			continue
		}
		for _, o := range joined.Plus(c) {
			if !o.Supply.Output.Known() || o.Supply.Trim.Bad || figures.Takes(made, o.Supply.Volts()) {
				continue
			}
			volts := o.Supply.Volts()
			nearest := made[0]
			for _, q := range made {
				if math.Abs(q.SI-volts) < math.Abs(nearest.SI-volts) {
					nearest = q
				}
			}
			happens := "it does not start"
			if volts > nearest.SI {
				happens = "its regulator " + strings.Replace(dies(volts, nearest.SI), "die", "dies", 1)
			}
			takes := func(v float64) bool { return figures.Takes(made, v) }
			back, turn := setBack(p.Plan, o.Supply, takes, spoilt)
			use := fmt.Sprintf("feed it from a supply of %s, or through a converter and say so in input_voltage", nearest)
			if back != "" {
				use = back
			}
			at := c.Head()
			if c.InputVoltage.Set {
				at = c.At(c.InputVoltage.At)
			} else if c.Board.Set {
				at = c.At(c.Board.At)
			}
			p.Report(lint.Finding{
				Subject: c.ID(), At: at, Related: []lint.Related{suppliedBy(o)},
				Value: &lint.Value{Got: volts, Limit: nearest.SI, Unit: "V"},
				Propose: func() [][]lint.Proposal {
					return [][]lint.Proposal{turn, fromAnother(p.Figures, c, o.Supply, takes)}
				},
				Message: fmt.Sprintf("%s: %s gives it %s, and it takes %s, so that %s; %s",
					c.ID(), o.Supply.ID(), quantity.ShowAgainst(quantity.Voltage, volts, nearest.SI), anyOf(made), happens, use),
			})
			break
		}
	}
}

// change is of a supply's voltage to another, V.
type change struct {
	of    *schema.Supply
	volts float64
}

// setBack has a supply give its output again, where its trim alone is wrong: what asks takes its output, and so does all
// else that hangs on it. It says nothing where that is no remedy.
func setBack(plan *schema.Plan, s *schema.Supply, suits func(volts float64) bool, spoilt func(change) string) (says string, offer []lint.Proposal) {
	if !s.Trim.Set || !suits(s.Output.V.SI) || spoilt(change{s, s.Output.V.SI}) != "" {
		return "", nil
	}
	volts := s.Output.V.Exact()
	return fmt.Sprintf("set %s back to %s with nothing joined to it, and write trim = %q", s.ID(), volts, volts),
		[]lint.Proposal{proposal(fmt.Sprintf("Set %s back to %s", plan.Shared(&s.Header, "trim"), volts), schema.SetAttr(&s.Header, "trim", strconv.Quote(volts)))}
}

// butNot names what else hangs on the supply and does not take the other voltage; empty where all does.
func (to change) butNot(plan *schema.Plan, joined *figures.Connectivity) string {
	var ids []string
	takes := ""
	spoilt := func(b schema.Block, id, made string) {
		if slices.ContainsFunc(joined.Plus(b), func(o figures.Output) bool { return o.Supply == to.of }) {
			ids, takes = append(ids, id), made
		}
	}
	for _, c := range plan.Controllers {
		if made := c.Takes(); len(made) > 0 && !c.InputVoltage.Bad && !figures.Takes(made, to.volts) {
			spoilt(c, c.ID(), anyOf(made))
		}
	}
	for _, r := range plan.Runs {
		s := r.Strip.V
		if !r.Strip.Known() || s == nil || !s.Voltage.Known() {
			continue
		}
		if most, ok := figures.MostVolts(s); ok && to.volts > most || s.MinVoltage.Known() && to.volts < s.MinVoltage.V.SI {
			spoilt(r, r.ID(), s.Voltage.V.String())
		}
	}
	switch len(ids) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf(", but not for %s, which takes %s", ids[0], takes)
	}
	return fmt.Sprintf(", but not for %s, which take another", named(ids))
}

// fits reports that a strip works on a voltage.
func fits(s *schema.Strip, volts float64) bool {
	most, ok := figures.MostVolts(s)
	return ok && volts <= most && s.MinVoltage.Known() && volts >= s.MinVoltage.V.SI
}

// sameMake reports that two strips have as many pixels, of the same channels.
func sameMake(a, b *schema.Strip) bool {
	return a.Density.V.SI == b.Density.V.SI && a.Group.V == b.Group.V && len(a.Channels.V) == len(b.Channels.V)
}

// fromAnother proposes to feed a block from another supply of the plan whose voltage suits: the leads that go straight to
// it from the one that does not.
func fromAnother(f *figures.Figures, b interface{ ID() string }, not *schema.Supply, suits func(volts float64) bool) (out []lint.Proposal) {
	var direct []*schema.Lead
	for _, l := range f.Plan.Leads {
		if l.From.Known() && l.To.Known() && l.From.V.Supply == not && touches(l, b.ID()) {
			direct = append(direct, l)
		}
	}
	for _, s := range f.Plan.Supplies {
		if s == not || !s.Output.Known() || s.Trim.Bad || !suits(s.Volts()) || len(direct) == 0 {
			continue
		}
		var edits []lint.Edit
		for _, l := range direct {
			edits = append(edits, schema.SetAttr(&l.Header, "from", s.ID()+".out"))
		}
		out = append(out, proposal("Feed it from "+s.ID(), edits...))
	}
	return out
}

// suppliedBy points at the voltage of the supply that feeds something.
func suppliedBy(o figures.Output) lint.Related {
	s := o.Supply
	at, what := s.Output.At, "its output"
	if s.Trim.Set {
		at, what = s.Trim.At, "its set-point"
	}
	return lint.Related{At: s.At(at), Message: fmt.Sprintf("%s is %s", what, showVolts(s.Volts()))}
}

// dies says what becomes of a part that gets more than it stands.
func dies(volts, most float64) string {
	if volts > 1.5*most {
		return "die at power-up"
	}
	return "die early"
}
