package rules

import (
	"fmt"
	"slices"
	"strconv"

	"ohmstead/lint"
	"ohmstead/schema"
)

var MarkingConfusing = &lint.Rule{
	Name:  "marking-confusing",
	Title: "A core's colour says something else to others",
	Level: lint.Warning,
	Why: `Whoever repairs the installation reads the colours of its cores before the plan.
Two cores of one colour cannot be told apart, and red or brown for minus is read as plus: warnings.
Green or yellow for power is read as protective earth, and white for minus is the grounded mains conductor in 120 V countries: hints.`,
	Do: `Red for plus and white (or black) for minus agree with IEC 60445 or with old practice; blue was minus in older European plans.
Green is usual for data on strips; it must never be joined to earth.`,
	Sources: []string{
		"IEC 60445:2017, 6.2.3 to 6.2.5 and 6.3: DC positive red, negative white; green-and-yellow for protective earth only",
		"IEC 60757:2021, letters; strip pigtails red, white or black, green: common practice, no source",
		"NFPA 70, 200.6: white or grey for the grounded conductor, from memory",
	},
	Bad:   func() string { return shelf + "\nmarking {\n  plus  = \"RD\"\n  minus = \"RD\"\n}\n" },
	Good:  func() string { return shelf + "\nmarking {\n  plus  = \"RD\"\n  minus = \"BK\"\n  data  = \"GN\"\n}\n" },
	Check: checkMarkingConfusing,
}

// usualMarks are colours that nobody takes for those of another core, the commonest first.
var usualMarks = map[string][]string{"plus": {"RD", "BN"}, "minus": {"BK", "WH"}, "data": {"BU", "VT"}}

func checkMarkingConfusing(p *lint.Pass) {
	m := p.Plan.Marking
	if m == nil {
		return
	}
	type core struct {
		name string
		schema.Value[string]
	}
	cores := []core{{"plus", m.Plus}, {"minus", m.Minus}, {"data", m.Data}}
	report := func(c core, level lint.Level, format string, args ...any) {
		f := lint.Finding{Subject: m.ID(), At: m.At(c.At), Level: level, Message: fmt.Sprintf("marking: %s is %s, ", c.name, c.V) + fmt.Sprintf(format, args...)}
		for _, colour := range usualMarks[c.name] {
			if !slices.ContainsFunc(cores, func(o core) bool { return o.V == colour }) {
				f.Fixes = append(f.Fixes, lint.Fix{Title: fmt.Sprintf("Write %s = %q", c.name, colour), Edits: []lint.Edit{schema.SetAttr(&m.Header, c.name, strconv.Quote(colour))}})
			}
		}
		p.Report(f)
	}
	for i, c := range cores {
		if !c.Set || c.Bad || c.V == "none" {
			continue
		}
		same := false
		for _, o := range cores[:i] {
			if o.Set && !o.Bad && o.V == c.V {
				report(c, lint.Warning, "as %s is; give each core a colour of its own", o.name)
				same = true
				break
			}
		}
		if same {
			continue
		}
		switch {
		case c.name == "minus" && (c.V == "RD" || c.V == "BN"):
			report(c, lint.Warning, "which is read as plus; write minus = \"BK\" or \"WH\"")
		case c.name != "data" && (c.V == "GN" || c.V == "YE"):
			report(c, lint.Hint, "which is read as protective earth, whose colours they are; keep green and yellow away from power")
		case c.name == "minus" && c.V == "WH" && usMains(p.Plan):
			report(c, lint.Hint, "which is the grounded mains conductor at %s; keep it apart from mains wiring, or write \"BK\"", p.Plan.Head.Mains.V)
		}
	}
}

// usMains reports whether the mains is that of the countries where white is
// the grounded conductor.
func usMains(p *schema.Plan) bool {
	return p.Head != nil && p.Head.Mains.Set && !p.Head.Mains.Bad && p.Head.Mains.V.SI < 140
}
