package rules

import (
	"fmt"

	"ohmstead/lint"
)

var ParallelThin = &lint.Rule{
	Name:  "parallel-thin",
	Title: "Parallel conductors lean on each other under one fuse",
	Level: lint.Warning,
	Why: `Conductors side by side share the current only as long as all of them and their joints are sound.
When one comes loose, nobody notices: the others carry all of it, and a fuse that was chosen for all of them together does not open.`,
	Formula: "fuse <= ampacity of the conductors that are left when one is loose",
	Do: `Use one thicker conductor.
Or give each conductor a fuse of its own: several leads with a fuse each, in place of ` + "`parallel`" + `.`,
	Sources: []string{
		"IEC 60364-4-43, clause 433.4 (overload protection of conductors in parallel; from memory)",
		"NFPA 70 (NEC) 310.10(G): mains conductors are paralleled only at 1/0 AWG and above (from memory)",
	},
	Bad: func() string {
		return instead(shelf, lowLead+`  fuse   = "5 A"`, instead(lowLead, "wire.feed", "wire.data")+"  fuse   = \"5 A\"\n\n  parallel = 3")
	},
	Good:  func() string { return shelf },
	Check: checkParallelThin,
}

func checkParallelThin(p *lint.Pass) {
	for _, l := range p.Figures.Leads {
		if !l.OK || !l.Parallel.Known() || l.Parallel.V < 2 || !l.Fuse.Set || l.Fuse.Bad || l.Ampacity <= 0 {
			continue
		}
		left, err := l.LeftOver()
		if err != nil {
			continue
		}
		if l.Device.Protects(l.Fuse.V.SI, left) || p.Figures.LooseConductor(l).Over() {
			continue
		}
		p.Report(lint.Finding{
			Subject: l.ID(), At: l.At(l.Parallel.At),
			Value: &lint.Value{Got: l.Fuse.V.SI, Limit: left, Unit: "A"},
			Message: fmt.Sprintf("%s: if one of its %d conductors comes loose, its %s fuse lets through more than the %s that the rest may carry; use one thicker conductor, or a lead and a fuse for each",
				l.ID(), l.Parallel.V, l.Fuse.V, showAmps(left)),
		})
	}
}
