package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var ConnectionLoose = &lint.Rule{
	Name:   "connection-loose",
	Title:  "One loose connection overloads what is left",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Loose,
	Why: `Screws work loose and solder cracks, and a return that does so is not noticed where another way back is left: the pixels stay lit.
All of the current then takes that other way: the thin minus beside a data line, the power terminal of a board, the copper of a strip, the conductor that is left of two.
No fuse opens, as the current is the usual one and fuses sit in the plus.
The electrician knows the same of a neutral that several circuits share.`,
	Formula: `With each minus loose in turn, the current in every other conductor that is in a ring of returns with it: the greatest over every pattern, ceilings ignored, as a ceiling is software; no more than fuses and supply limits let pass.
With one of ` + "`parallel`" + ` conductors loose, the current in the rest.
Copper is taken cold, and what the warmth of other wires pushes into this one is added, so that no case goes beyond it.
It stays at or below the ampacity, the ` + "`rating`" + ` of the joint that it ends in, and 3 A for the power terminal of a board; a warning, an error above 1.45 times that while the ceilings hold.
The copper of a strip stands more for the time of a fault than its ` + "`rail_current`" + `, which is for good: what warms it by 30 K, by IPC-2221.
What carries too much already while all holds is left to the rules about that.`,
	Do: `Make each way back as thick as what it may have to carry, or lay a second minus beside the main one, so that three hold where one comes loose.
Or give the feed a fuse of no more than the thinnest way back carries.
A minus along a data line ends best where its run's own minus ends.`,
	Sources: []string{
		"IEC 60364-4-43, clauses 431.2 (overcurrent in the neutral conductor), 433.1 (1.45 times) and 433.4 (conductors in parallel; all from memory)",
		"NFPA 70 (NEC) 300.13(B): a shared neutral is spliced so that no device that is taken out interrupts it (from memory)",
		"the copper of a strip: IPC-2221, section 6.2 (from memory); 30 K: common practice, no source",
		"common practice, no source: for returns of extra-low voltage no code asks for it",
	},
	Bad:   func() string { return instead(shelf, lowRun, lowOf("60 cm"), leadBoard, leadBoard+groundOf("24 AWG")) },
	Good:  func() string { return instead(shelf, lowRun, lowOf("60 cm"), leadBoard, leadBoard+groundOf("22 AWG")) },
	Check: checkConnectionLoose,
}

// groundOf is a minus along the data from the board of the shelf to its lower
// run.
func groundOf(gauge string) string {
	return `wire "ground" { gauge = "` + gauge + `" }

lead "ground" {
  from    = controller.brain.power
  to      = run.low.start
  wire    = wire.ground
  length  = "60 cm"
  carries = "minus"
}

`
}

func checkConnectionLoose(p *lint.Pass) {
	faults := p.Figures.Faults()
	level := func(x figures.Loosened) lint.Level {
		if x.Held > 1.45*x.Limit && x.Board == nil {
			return lint.Error
		}
		return lint.Warning
	}
	much := func(x figures.Loosened) string {
		amps := "up to " + quantity.ShowAgainst(quantity.Current, x.Amps, x.Limit)
		if x.Held < x.Amps*(1-1e-6) {
			amps += fmt.Sprintf(" (%s while the ceilings hold)", showAmps(x.Held))
		}
		return amps
	}
	for _, l := range p.Figures.Leads {
		if x := p.Figures.LooseConductor(l); x.Over() {
			p.Report(lint.Finding{
				Subject: l.ID(), At: l.At(l.Parallel.At), Case: schema.Full, Level: level(x),
				Value: &lint.Value{Got: x.Amps, Limit: x.Limit, Unit: "A"},
				Message: fmt.Sprintf("%s: if one of its %d conductors comes loose, %s flow through the rest, above the %s that they may carry; use one thicker conductor, or a lead and a fuse for each",
					l.ID(), l.Parallel.V, much(x), showAmps(x.Limit)),
				Propose: func() [][]lint.Proposal {
					return [][]lint.Proposal{thickerAndFused(p.Figures, l, l.Fuse.Set)}
				},
			})
		}
		x := p.Figures.LooseReturn(l)
		if !x.Over() {
			continue
		}
		if _, over := overcurrent(p.Figures, l); over || exposed(faults.Lead(l)) {
			continue
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.Head(), Case: schema.Full, Level: level(x),
			Value:   &lint.Value{Got: x.Amps, Limit: x.Limit, Unit: "A"},
			Related: []lint.Related{{At: x.Gone.Head(), Message: "with its minus loose"}},
		}
		limit := showAmps(x.Limit)
		loose := fmt.Sprintf("%s: if the minus of %s comes loose, %s return through it", l.ID(), x.Gone.ID(), much(x))
		switch {
		case x.Joint != nil:
			f.Message = fmt.Sprintf("%s and %s, above the %s that this is rated for; use a joint for it that is rated for all of it", loose, x.Joint.ID(), limit)
		case x.Board != nil:
			f.Message = fmt.Sprintf("%s and the power terminal of %s, above the %s of a usual contact; end it before the board", loose, x.Board.ID(), limit)
		default:
			f.Message = fmt.Sprintf("%s, above the %s that its %s may carry; use a thicker wire, or lay a second minus beside that of %s", loose, limit, conductors(l), x.Gone.ID())
			f.Propose = func() [][]lint.Proposal {
				return [][]lint.Proposal{thickerAndFused(p.Figures, l, l.Fuse.Set)}
			}
		}
		p.Report(f)
	}
	for _, r := range p.Figures.Runs {
		x := p.Figures.LooseRail(r)
		if !x.Over() {
			continue
		}
		if w, _ := p.Figures.WorstRail(r); w.OK && w.Value > x.Limit*(1+1e-9) {
			continue
		}
		if _, bare := bareRail(faults, r); bare {
			continue
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: schema.Full, Level: level(x),
			Value:   &lint.Value{Got: x.Amps, Limit: x.Limit, Unit: "A"},
			Related: []lint.Related{{At: x.Gone.Head(), Message: "with its minus loose"}},
			Message: fmt.Sprintf("%s: if the minus of %s comes loose, %s return through its copper %s, above the %s that warm a rail of %s by %g K; lay a second minus beside that of %s, or feed it through smaller fuses",
				r.ID(), x.Gone.ID(), much(x), whereAlong(p.Figures, r, x.At), showAmps(x.Limit), r.Strip.V.ID(), figures.LooseFoil, x.Gone.ID()),
		})
	}
}
