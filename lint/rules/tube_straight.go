package rules

import (
	"cmp"
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var TubeStraight = &lint.Rule{
	Name:  "tube-straight",
	Title: "A straight run lies in a flexible tube",
	Level: lint.Hint,
	Why: `A tube is made to bend. On a straight line it sags and snakes between its clips, and the eye follows each wave; a channel stays straight by itself, carries away more heat, and opens for repair.
Where the same tube bends in another run, or its shape is not drawn, nothing is said: one look for all is worth more. Nor where it gets wet, as a tube is closed and a channel is not.`,
	Formula: "every drawn run of a tube is straight; told of the first that is longer than 1 m",
	Do: `Take a channel that is as wide as the strip: ` + "`ohmstead catalog diffuser`" + ` lists them.
If the tube is meant, hold it in a rail or set its clips close.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return lined("110 cm") },
	Good:    func() string { return lined("90 cm") },
	Check:   checkTubeStraight,
}

// lined is the shelf with its upper run in a tube, drawn straight and so long.
func lined(long string) string {
	return instead(shelf,
		"controller \"brain\"", "diffuser \"tube\" { like = catalog.silicone_tube_top_bend }\n\nsurface \"wall\" {\n  width  = \"1.5 m\"\n  height = \"80 cm\"\n}\n\ncontroller \"brain\"",
		"run \"top\" {\n  strip  = strip.led\n  length = \"1 m\"\n}", "run \"top\" {\n  strip    = strip.led\n  diffuser = diffuser.tube\n  insert   = \"cord\"\n  on       = surface.wall\n  through  = [[\"0 cm\", \"40 cm\"], [\""+long+"\", \"40 cm\"]]\n}")
}

// straightFrom is the length from which a straight run is worth a channel, m
// (common practice, no source).
const straightFrom = 1

func checkTubeStraight(p *lint.Pass) {
	bent := map[*schema.Diffuser]bool{}
	for _, r := range p.Figures.Runs {
		if wet, ok := p.Plan.Exposure(r.Run); r.Path == nil || !math.IsInf(r.Least, 1) || !ok || wet.V != "dry" {
			bent[r.Diffuser.V] = true
		}
	}
	for _, r := range p.Figures.Runs {
		d := r.Diffuser.V
		if !r.OK || d == nil || !r.Diffuser.Known() || d.Kind.V != "tube" || bent[d] || r.Length < straightFrom {
			continue
		}
		bent[d] = true // told once
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Diffuser.At), Value: &lint.Value{Got: r.Length, Limit: straightFrom, Unit: "m"},
			Message: fmt.Sprintf("%s: is %s of straight line in %s, a tube, which snakes between its clips; a channel stays straight by itself%s", r.ID(),
				p.Figures.Habit.Show(quantity.Length, r.Length), d.ID(), fitting(r, "channel")),
		})
	}
}

// fitting names the part of the catalogue that a run's strip fits into, of a
// kind, as it is bent; the narrowest and lightest, as ", such as catalog.NAME".
func fitting(r *figures.Run, kind string) string {
	s := r.Strip.V
	if s == nil || !s.Width.Known() {
		return ""
	}
	var best *schema.Diffuser
	for _, b := range schema.Catalogue().Entries("diffuser") {
		d := b.(*schema.Diffuser)
		if d.Kind.V != kind || !d.InnerWidth.Known() || d.InnerWidth.V.SI < s.Width.V.SI ||
			kind == "tube" && (!d.BendRadius.Known() || d.BendRadius.V.SI > r.Least) {
			continue
		}
		if best == nil || cmp.Or(cmp.Compare(d.InnerWidth.V.SI, best.InnerWidth.V.SI), cmp.Compare(d.Weight.V.SI, best.Weight.V.SI)) < 0 {
			best = d
		}
	}
	if best == nil {
		return ""
	}
	return ", such as catalog." + best.Name
}
