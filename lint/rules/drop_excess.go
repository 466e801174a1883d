package rules

import (
	"cmp"
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var DropExcess = &lint.Rule{
	Name:  "drop-excess",
	Title: "More voltage is lost on the way than the policy allows",
	Level: lint.Warning,
	Why: `A pixel may work at the voltage that it gets and still be so far below its supply that little is left for a warm day, a worn contact or one more run.
How much may be lost is a matter of judgement, so the policy's ` + "`drop`" + ` says it: a share of the strip's nominal voltage, 10 % when nothing is said.
What is shown for long counts, so the case held and the plan's own cases are judged.`,
	Formula: "lost = set-point of the supply - least voltage of a pixel; allowed = `drop` x nominal voltage of the strip",
	Do: `Feed the run at its other end too, or in the middle.
Use a thicker wire for the lead that loses the most.
Where the loss does not matter, raise ` + "`drop`" + ` in the policy.`,
	Sources: []string{
		"common practice, no source: 10 %",
		"for comparison: NFPA 70 (NEC) 210.19 and 215.2, informational notes, 3 % in a branch and 5 % in all, for mains wiring",
	},
	Bad: func() string {
		return instead(shelf, lowRun, lowOf("1.6 m"), `"4 A"`, `"3.7 A"`, `order "shelf"`, lowWhite+`order "shelf"`)
	},
	Good: func() string {
		return instead(shelf, lowRun, lowOf("90 cm"), `"4 A"`, `"3.7 A"`, `order "shelf"`, lowWhite+`order "shelf"`)
	},
	Follows: []string{"supply-voltage-mismatch"},
	Check:   checkDropExcess,
}

const lowWhite = `case "reading" {
  color = "#ffffff"
  runs  = [run.low]
}

`

func checkDropExcess(p *lint.Pass) {
	joined := p.Figures.Connectivity()
	share := p.Plan.Limits().Drop
	type lost struct {
		run          *figures.Run
		c            *figures.Case
		volts, limit float64
		pixel        int
	}
	var all []lost
	for i, r := range p.Figures.Runs {
		if _, low := tooLow(p.Figures, joined, r); low || !r.OK {
			continue // that is voltage-low
		}
		var worst *lost
		from := joined.Plus(r)
		for _, c := range p.Figures.Cases {
			if c.Name == schema.Full {
				continue
			}
			volts, limit, ok := p.Figures.Loss(c, r, from, share)
			if ok && volts > limit*(1+1e-9) && (worst == nil || volts > worst.volts) && c.Runs[i].MinVolts >= need(r) {
				worst = &lost{run: r, c: c, volts: volts, limit: limit, pixel: c.Runs[i].MinPixel}
			}
		}
		if worst != nil {
			all = append(all, *worst)
		}
	}
	slices.SortStableFunc(all, func(a, b lost) int { return cmp.Compare(a.limit/a.volts, b.limit/b.volts) })
	for _, x := range all {
		r := x.run
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: x.c.Name,
			Value: &lint.Value{Got: x.volts, Limit: x.limit, Unit: "V"},
			Message: fmt.Sprintf("%s: %s are lost on the way to pixel %d %s, more than %s (drop of the policy, %s of %s)", r.ID(),
				quantity.ShowAgainst(quantity.Voltage, x.volts, x.limit), x.pixel, inCase(x.c.Name), showVolts(x.limit),
				quantity.Show(quantity.Share, share), showVolts(r.Volts)),
		}
		f.Message += "; feed it in more places or use thicker wire, or allow more in the policy"
		f.Propose = func() [][]lint.Proposal {
			return voltRemedies(p.Figures, r, x.pixel, func(f *figures.Figures, r *figures.Run) float64 {
				c, _ := f.Case(x.c.Name)
				return c.Runs[slices.Index(f.Runs, r)].MinVolts
			})
		}
		p.Report(f)
	}
}
