package rules

import (
	"fmt"
	"math"

	"ohmstead/lint"
	"ohmstead/lint/figures"
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
		thin, thick, ok := figures.Gauges(j)
		if !ok {
			continue
		}
		for _, l := range p.Figures.Ends(j) {
			w := l.Wire.V
			if w == nil || !w.Gauge.Known() {
				continue
			}
			got := w.Gauge.V
			if figures.Clamps(j, got.SI) {
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
				Related: []lint.Related{{At: j.At(j.Gauges.At), Message: "the sizes that the joint takes: " + thin.String() + " to " + thick.String()}},
				Propose: func() [][]lint.Proposal {
					return exchange(p.Plan, &l.Header, "wire", p.Plan.Wires, func(w *schema.Wire) bool {
						return w.Gauge.Known() && figures.Clamps(j, w.Gauge.V.SI)
					}, func(w *schema.Wire) float64 { return math.Abs(math.Log(w.Gauge.V.SI / got.SI)) })
				},
			})
		}
	}
}
