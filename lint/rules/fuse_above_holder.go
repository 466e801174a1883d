package rules

import (
	"fmt"

	"ohmstead/lint"
)

var FuseAboveHolder = &lint.Rule{
	Name:  "fuse-above-holder",
	Title: "A fuse is larger than its holder takes",
	Level: lint.Error,
	Guard: true,
	Why: `The contacts and tails of a holder are part of the circuit that its fuse protects.
A larger fuse fits the same clips, and then the holder is what gets hot: most burnt fuses of strip installations are burnt holders.`,
	Formula: "`fuse` of the lead against `rating` of its holder",
	Do:      `Use a holder that is rated for the fuse, or a smaller fuse on more leads.`,
	Sources: []string{"IEC 60364-4-43, clause 433.1 (the device protects everything in the circuit behind it; from memory)"},
	Bad: func() string {
		return instead(blocked(), "  ways = 2\n", "  ways   = 2\n  rating = \"4 A\"\n", "  like = catalog.blade_block_4", "  like   = catalog.blade_block_4", lowLead+"  holder = holder.block\n", lowLead)
	},
	Good:  blocked,
	Check: checkFuseAboveHolder,
}

func checkFuseAboveHolder(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		h := l.Holder.V
		if !l.Fused() || l.Holder.Bad || h == nil || !h.Rating.Set || h.Rating.Bad || l.Fuse.V.SI <= h.Rating.V.SI*(1+1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Value: &lint.Value{Got: l.Fuse.V.SI, Limit: h.Rating.V.SI, Unit: "A"},
			Message: fmt.Sprintf("%s: its fuse of %s is larger than the %s that %s takes; use a holder rated for it, or a smaller fuse", l.ID(), l.Fuse.V, h.Rating.V, h.ID()),
			Related: []lint.Related{{At: l.At(l.Holder.At), Message: "it sits there"}},
		}
		if l.OK {
			f.Propose = refit(p.Figures, l)
		}
		p.Report(f)
	}
}
