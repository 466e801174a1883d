package rules

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var FixingLetsGo = &lint.Rule{
	Name:  "fixing-lets-go",
	Title: "A fixing does not hold in its place",
	Level: lint.Warning,
	Why: `An adhesive that comes off again is made for rooms: in frost it turns hard and springs off, in a warm night or beside a warm channel it creeps.
A magnet that gets warmer than its grade stands loses its pull for good, and on wood, plaster, stone, glass, plastics and aluminium it has none.
What hangs on it comes down at some time when nobody stands below, or does.`,
	Formula: "`coldest` of the place against `holds_down_to`; `ambient` + 20 K x power / `heat_limit` of the diffuser against `holds_up_to`; a magnet against the `material` of its surface",
	Do: `Take clips, screws or ties, or an adhesive or magnet that is made for it.
What a part holds between stands on its sheet: write holds_down_to and holds_up_to in the fixing.`,
	Sources: []string{"the part's own sheet", "what a magnet holds on: common knowledge, no source", "20 K at the heat limit: common practice, no source"},
	Bad:     func() string { return stuck("50 degC") },
	Good:    func() string { return stuck("35 degC") },
	Check:   checkFixingLetsGo,
}

// stuck is the shelf where it gets that warm, with its upper run stuck on.
func stuck(ambient string) string {
	return instead(shelf, "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  ambient = \""+ambient+"\"\n",
		"controller \"brain\"", "fixing \"strip\" { like = catalog.removable_strip }\n\ncontroller \"brain\"",
		"run \"top\" {\n  strip  = strip.led\n", "run \"top\" {\n  strip  = strip.led\n  fixing = fixing.strip\n")
}

func checkFixingLetsGo(p *lint.Pass) {
	for _, r := range p.Figures.Runs {
		x := r.Fixing.V
		if x == nil || !r.Fixing.Known() {
			continue
		}
		report := func(limit schema.Value[schema.Quantity], got float64, say string) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Fixing.At), Value: &lint.Value{Got: got, Limit: limit.V.SI, Unit: "degC"},
				Message: fmt.Sprintf("%s: %s; use clips or screws, or one made for that", r.ID(), say),
				Related: []lint.Related{{At: x.At(limit.At), Message: "what it holds at"}},
				Propose: func() [][]lint.Proposal { return fasten(p.Plan, r.Run) },
			})
		}
		if s := r.On.V; x.Kind.V == "magnet" && s != nil && r.On.Known() && s.Material.Known() && unmagnetic(s.Material.V) {
			p.Report(lint.Finding{
				Subject: r.ID(), At: r.At(r.Fixing.At),
				Message: fmt.Sprintf("%s: %s is a magnet, and %s is of %s, which draws none; use clips or screws, or put a steel strip behind it", r.ID(), x.ID(), s.ID(), s.Material.V),
				Related: []lint.Related{{At: s.At(s.Material.At), Message: "what the surface is made of"}},
				Propose: func() [][]lint.Proposal { return fasten(p.Plan, r.Run) },
			})
		}
		if cold, ok := p.Plan.Coldest(r.On); ok && x.HoldsDownTo.Known() && cold.V.SI < x.HoldsDownTo.V.SI-1e-9 {
			report(x.HoldsDownTo, cold.V.SI, fmt.Sprintf("%s holds at %s and above, and it gets as cold as %s", x.ID(), p.Figures.Habit.Quantity(x.HoldsDownTo.V), p.Figures.Habit.Quantity(cold.V)))
		}
		if hot := p.Figures.Hottest(r); x.HoldsUpTo.Known() && hot > x.HoldsUpTo.V.SI+1e-9 {
			say := fmt.Sprintf("%s holds up to %s, and it gets as warm as %s", x.ID(), p.Figures.Habit.Quantity(x.HoldsUpTo.V), p.Figures.Habit.Show(quantity.Temperature, hot))
			if hot > p.Plan.Ambient()+1e-9 {
				say += " beside its light"
			}
			report(x.HoldsUpTo, hot, say)
		}
	}
}

// unmagnetic reports whether what a plan says of a material names one that no
// magnet holds on, and nothing that one does.
func unmagnetic(material string) bool {
	words := strings.FieldsFunc(strings.ToLower(material), func(r rune) bool { return (r < 'a' || r > 'z') && r < 128 })
	has := func(any ...string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
	}
	return !has("steel", "iron", "metal", "magnetic") && has("wood", "oak", "pine", "beech", "plywood", "mdf", "chipboard", "plaster", "plasterboard", "drywall",
		"brick", "brickwork", "concrete", "stone", "render", "glass", "acrylic", "pvc", "plastic", "aluminium", "aluminum")
}
