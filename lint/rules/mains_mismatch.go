package rules

import (
	"fmt"
	"math"
	"strconv"

	"ohmstead/lint"
	"ohmstead/schema"
)

var MainsMismatch = &lint.Rule{
	Name:  "mains-mismatch",
	Title: "A supply is not made or not set for the mains of the place",
	Level: lint.Error,
	Guard: true,
	Why: `Some enclosed supplies have a switch for 115 V or 230 V mains.
Set to 115 V on 230 V mains, the supply is destroyed at the first power-up, with a bang and possibly with fire; set to 230 V on 115 V mains it does not start or gives too little.
A supply that is not made for the mains at all is the same mistake.
One that does not say which mains it takes cannot be judged, which is a hint.`,
	Formula: "`selector` within 15 % of `plan.mains`; else one of `input` within 15 % of it. Nominal mains vary by 10 %, and 115 V, 120 V and 127 V, or 220 V, 230 V and 240 V, are one setting.",
	Do: `Set the selector to the mains of the place before the first power-up, with the supply unplugged, and write it down here.
Mains wiring is for a qualified person under the local code.`,
	Sources: []string{"common practice, no source (labels of enclosed supplies)", "IEC 60038, standard voltages: 230 V +-10 % (from memory)"},
	Bad:     func() string { return instead(selected, `selector = "230 V"`, `selector = "115 V"`) },
	Good:    func() string { return selected },
	Check:   checkMainsMismatch,
}

const selected = `plan "porch" {
  mains = "230 V"
}

supply "brick" {
  output   = "12 V"
  rating   = "10 A"
  input    = ["115 V", "230 V"]
  selector = "230 V"
}
`

// sameMains reports whether two mains voltages are one setting.
func sameMains(a, b float64) bool { return math.Abs(a-b) <= 0.15*math.Max(a, b) }

func checkMainsMismatch(p *lint.Pass) {
	if p.Plan.Head == nil || !p.Plan.Head.Mains.Set || p.Plan.Head.Mains.Bad {
		return
	}
	mains := p.Plan.Head.Mains.V
	for _, s := range p.Plan.Supplies {
		related := []lint.Related{{At: p.Plan.Head.Mains.At, Message: "the mains of the place"}}
		takes := s.Input.Known() && s.Input.Set
		var fits *schema.Quantity
		for i, q := range s.Input.V {
			if sameMains(q.SI, mains.SI) {
				fits = &s.Input.V[i]
			}
		}
		switch {
		case s.Selector.Set && !s.Selector.Bad && !sameMains(s.Selector.V.SI, mains.SI):
			f := lint.Finding{Subject: s.ID(), At: s.At(s.Selector.At), Related: related,
				Value:   &lint.Value{Got: s.Selector.V.SI, Limit: mains.SI, Unit: "V"},
				Message: fmt.Sprintf("%s is set for %s mains, but the mains are %s; set its selector before the first power-up, unplugged", s.ID(), s.Selector.V, mains)}
			switch {
			case fits != nil:
				f.Fixes = []lint.Fix{{Grade: schema.GradeFact, Title: "Set selector to " + fits.String(), Edits: []lint.Edit{schema.SetAttr(&s.Header, "selector", strconv.Quote(fits.Exact()))}}}
			case takes:
				f.Message = fmt.Sprintf("%s is set for %s mains and takes no %s; use a supply made for the mains of the place", s.ID(), s.Selector.V, mains)
			}
			p.Report(f)
		case !s.Input.Set && !s.Selector.Set && !s.Selector.Bad && !s.Broken:
			p.Report(lint.Finding{Subject: s.ID(), At: s.Head(), Level: lint.Hint, Related: related,
				Message: fmt.Sprintf("%s does not say which mains it takes; read its label and write input = [\"%s\"], or what stands there", s.ID(), mains)})
		case takes && fits == nil && !s.Input.Bad:
			p.Report(lint.Finding{Subject: s.ID(), At: s.At(s.Input.At), Related: related,
				Value:   &lint.Value{Got: s.Input.V[0].SI, Limit: mains.SI, Unit: "V"},
				Message: fmt.Sprintf("%s takes %s mains, but the mains are %s; use a supply made for them", s.ID(), anyOf(s.Input.V), mains)})
		}
	}
}
