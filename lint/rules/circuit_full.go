package rules

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/lint"
)

var CircuitFull = &lint.Rule{
	Name:  "circuit-full",
	Title: "The supplies together are much for their mains circuit",
	Level: lint.Hint,
	Why: `Each supply may be right for itself and all of them too much for the breaker that they share: in the long run, or for the moment in which they are switched on, when their empty capacitors take many times the current.
Only what the plan states is added up; other things on the same circuit are not in it. What a circuit may carry is for a qualified person to say, under the local code.`,
	Formula: "Input current of a supply at its full rating = volts x `rating` x `outputs` / (`efficiency` x `mains` x `power_factor`), where 60 % counts for a power factor that is not given; the sum against `circuit`. The sum of `inrush` against 3 times `circuit`, below which no breaker of type B opens at once. Silent without `circuit` or `mains`",
	Do:      `Leave it to a licensed electrician: another circuit, a breaker of another type, supplies that limit their inrush or are switched on one after the other.`,
	Sources: []string{
		"IEC 60898-1: type B opens at once between 3 and 5 times its rating (from memory)",
		"common practice, no source: power factor 0.5 to 0.65 of supplies without correction",
	},
	Bad:   func() string { return onCircuit("0.9 A") },
	Good:  func() string { return onCircuit("1 A") },
	Check: checkCircuitFull,
}

// onCircuit is the shelf on a circuit: its supply takes at most 5 x 10 x 2 / (0.85 x 230 x 0.55) A.
func onCircuit(amps string) string {
	return instead(shelf, "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  circuit = \""+amps+"\"\n",
		"  input  = [\"230 V\"]\n", "  input  = [\"230 V\"]\n\n  outputs      = 2\n  power_factor = \"55 %\"\n")
}

func checkCircuitFull(p *lint.Pass) {
	head := p.Plan.Head
	if head == nil || !head.Circuit.Set || head.Circuit.Bad || !head.Mains.Set || head.Mains.Bad {
		return
	}
	amps, peak := 0.0, 0.0
	for _, s := range p.Plan.Supplies {
		if !s.Output.Known() || s.Trim.Bad || !s.Rating.Known() || !s.Outputs.Known() || !s.Efficiency.Known() || s.PowerFactor.Bad || s.Inrush.Bad {
			return
		}
		factor := supply.PowerFactor
		if s.PowerFactor.Set {
			factor = s.PowerFactor.V.SI
		}
		amps += supply.InputAmps(s.Volts()*s.Rating.V.SI*float64(s.Outputs.V), s.Efficiency.V.SI, head.Mains.V.SI, factor)
		peak += s.Inrush.V.SI
	}
	circuit := head.Circuit.V
	const leave = "leave it to a qualified person to divide them among circuits"
	report := func(got, limit float64, message string) {
		p.Report(lint.Finding{Subject: head.ID(), At: head.At(head.Circuit.At), Value: &lint.Value{Got: got, Limit: limit, Unit: "A"}, Message: message})
	}
	if amps > circuit.SI*(1+1e-9) {
		report(amps, circuit.SI, fmt.Sprintf("the supplies take up to %s of %s mains at their full rating, above the %s of the circuit; %s",
			quantity.ShowAgainst(quantity.Current, amps, circuit.SI), head.Mains.V, circuit, leave))
	}
	if most := supply.Instant * circuit.SI; peak > most*(1+1e-9) {
		report(peak, most, fmt.Sprintf("switched on together, the supplies take %s for a moment, above the %s at which a usual breaker of %s may open at once; %s",
			quantity.ShowAgainst(quantity.Current, peak, most), showAmps(most), circuit, leave))
	}
}
