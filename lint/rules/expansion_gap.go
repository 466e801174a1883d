package rules

import (
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var ExpansionGap = &lint.Rule{
	Name:  "expansion-gap",
	Title: "A diffuser grows by more than a saw cut",
	Level: lint.Warning,
	Why: `Over 40 K a channel of 2 m grows by almost 2 mm and its plastic cover by more than 5: without room the cover buckles or springs out, and fixed at both ends it tears at its screws.
A silicone tube grows ten times as much as aluminium, but gives way: it shortens in the cold and pulls at its caps and clips.
One finding for each kind of diffuser, at the run where it grows most: a hint, or a warning where screws or glue hold fast what grows by 10 mm and more.`,
	Formula: "expansion coefficient x the lesser of `piece` and the run x (`ambient` + 20 K x power / `heat_limit` - `coldest`), reported from 1 mm on; 1/K: aluminium 23.6e-6, silicone 270e-6, polycarbonate 65e-6, acrylic 70e-6, PVC 65e-6",
	Do: `Fix one point of each piece and let the rest slide; leave the gap between pieces, more in the cold and less in the heat.
Cut a cover shorter than its channel by the difference.
Give leads to the ends of a tube a loop of slack.`,
	NoFix: "It grows whatever the plan says: the gap is left, and the piece let slide, when it is hung.",
	Sources: []string{
		"Callister and Rethwisch, table B.6 (aluminium, silicone); three expansion tables (polycarbonate, acrylic); PVC from memory",
		"1 mm, what a saw cut leaves, 10 mm, what screws and glue do not follow, and 20 K at the heat limit: common practice, no source",
	},
	Bad:   func() string { return stretched("-20 degC") },
	Good:  func() string { return stretched("-10 degC") },
	Check: checkExpansionGap,
}

// stretched is the warm shelf in a channel with a cover.
func stretched(coldest string) string {
	return instead(warm(), "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  coldest = \""+coldest+"\"\n",
		"  heat_limit = \"12 W/m\"\n", "  heat_limit = \"100 W/m\"\n  material   = \"aluminium\"\n  cover      = \"aluminium\"\n")
}

func checkExpansionGap(p *lint.Pass) {
	type worst struct {
		run *figures.Run
		figures.Growth
		most float64
	}
	kinds := map[*schema.Diffuser]*worst{}
	var order []*worst
	for _, r := range p.Figures.Runs {
		g, ok := p.Figures.Growth(r)
		most := math.Max(g.Body, g.Cover)
		if !ok || most < leastGrowth {
			continue
		}
		w := kinds[r.Diffuser.V]
		if w == nil {
			w = new(worst)
			kinds[r.Diffuser.V], order = w, append(order, w)
		}
		if most > w.most {
			*w = worst{r, g, most}
		}
	}
	for _, w := range order {
		d := w.run.Diffuser.V
		grows := fmt.Sprintf("%s: %s of %s grows by %s from %s to %s", w.run.ID(), p.Figures.Habit.Show(quantity.Length, w.Piece), d.ID(),
			millimetres(p.Figures, w.Body), p.Figures.Habit.Show(quantity.Temperature, w.Cold), p.Figures.Habit.Show(quantity.Temperature, w.Hot))
		switch more := w.Cover - w.Body; {
		case more >= leastGrowth:
			grows += fmt.Sprintf(", and its cover by %s; leave %s between pieces, and cut the cover %s shorter", millimetres(p.Figures, w.Cover), millimetres(p.Figures, w.Body), millimetres(p.Figures, more))
		case d.Kind.V == "tube":
			grows += fmt.Sprintf("; leave %s at its free end, with clips that let it slide and slack in its leads", millimetres(p.Figures, w.Body))
		default:
			grows += fmt.Sprintf("; leave %s between pieces, and fix each at one point only", millimetres(p.Figures, w.Body))
		}
		f := lint.Finding{Subject: w.run.ID(), At: w.run.At(w.run.Diffuser.At), Message: grows, Value: &lint.Value{Got: w.most, Limit: leastGrowth, Unit: "m"}}
		if x := w.run.Fixing.V; x != nil && w.run.Fixing.Known() && slices.Contains([]string{"screw", "adhesive"}, x.Kind.V) && w.most >= tearing {
			f.Level, f.Value.Limit = lint.Warning, tearing
			f.Message += fmt.Sprintf("; %s holds it fast", x.ID())
			f.Related = []lint.Related{{At: w.run.At(w.run.Fixing.At), Message: "screwed or glued"}}
		} else {
			f.Level = lint.Hint
		}
		p.Report(f)
	}
}

// leastGrowth is what a cut leaves open anyway, m (common practice, no source).
const leastGrowth = 1e-3

// tearing is the growth that screws and glue do not follow, m (common practice, no
// source).
const tearing = 1e-2

// millimetres writes a gap, rounded up to a tenth.
func millimetres(f *figures.Figures, m float64) string {
	return f.Habit.Show(quantity.Length, upTo(m, 1e-4))
}
