package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

var ReadingDiffers = &lint.Rule{
	Name:  "reading-differs",
	Title: "A meter reading is not what was worked out",
	Level: lint.Warning,
	Why: `A reading that differs says that the wall is not what the plan says, or that a value in the plan is wrong.
Less voltage than worked out means more resistance or more current on the way: a bad joint, a thinner wire, a strip with thinner copper.
More means less current than assumed: many strips draw less than their sheet says.`,
	Formula: "`|reading - computed| / computed` against the reading's `tolerance`, in the reading's case.",
	Do: `Measure again at the pads themselves and compare places from the supply on: where the first difference lies, the cause lies.
Then mend the wall, or write the measured value (` + "`channel_current`, `rail`, `trim`, `length`" + `) into the plan.`,
	Sources: []string{"common practice, no source"},
	Bad:     read("4.2 V"),
	Good:    read("4.65 V"),
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
	for _, r := range p.Plan.Readings {
		if r.Broken || !r.Tolerance.Known() {
			continue
		}
		want, c, ok := p.Figures.Expected(r)
		if !ok || want == 0 {
			continue
		}
		got, dim, unit := r.Volts, quantity.Voltage, "V"
		if r.Amps.Set {
			got, dim, unit = r.Amps, quantity.Current, "A"
		}
		off := math.Abs(got.V.SI-want) / math.Abs(want)
		if off <= r.Tolerance.V.SI {
			continue
		}
		cause := "look for more resistance or current on the way than the plan says"
		switch {
		case dim == quantity.Voltage && got.V.SI > want:
			cause = "the current is less than the plan says, or the supply is set higher"
		case dim == quantity.Current && got.V.SI > want:
			cause = "more is lit, or the pixels draw more than the plan says"
		case dim == quantity.Current:
			cause = "less is lit, or the pixels draw less than the plan says"
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(got.At), Case: c.Name,
			Value: &lint.Value{Got: got.V.SI, Limit: want, Unit: unit},
			Message: fmt.Sprintf("%s read at %s is %.2g %% off the %s worked out for case %s, beyond the tolerance of %s; %s",
				got.V, r.Place.V, off*100, quantity.Show(dim, want), c.Name, r.Tolerance.V, cause),
		})
	}
}
