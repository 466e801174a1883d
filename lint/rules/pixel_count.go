package rules

import (
	"fmt"
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var PixelCount = &lint.Rule{
	Name:  "pixel-count",
	Title: "The counted pixels are not those that the length holds",
	Level: lint.Warning,
	Why: `A run that says how many pixels were counted on the real strip, and how long it is, says the same thing twice.
Where the two differ, one of them is wrong: a tape read badly, a pixel cut off, a strip of another density.
Addresses, orders and currents follow the count; cutting and hanging follow the length.`,
	Formula: "pixels = whole cuts in the length x pixels to a cut, rounded down",
	Do: `Count again, measure again, and write what is true; the fixes offer both.
If the density is not what the reel says, write the measured one in the strip.`,
	Sources: []string{"arithmetic; strips are cut only at their pads"},
	Bad: func() string {
		return instead(shelf, "run \"low\" {\n  strip  = strip.led\n  length = \"1 m\"", "run \"low\" {\n  strip  = strip.led\n  length = \"1 m\"\n  pixels = 58")
	},
	Good: func() string {
		return instead(shelf, "run \"low\" {\n  strip  = strip.led\n  length = \"1 m\"", "run \"low\" {\n  strip  = strip.led\n  length = \"1 m\"\n  pixels = 60")
	},
	Check: checkPixelCount,
}

func checkPixelCount(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		if !r.OK || !r.Run.Pixels.Set || r.Run.Pixels.Bad || !r.Run.Length.Set && !r.Drawn() {
			continue
		}
		got, fits := r.Run.Pixels.V, r.Counted.Pixels
		if got == fits {
			continue
		}
		f := lint.Finding{
			Subject: r.ID(), At: r.At(r.Run.Pixels.At), Value: &lint.Value{Got: float64(got), Limit: float64(fits)},
		}
		shown := p.Figures.Habit.Show(quantity.Length, r.Length)
		if q := r.Run.Length; q.Set {
			shown = q.V.String()
			f.Related = []lint.Related{{At: r.At(q.At), Message: "the length"}}
		}
		f.Message = fmt.Sprintf("%s: %s counted, but its length of %s holds %d; write pixels = %d", r.ID(), count(got, "pixel was", "pixels were"), shown, fits, fits)
		f.Fixes = []lint.Fix{{Grade: schema.GradeFact, Title: "Write pixels = " + strconv.Itoa(fits), Edits: []lint.Edit{schema.SetAttr(&r.Header, "pixels", strconv.Itoa(fits))}}}
		if _, own := r.Node.Assign("length"); own && r.WholeCut(got) {
			length := lengthLike(r.Run.Length.V, r.LengthFor(got))
			f.Message += fmt.Sprintf(" or length = %q", length)
			f.Fixes = append(f.Fixes, lint.Fix{Grade: schema.GradeFact, Title: fmt.Sprintf("Write length = %q", length), Edits: []lint.Edit{schema.SetAttr(&r.Header, "length", strconv.Quote(length))}})
		}
		p.Report(f)
	}
}
