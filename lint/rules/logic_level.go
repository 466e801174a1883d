package rules

import (
	"fmt"

	"ohmstead/calc/logic"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var LogicLevel = &lint.Rule{
	Name:  "logic-level",
	Title: "The controller's data ones are too low for the pixels",
	Level: lint.Warning,
	Why: `A pixel takes a level on its data line for a one when it reaches a share of the pixel's own supply, usually 0.7 of it: 3.5 V at 5 V.
A 3.3 V controller never gets there.
A controller that says neither its board nor its logic level cannot be judged, which is a hint.
It often works on the bench all the same, and then flickers with a warmer room, a longer line or another batch of strip.`,
	Formula: "need = logic_voltage, else logic_high x the greatest voltage that the first pixel sees: that of the supply, when little is lit; in each case, if that is more, the same for the voltage that the run has there, plus how far its minus at the data input lies above the controller's",
	Do: `Fit a level shifter beside the controller and write its output level as buffer = "5 V".
Take one with TTL inputs (74AHCT or 74HCT), which reads 2.0 V as a one; a plain AHC or HC gate at 5 V wants 3.5 V itself.
A supply trimmed lower, or a first pixel fed through a diode, lowers the need as well.`,
	Sources: []string{
		"WS2812B datasheet, Worldsemi, electrical characteristics: VIH 0.7 VDD",
		"RP2040 Datasheet, Raspberry Pi Ltd, IO characteristics: VOH at least 2.62 V at 3.3 V; ESP32 datasheet: 0.8 VDD, from memory",
		"SN74AHCT125 and SN74AHC125 datasheets, Texas Instruments, recommended operating conditions (the AHCT limits from memory)",
	},
	Bad:     func() string { return instead(shelf, "  buffer  = \"5 V\"\n", "") },
	Good:    func() string { return shelf },
	Follows: []string{"supply-voltage-mismatch"},
	Check:   checkLogicLevel,
}

func checkLogicLevel(p *lint.Pass) {
	for _, c := range p.Figures.Controllers {
		out, buffered := 0.0, c.Buffer.Set
		if buffered {
			out = c.Buffer.V.SI
		} else {
			out, _ = c.LogicVolts()
		}
		if !c.Board.Set && !c.Logic.Set && !c.Broken && len(c.Busy()) > 0 {
			p.Report(lint.Finding{Subject: c.ID(), At: c.Head(), Level: lint.Hint,
				Message: fmt.Sprintf("%s: names no board, so that its pins and levels are not judged; write board = …, such as catalog.esp32_devkit, or logic = \"3.3 V\"", c.ID())})
		}
		if out == 0 || c.Buffer.Bad || c.Logic.Bad {
			continue
		}
		// The first run on the port with the greatest need speaks for all.
		var first *figures.Run
		need, shift, worst := 0.0, 0.0, ""
		for _, port := range c.Busy() {
			r := port.Runs[0]
			if n, ok := logicNeed(r, p.Figures.LiveVolts(r)); ok && n > need {
				first, need, shift, worst = r, n, 0, ""
			}
			for _, k := range p.Figures.Cases {
				d, volts, ok := p.Figures.DataShift(k, c, r)
				if n, known := logicNeed(r, volts); ok && known && volts > 0 && d > 0 && n+d > need*(1+1e-9) {
					first, need, shift, worst = r, n+d, d, k.Name
				}
			}
		}
		if first == nil {
			continue
		}
		if out >= need && (buffered || out >= 4 || logic.Sure(out) >= need) {
			continue
		}
		f := lint.Finding{
			Subject: c.ID(), At: c.Head(), Value: &lint.Value{Got: out, Limit: need, Unit: "V"},
			Related: []lint.Related{{At: first.At(first.Strip.At), Message: "the strip that needs it"}},
		}
		what := "its outputs give"
		if buffered {
			f.At = c.At(c.Buffer.At)
			what = "its buffer gives"
		}
		live := p.Figures.LiveVolts(first)
		reads := fmt.Sprintf("the %s that %s reads as a one%s", showVolts(need), first.ID(), shareOf(first, live))
		if worst != "" {
			f.Case = worst
			reads = fmt.Sprintf("the %s that %s needs for a one in case %s, %s of it because the minus of the run lies that much above the controller's", showVolts(need), first.ID(), worst, showVolts(shift))
		}
		if out < need {
			f.Message = fmt.Sprintf("%s: %s %s, below %s", c.ID(), what, quantity.ShowAgainst(quantity.Voltage, out, need), reads)
		} else {
			f.Level = lint.Hint
			f.Value.Got = logic.Sure(out)
			f.Message = fmt.Sprintf("%s: its outputs reach %s unloaded but are sure of only %s, below %s", c.ID(), showVolts(out), showVolts(logic.Sure(out)), reads)
		}
		if need <= 5 {
			f.Message += "; fit a level shifter with TTL inputs (74AHCT or 74HCT) and write buffer = \"5 V\""
			f.Fixes = []lint.Fix{{Title: "Write buffer = \"5 V\"", Edits: []lint.Edit{schema.SetAttr(&c.Header, "buffer", `"5 V"`)}}}
		} else {
			f.Message += "; fit a level shifter that reaches it"
		}
		p.Report(f)
	}
}

// logicNeed is the least level of a data one, V: in volts where the strip says
// so, else its share of what the first pixel sees.
func logicNeed(r *figures.Run, live float64) (float64, bool) {
	s := r.Strip.V
	switch {
	case s == nil || !r.OK || s.LogicVoltage.Bad || s.LogicHigh.Bad:
		return 0, false
	case s.LogicVoltage.Set:
		return s.LogicVoltage.V.SI, true
	case s.LogicHigh.Set && live > 0:
		return logic.High(s.LogicHigh.V.SI, live), true
	case s.LogicHigh.Set:
		return logic.High(s.LogicHigh.V.SI, s.Voltage.V.SI), true
	}
	return 0, false
}

// shareOf says where a need that hangs on the supply comes from.
func shareOf(r *figures.Run, live float64) string {
	s := r.Strip.V
	if s.LogicVoltage.Set {
		return ""
	}
	if live == 0 {
		live = s.Voltage.V.SI
	}
	return fmt.Sprintf(" (%s of %s)", s.LogicHigh.V, showVolts(live))
}
