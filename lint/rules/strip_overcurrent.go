package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var StripOvercurrent = &lint.Rule{
	Name:   "strip-overcurrent",
	Title:  "The copper of a strip carries more current than it may",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Load,
	Why: `All the current of the pixels behind a feed passes through the thin copper beside it.
Too much of it heats the strip where it is soldered, in a diffuser that keeps the heat in, and the foil lifts, browns or burns.`,
	Formula: `The greatest current in a rail over every pattern that the ceilings allow, against the strip's ` + "`rail_current`" + `.
A strip that says nothing of its copper cannot be judged, neither here nor for its fuses, which is a warning.`,
	Do: `Feed the run at its other end too, or at more places, so that each stretch of copper carries a part.
Make the run shorter, or lower the ceiling.`,
	Sources: []string{
		"the strip's own `rail_current`; for catalogue entries computed from the copper's cross-section, well below IPC-2221 at 20 K",
	},
	Bad: func() string {
		return instead(unheld(), lowRun, lowOf("1.6 m"), lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "10 A"`, `"16 AWG"`, `"14 AWG"`)
	},
	Good: func() string {
		return instead(unheld(), lowRun, lowOf("1.6 m"), `"16 AWG"`, `"14 AWG"`, `lead "board"`, lowAgain+`lead "board"`)
	},
	Check: checkStripOvercurrent,
}

// lowAgain feeds the lower run of the shelf at its end.
const lowAgain = `lead "low-2" {
  from   = supply.brick.out
  to     = run.low.end
  wire   = wire.feed
  length = "2.6 m"
  fuse   = "5 A"
}

`

func checkStripOvercurrent(p *lint.Pass) {
	silent := map[*schema.Strip]bool{}
	for _, r := range p.Figures.Runs {
		if r.OK && !r.Strip.V.RailCurrent.Set && !r.Strip.V.Broken && !silent[r.Strip.V] {
			silent[r.Strip.V] = true
			f := lint.Finding{
				Subject: r.Strip.V.ID(), At: r.Strip.V.Head(), Level: lint.Warning,
				Message: fmt.Sprintf("%s: nothing says how much current its copper may carry, so that neither its load nor its fuses are judged; write rail_current from its sheet, or like a strip of the catalogue",
					r.Strip.V.ID()),
				Related: []lint.Related{{At: r.At(r.Strip.At), Message: "used here"}},
			}
			p.Report(f)
		}
		if !r.OK || !r.Strip.V.RailCurrent.Set || r.Strip.V.RailCurrent.Bad {
			continue
		}
		limit := r.Strip.V.RailCurrent.V.SI
		w, at := p.Figures.WorstRail(r)
		if !w.OK || w.Value <= limit*(1+1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: w.Case,
			Value: &lint.Value{Got: w.Value, Limit: limit, Unit: "A"},
			Message: fmt.Sprintf("%s: up to %s flow in its copper %s %s, above the %s that a rail of %s may carry", r.ID(),
				quantity.ShowAgainst(quantity.Current, w.Value, limit), whereAlong(p.Figures, r, at), inWorst(w), showAmps(limit), r.Strip.V.ID()),
			Related: []lint.Related{{At: r.At(r.Strip.At), Message: fmt.Sprintf("%s has a rail_current of %s", r.Strip.V.ID(), showAmps(limit))}},
		}
		f.Message += "; feed it in more places"
		if lower := lowerCeiling(p.Figures, r.Run); lower != "" {
			f.Message += ", make it shorter, or " + lower
		} else {
			f.Message += " or make it shorter"
		}
		f.Propose = func() [][]lint.Proposal {
			x, ok := feedAgain(p.Figures, r, r.Pixels/2)
			if !ok {
				return nil
			}
			more := x.proposal()
			more.Then = func(after *figures.Figures) string { return railThen(after, r.ID()) }
			return [][]lint.Proposal{{more}}
		}
		p.Report(f)
	}
}

// whereAlong names a place along a run.
func whereAlong(f *figures.Figures, r *figures.Run, at float64) string {
	switch {
	case at <= 1e-6:
		return "at its start"
	case at >= r.Length-1e-6:
		return "at its end"
	}
	return f.Habit.Show(quantity.Length, at) + " from its start"
}

// railThen is the greatest current in a run's copper.
func railThen(f *figures.Figures, id string) string {
	r, ok := f.RunNamed(id)
	if !ok {
		return ""
	}
	w, _ := f.WorstRail(r)
	return showAmps(w.Value)
}
