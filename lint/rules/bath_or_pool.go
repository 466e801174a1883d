package rules

import (
	"fmt"
	"slices"

	"ohmstead/calc/ingress"
	"ohmstead/lint"
	"ohmstead/schema"
)

var BathOrPool = &lint.Rule{
	Name:  "bath-or-pool",
	Title: "Something stands in the reach of a bath or pool",
	Level: lint.Error,
	Guard: true,
	Why: `Around baths, showers and pools the code draws zones: in the inner one even extra-low voltage is held to 30 V direct current and less, the supply stands outside the zones, and what lies there has to be made for it.
A supply in such a place is an error; that anything else is there is reported once for each place: as a warning, or as a hint where all of it is runs that stand being under water (IPX7).
What is above 30 V there, shock-voltage reports.`,
	Do: `Leave it to a licensed electrician who knows the zones, and keep the supply outside of them.
Once that is done, a comment may say who did it.`,
	NoFix: "What may be there, and where the supply goes, is for a licensed electrician to decide.",
	Sources: []string{
		"IEC 60364-7-701 (baths and showers) and 60364-7-702 (pools): zones; 30 V direct current in zone 0, source outside (from memory)",
		"NFPA 70 (NEC) 411.5: 3.05 m (10 ft) from the edge of a pool unless article 680 allows less, as restated",
	},
	Bad:   func() string { return instead(outdoors("IP67"), `exposure = "wet"`, `exposure = "bath"`) },
	Good:  func() string { return outdoors("IP67") },
	Check: checkBathOrPool,
}

func checkBathOrPool(p *lint.Pass) {
	type place struct {
		first standing
		bare  bool // something in it is not a run that stands being under water
	}
	places := map[*schema.Header]*place{}
	var order []*place
	eachStanding(p.Plan, func(x standing) {
		if x.V != "bath" {
			return
		}
		if s, ok := x.Block.(*schema.Supply); ok {
			p.Report(lint.Finding{
				Subject: s.ID(), At: s.Head(), Related: x.saidAt(),
				Message: fmt.Sprintf("%s stands in the reach of a bath or pool, where no supply belongs; have a licensed electrician put it outside the zones, and write exposure for where it stands", s.ID()),
			})
			return
		}
		_, run := x.Block.(*schema.Run)
		bare := !run || !slices.ContainsFunc(x.classes(), func(c schema.Value[string]) bool {
			keeps, _ := ingress.Keeps(c.V, immersed)
			return keeps && !c.Bad
		})
		switch in := places[x.Of]; {
		case in == nil:
			places[x.Of] = &place{x, bare}
			order = append(order, places[x.Of])
		case bare && !in.bare:
			*in = place{x, true}
		}
	})
	for _, in := range order {
		f := lint.Finding{
			Subject: in.first.Header.ID(), At: in.first.Inherited.At, Level: lint.Hint,
			Message: fmt.Sprintf("%s lies in the reach of a bath or pool, where the zones of the code decide what may be there and at what voltage; leave it to a licensed electrician", in.first.Header.ID()),
		}
		if in.bare {
			f.Level = lint.Warning
		}
		p.Report(f)
	}
}

// immersed is the second numeral of what stands being under water for a while,
// IEC 60529.
const immersed = 7
