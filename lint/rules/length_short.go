package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var LengthShort = &lint.Rule{
	Name:  "length-short",
	Title: "A lead or signal does not reach from place to place",
	Level: lint.Error,
	Why: `A wire cannot be shorter than the straight line between its two ends, so one of three numbers is wrong: the length, or one of the places.
Where it is the length, the voltage behind it was worked out for too little copper.`,
	Formula: "written `length` against the straight distance between both places, where they lie on one surface",
	Do: `Measure along the way that the wire takes, and write that.
Or correct the place of one end.`,
	Sources: []string{"arithmetic: no way is shorter than the straight one"},
	Bad:     func() string { return instead(reaching(), `length = "40 cm"`, `length = "25 cm"`) },
	Good:    reaching,
	Check:   checkLengthShort,
}

// reaching is the drawn shelf with its supply on the wall, 30 cm below the
// start of the lower run.
func reaching() string {
	return instead(drawn(),
		"  rating = \"10 A\"\n  input  = [\"230 V\"]\n", "  rating = \"10 A\"\n  input  = [\"230 V\"]\n  on     = surface.wall\n  at     = [\"10 cm\", \"0 cm\"]\n",
		"  to     = run.low.start\n  wire   = wire.feed\n  length = \"1 m\"", "  to     = run.low.start\n  wire   = wire.feed\n  length = \"40 cm\"")
}

func checkLengthShort(p *lint.Pass) {
	for _, l := range p.Plan.Leads {
		reportShort(p, &l.Header, l.Length, l.From, l.To)
	}
	for _, s := range p.Plan.Signals {
		reportShort(p, &s.Header, s.Length, s.From, s.To)
	}
}

func reportShort(p *lint.Pass, h *schema.Header, length schema.Value[schema.Quantity], from, to schema.Value[*schema.Point]) {
	if !length.Set || length.Bad {
		return
	}
	apart, ok := p.Figures.Apart(from, to)
	if !ok || length.V.SI >= apart*(1-1e-9) {
		return
	}
	f := lint.Finding{
		Subject: h.ID(), At: h.At(length.At), Value: &lint.Value{Got: length.V.SI, Limit: apart, Unit: "m"},
		Message: fmt.Sprintf("%s is %s long, and its two ends lie %s apart; measure it along its way, or correct the place of one end",
			h.ID(), length.V, lengthLike(length.V, apart)),
	}
	if a, own := h.Node.Assign("length"); own {
		f.Fixes = []lint.Fix{{Title: "Remove length, so that it is estimated from its places", Grade: schema.GradeFact,
			Edits: []lint.Edit{{At: schema.WholeLines(a.Whole), New: ""}}}}
	}
	p.Report(f)
}
