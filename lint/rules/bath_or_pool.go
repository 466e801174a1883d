package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var BathOrPool = &lint.Rule{
	Name:  "bath-or-pool",
	Title: "Something stands in the reach of a bath or pool",
	Level: lint.Error,
	Guard: true,
	Why: `Around baths, showers and pools the code draws zones: in the inner one even extra-low voltage is held to 30 V direct current and less, the supply stands outside the zones, and what lies there has to be made for it.
A supply in such a place is an error; that anything is there at all is told once as a warning.`,
	Do: `Leave it to a licensed electrician who knows the zones, and keep the supply outside of them.
Once that is settled, a comment may say who settled it.`,
	Sources: []string{
		"IEC 60364-7-701 (baths and showers) and 60364-7-702 (pools): zones; 30 V direct current in zone 0, source outside (from memory)",
		"NFPA 70 (NEC) 411.5: 3.05 m (10 ft) from the edge of a pool unless article 680 allows less, as restated",
	},
	Bad:   instead(outdoors("IP67"), `exposure = "wet"`, `exposure = "bath"`),
	Good:  outdoors("IP67"),
	Check: checkBathOrPool,
}

func checkBathOrPool(p *lint.Pass) {
	reported := map[*schema.Header]bool{}
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
		if reported[x.Of] {
			return
		}
		reported[x.Of] = true
		p.Report(lint.Finding{
			Subject: x.Header.ID(), At: x.Inherited.At, Level: lint.Warning,
			Message: fmt.Sprintf("%s lies in the reach of a bath or pool, where the zones of the code decide what may be there and at what voltage; leave it to a licensed electrician", x.Header.ID()),
		})
	})
}
