package rules

import (
	"context"
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/locating"
)

var ReadingDiffers = &lint.Rule{
	Name:  "reading-differs",
	Title: "A meter reading is not what was worked out",
	Level: lint.Error,
	Why: `A reading that differs says that the wall is not what the plan says, or that a value in the plan is wrong.
Less voltage than worked out means more resistance or more current on the way: a bad joint, a thinner wire, a strip with thinner copper; what one joint takes is heat in it.
More means less current than assumed: many strips draw less than their sheet says.
All readings of a network together say which single causes fit, each with its size, and whether one stands out, more likely than all others together; where it is more likely than not a connection that gives off 1 W or more, it is an error, as it may scorch what it sits in.
What may differ is what the meter leaves open, and what a plan that is right leaves open, each carried through the network: 1 % of the supply's voltage where its ` + "`trim`" + ` is not written, 10 % of the copper of strips and of the current of their light, 30 % of that of their chips, 5 % of a lead's length (20 % where it is estimated) and 4 mohm in its connections.
Read the supply and the joints too, in the same case: then each place is reckoned from those before it, and less is left open.`,
	Formula: "`|reading - computed|` against `accuracy x reading + digits x last digit written` and the root of the sum of squares of what each uncertain value of the plan moves it, in the reading's case.",
	Do: `Measure again at the pads themselves and compare places from the supply on: where the first difference lies, the cause lies.
Then mend the wall, or write the measured value (` + "`channel_current`, `rail`, `trim`, `length`" + `) into the plan.`,
	NoFix:   "A reading is of the wall as it is: what is wrong there is found with the meter, not in the text. `ohmstead locate` says where to look.",
	Sources: []string{"JCGM 100:2008, 5.1.2", "how far values vary: common practice, no source", "sheets of handheld meters (from memory)"},
	Bad:     func() string { return read("4.20 V") },
	Good:    func() string { return read("4.60 V") },
	Follows: []string{"supply-voltage-mismatch"},
	Long:    true,
	Check:   checkReadingDiffers,
}

// read is the shelf with a reading at the end of the lower run.
func read(volts string) string {
	return shelf + `
reading "low end" {
  at    = run.low.end
  volts = "` + volts + `"
  taken = "2026-05-01"
}
`
}

func checkReadingDiffers(p *lint.Pass) {
	readings := p.Figures.Differing()
	first := likeliest(p.Figures, readings)
	for _, r := range readings {
		if r.Want == 0 || r.Tolerance.Bad {
			continue
		}
		got, dim, unit := r.Read(), quantity.Voltage, "V"
		switch r.Probes.Reads {
		case figures.Amps:
			dim, unit = quantity.Current, "A"
		case figures.Ohms:
			dim, unit = quantity.Resistance, "ohm"
		}
		off := math.Abs(r.Got - r.Want)
		f := lint.Finding{
			Subject: r.ID(), At: r.At(got.At), Case: r.Case.Name,
			Value: &lint.Value{Got: r.Got, Limit: r.Want, Unit: unit},
		}
		if r.From != nil {
			f.Related = []lint.Related{{At: r.From.At(r.From.Volts.At), Message: "read nearer to the supply"}}
		}
		side := "below"
		if r.Got > r.Want {
			side = "above"
		}
		when := ""
		if r.Taken.Known() {
			when = " on " + r.Taken.V
		}
		about := fmt.Sprintf("%s read at %s%s is %s %s the %s worked out for case %s", got.V, r.Place.V, when, quantity.Show(dim, off), side, quantity.ShowAgainst(dim, r.Want, r.Got), r.Case.Name)
		if r.Tolerance.Set && off <= r.Tolerance.V.SI*math.Abs(r.Want) {
			f.Level = lint.Hint
			f.Message = fmt.Sprintf("%s, within the tolerance of %s but more than the %s that the meter and the plan leave open; remove tolerance, unless you know why it differs", about, r.Tolerance.V, quantity.Show(dim, r.Leave))
			p.Report(f)
			continue
		}
		cause, burns := first[r.On].text, first[r.On].burns
		if cause == "" {
			cause = "compare places from the supply on: ohmstead locate says what may be wrong"
		}
		if f.Level = lint.Warning; burns {
			f.Level = lint.Error
		}
		f.Message = fmt.Sprintf("%s, where the meter and the plan leave %s open; %s", about, quantity.Show(dim, r.Leave), cause)
		p.Report(f)
	}
}

// located is what is told of an island.
type located struct {
	text  string
	burns bool
}

// likeliest is what the readings point to, by island, where any differs and it is soon worked out.
func likeliest(f *figures.Figures, differing []figures.Reading) map[*figures.Island]located {
	out := map[*figures.Island]located{}
	if f.Tried || len(differing) == 0 || !locating.Quick(f) {
		return out
	}
	found, err := locating.Find(context.Background(), f, true)
	if err != nil {
		return out
	}
	for i := range found {
		text, burns := found[i].Brief()
		out[found[i].Readings[0].On] = located{text, burns}
	}
	return out
}
