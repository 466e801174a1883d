package rules

import (
	"fmt"

	"ohmstead/calc/logic"
	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/schema"
)

var DataLeadLong = &lint.Rule{
	Name:  "data-lead-long",
	Title: "A data line is longer than the chip's maker allows",
	Level: lint.Warning,
	Why: `A data line without an added circuit reflects its own edges and picks up noise; the longer it is, the more pixels read wrong bits and flicker.
Chip makers give 5 m between two chips, or to the first one (10 m for WS2811); a metre or two is usually no problem.
Beyond two metres a line without a series resistor is a hint.`,
	Formula: "the signal's length, else that of the lead whose cable it shares, else the distance of its places plus the policy's slack",
	Do: `Move the controller nearer, or let a run on the way pass the data on.
Else use a differential pair (RS-485 class drivers at both ends), or one sacrificial pixel near the controller that repeats the data.
A resistor of 300 to 500 ohm at the sending end damps a line of a few metres: write resistor on the signal, or series_resistor on the controller.`,
	Sources: []string{
		"WS2812B and WS2815 datasheets, Worldsemi: 5 m between two points without an added circuit; WS2811 datasheet: 10 m",
		"a component seller's best-practice guide for addressable LEDs: a metre or two; 300 to 500 ohm in the data line",
		"differential pair, sacrificial pixel: common practice, no source",
	},
	Bad:   func() string { return instead(shelf, `"40 cm"`, `"7.5 m"`) },
	Good:  func() string { return shelf },
	Check: checkDataLeadLong,
}

func checkDataLeadLong(p *lint.Pass) {
	for _, s := range p.Plan.Signals {
		if !s.To.Known() || s.To.V.Run == nil || !s.From.Known() {
			continue
		}
		r := s.To.V.Run
		length, estimated, ok := p.Figures.SignalLength(s)
		if !ok || !r.Strip.Known() || length <= logic.Easy {
			continue
		}
		about := ""
		if estimated {
			about = "about "
		}
		at := s.Head()
		switch {
		case s.Length.Set:
			at = s.At(s.Length.At)
		case s.Within.Set:
			at = s.At(s.Within.At)
		}
		longest := logic.LongestLine(r.Strip.V.Chip.V)
		c := s.From.V.Controller
		damped := s.Resistor.Set || c != nil && c.SeriesResistor.Set
		f := lint.Finding{Subject: s.ID(), At: at, Value: &lint.Value{Got: length, Limit: longest, Unit: "m"}}
		switch {
		case length > longest:
			f.Message = fmt.Sprintf("%s: the data line to %s is %s%s long, beyond the %s that its chip's maker allows without an added circuit; use a differential pair or a sacrificial pixel on the way",
				s.ID(), r.ID(), about, p.Figures.Habit.ShowAgainst(quantity.Length, length, longest), p.Figures.Habit.Show(quantity.Length, longest))
		case length > logic.Easy && !damped && c != nil:
			f.Level = lint.Hint
			f.Value.Limit = logic.Easy
			f.Message = fmt.Sprintf("%s: the data line to %s is %s%s long, beyond the %s that usually need no care; put 330 ohm in series at the controller",
				s.ID(), r.ID(), about, p.Figures.Habit.ShowAgainst(quantity.Length, length, logic.Easy), p.Figures.Habit.Show(quantity.Length, logic.Easy))
			f.Fixes = []lint.Fix{{Title: `Write resistor = "330 ohm"`, Edits: []lint.Edit{schema.SetAttr(&s.Header, "resistor", `"330 ohm"`)}}}
		default:
			continue
		}
		p.Report(f)
	}
}
