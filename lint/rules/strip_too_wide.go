package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var StripTooWide = &lint.Rule{
	Name:    "strip-too-wide",
	Title:   "A strip is wider than its diffuser is inside",
	Level:   lint.Error,
	Why:     `A strip that is wider than the clear width of its tube or channel does not go in; trimming its edge cuts the copper of its rails.`,
	Do:      `Take a wider diffuser, or a narrower strip; measure yours if the sheet is in doubt, and write width in the strip.`,
	Sources: []string{"common practice, no source: tubes of 10-12 mm take strips of 8-10 mm, of 16-20 mm strips of 10-12 mm"},
	Bad: func() string {
		return instead(tubed(), "{ like = catalog.silicone_tube_side_bend }", "{\n  like        = catalog.silicone_tube_side_bend\n  inner_width = \"8.2 mm\"\n}")
	},
	Good:  tubed,
	Check: checkStripTooWide,
}

func checkStripTooWide(p *lint.Pass) {
	for _, r := range p.Plan.Runs {
		s, d := r.Strip.V, r.Diffuser.V
		if s == nil || d == nil || !r.Strip.Known() || !r.Diffuser.Known() || !s.Width.Known() || !d.InnerWidth.Known() {
			continue
		}
		got, limit := s.Width.V, d.InnerWidth.V
		if got.SI <= limit.SI*(1+1e-9) {
			continue
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.At(r.Diffuser.At), Value: &lint.Value{Got: got.SI, Limit: limit.SI, Unit: "m"},
			Message: fmt.Sprintf("%s: %s is %s wide, more than the %s that %s has inside; take a wider diffuser", r.ID(), s.ID(), got, limit, d.ID()),
			Related: []lint.Related{{At: r.At(r.Strip.At), Message: "the strip"}},
			Propose: func() [][]lint.Proposal {
				return exchange(p.Plan, &r.Header, "diffuser", p.Plan.Diffusers, func(x *schema.Diffuser) bool { return x.Kind.V == d.Kind.V && x.InnerWidth.Known() && holds(x, s) })
			},
		})
	}
}
