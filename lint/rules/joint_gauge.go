package rules

import (
	"fmt"
	"math"

	"ohmstead/lint"
	"ohmstead/schema"
)

var JointGauge = &lint.Rule{
	Name:  "joint-gauge",
	Title: "A conductor is too thin or too thick for its joint",
	Level: lint.Warning,
	Why: `A spring or screw holds conductors of a range of sizes.
Thinner ones slip out, thicker ones are not gripped on all their strands.`,
	Formula: "Cross-section of the lead's wire against the joint's `gauges`, smallest and largest.",
	Do: `Use a joint made for the size, or a wire of a size that it takes.
Put a ferrule on fine strands only where the joint's maker allows it.`,
	Sources: []string{"makers' data; common practice, no source"},
	Bad: func() string {
		return instead(hub("lever_joint_3"), "wire   = catalog.awg_14", "wire   = catalog.awg_10")
	},
	Good:  func() string { return hub("lever_joint_3") },
	Check: checkJointGauge,
}

func checkJointGauge(p *lint.Pass) {
	for _, j := range p.Plan.Joints {
		if !j.Gauges.Set || j.Gauges.Bad || len(j.Gauges.V) != 2 {
			continue
		}
		thin, thick := j.Gauges.V[0], j.Gauges.V[1]
		if thin.SI > thick.SI {
			thin, thick = thick, thin
		}
		for _, l := range p.Figures.Ends(j) {
			w := l.Wire.V
			if w == nil || !w.Gauge.Known() {
				continue
			}
			got := w.Gauge.V
			if got.SI >= thin.SI*0.999 && got.SI <= thick.SI*1.001 {
				continue
			}
			size, limit := "thinner than", thin
			if got.SI > thick.SI {
				size, limit = "thicker than", thick
			}
			p.Report(lint.Finding{
				Subject: l.ID(), At: l.At(l.Wire.At),
				Value:   &lint.Value{Got: got.SI, Limit: limit.SI, Unit: "m2"},
				Message: fmt.Sprintf("%s: its %s is %s the %s that %s takes; use a joint made for it, or another wire", l.ID(), got, size, limit, j.ID()),
				Related: []lint.Related{{At: j.At(j.Gauges.At), Message: "the sizes that the joint takes: " + quantitiesTo([]schema.Quantity{thin, thick})}},
				Propose: func() [][]lint.Proposal {
					return exchange(&l.Header, l.ID(), "wire", p.Plan.Wires, func(w *schema.Wire) bool {
						return w.Gauge.Known() && w.Gauge.V.SI >= thin.SI*0.999 && w.Gauge.V.SI <= thick.SI*1.001
					}, func(w *schema.Wire) float64 { return math.Abs(math.Log(w.Gauge.V.SI / got.SI)) })
				},
			})
		}
	}
}

func quantitiesTo(qs []schema.Quantity) string { return qs[0].String() + " to " + qs[1].String() }
