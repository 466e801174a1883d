package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

var VoltageLow = &lint.Rule{
	Name:  "voltage-low",
	Title: "A pixel gets less voltage than its colours need",
	Level: lint.Warning,
	Check: checkVoltageLow,
}

func checkVoltageLow(p *lint.Pass) {
	for i, r := range p.Figures.Runs {
		any := p.Figures.Any.Runs[i]
		if !any.OK || !r.Strip.V.MinVoltage.Known() {
			continue
		}
		need := r.Strip.V.MinVoltage.V.SI
		if any.MinVolts >= need {
			continue
		}
		p.Report(lint.Finding{
			Subject: r.ID(), At: r.Head(), Case: "any",
			Value:   &lint.Value{Got: any.MinVolts, Limit: need, Unit: "V"},
			Message: fmt.Sprintf("%s: pixel %d gets %s", r.ID(), any.MinPixel, quantity.ShowAgainst(quantity.Voltage, any.MinVolts, need)),
		})
	}
}
