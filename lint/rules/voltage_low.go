package rules

import (
	"cmp"
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
)

var VoltageLow = &lint.Rule{
	Name:  "voltage-low",
	Title: "A pixel gets less voltage than its colours need",
	Level: lint.Warning,
	Why: `Lead and strip lose voltage on the way to the pixels.
Below its least voltage a pixel cannot hold the current of every colour: blue and green fade first, white turns yellow and then red, and at last the chip drops data.
A ceiling bounds the sum of the currents, not their place: an effect that lights only the far half of a run may put the whole ceiling through one lead.
So the voltage is judged over every pattern that the ceilings allow.`,
	Formula: `The network of leads and rails is solved with every channel at 100 % (case full).
Under a ceiling the bound over every pattern counts: each pixel is a current sink between idle and full, and the budget is spent where it costs the most volts (case any).
Where pixels are starved the bound errs to the safe side.
A level under a ceiling is an average: the chips dim by switching, and while one is on it draws its full current. Each has a clock of its own, so that their instants scatter about the average (at half level by an eighth of the drop over 60 pixels, by less over more) and the colours, averages themselves, are those of the mean. Only all chips on at once lose what case full loses, which ` + "`show`" + ` prints; the pattern of case any has its pixels fully on.
Copper has the temperature that it reaches: a lead warms up over the ambient with the square of its current (by 30 K at the table's ampacity), for the bound with the greatest one; the strip's rails by their own current (IPC-2221) and by up to 20 K with the light in a diffuser that states its ` + "`heat_limit`" + `.`,
	Do: `Feed the run at its other end too, or in the middle.
Use a thicker wire for the lead that loses the most.
Shorten the run, lower the ceiling, or choose a strip of a higher voltage.`,
	Sources: []string{
		"chip datasheets of the strips (the source of each catalogue entry), least supply voltage and forward voltages",
		"Kirchhoff's laws and Ohm's law; nodal analysis of the two-conductor network",
		"copper 0.00393/K (NBS Handbook 100); temperature of a loaded conductor: IEC 60364-5-52, from memory; IPC-2221 section 6.2, from memory",
	},
	Bad:     func() string { return instead(shelf, lowLead, instead(lowLead, "1 m", "9 m")) },
	Good:    func() string { return instead(shelf, lowLead, instead(lowLead, "1 m", "2 m")) },
	Follows: []string{"supply-voltage-mismatch"},
	Check:   checkVoltageLow,
}

func checkVoltageLow(p *lint.Pass) {
	joined := p.Figures.Connectivity()
	type low struct {
		run *figures.Run
		w   figures.Worst
	}
	var all []low
	for _, r := range p.Figures.Runs {
		if w, isLow := tooLow(p.Figures, joined, r); isLow {
			all = append(all, low{r, w})
		}
	}
	slices.SortStableFunc(all, func(a, b low) int { return cmp.Compare(a.w.Value/need(a.run), b.w.Value/need(b.run)) })
	for _, x := range all {
		r, need := x.run, need(x.run)
		f := lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: x.w.Case,
			Value: &lint.Value{Got: x.w.Value, Limit: need, Unit: "V"},
			Message: fmt.Sprintf("%s: pixel %d gets %s %s, below the %s that its colours need", r.ID(), x.w.Pixel,
				quantity.ShowAgainst(quantity.Voltage, x.w.Value, need), inWorst(x.w), showVolts(need)),
		}
		for _, path := range p.Figures.Feeds(r) {
			f.Related = append(f.Related, lint.Related{At: path[0].Head(), Message: fmt.Sprintf("feeds it, and loses %s in case full", showVolts(p.Figures.Drop(path[0])))})
		}
		f.Message += "; feed it in more places, use thicker wire, or make it shorter"
		f.Propose = func() [][]lint.Proposal {
			return voltRemedies(p.Figures, r, x.w.Pixel, func(f *figures.Figures, r *figures.Run) float64 { return f.WorstVolts(r, need).Value })
		}
		p.Report(f)
	}
}

// need is the least voltage that a run's colours need, V.
func need(r *figures.Run) float64 { return r.Strip.V.MinVoltage.V.SI }

// tooLow judges a run's least voltage. A supply that is below it to begin with
// is the business of supply-voltage-mismatch.
func tooLow(f *figures.Figures, joined *figures.Connectivity, r *figures.Run) (figures.Worst, bool) {
	if !r.OK || !r.Strip.V.MinVoltage.Known() {
		return figures.Worst{}, false
	}
	w := f.WorstVolts(r, need(r))
	if !w.OK || w.Value >= need(r) {
		return w, false
	}
	for _, o := range joined.Plus(r) {
		if o.Supply.Output.Known() && o.Supply.Volts() >= need(r) {
			return w, true
		}
	}
	return w, false
}
