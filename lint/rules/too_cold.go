package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var TooCold = &lint.Rule{
	Name:  "too-cold",
	Title: "A part does not stand the cold of its place",
	Level: lint.Warning,
	Why: `A supply that is colder than its sheet allows may not start: its capacitors are stiff, and it tries in vain while the load waits.
Ordinary PVC turns brittle: bent, pulled in or moved in the cold, its insulation cracks. Fixed and left alone it stands much more, so for wires, tubes and adhesives this is a hint to work on a warmer day.
That copper resists less in the cold needs no warning: the voltage that pixels stand is judged as if nothing were lost on the way.`,
	Formula: "`coldest` of the place against the part's `min_temperature`",
	Do: `Put the supply where it is warmer, or take one that starts in the cold.
Lay wires and tubes on a warmer day, and fix them so that nothing moves them. Where they are moved in the cold, take silicone.`,
	NoFix: "Where it is warmer, and which supply starts in the cold, is not in the plan.",
	Sources: []string{
		"the part's own sheet; a 300/500 V PVC control cable's: moved from -15 degC, fixed from -40 degC",
		"EN 50565-1: ordinary PVC cords not bent below 5 degC (from memory)",
	},
	Bad:   func() string { return chilled("-25 degC") },
	Good:  func() string { return chilled("-15 degC") },
	Check: checkTooCold,
}

// chilled is the shelf as cold as that, with a supply that starts at -20 degC.
func chilled(coldest string) string {
	return instead(shelf, "  rate  = \"40 Hz\"\n", "  rate  = \"40 Hz\"\n\n  coldest = \""+coldest+"\"\n",
		"  input  = [\"230 V\"]\n", "  input  = [\"230 V\"]\n\n  min_temperature = \"-20 degC\"\n")
}

func checkTooCold(p *lint.Pass) {
	reported := map[schema.Block]bool{}
	judge := func(part schema.Block, stands schema.Value[schema.Quantity], by *schema.Header, at schema.Value[*schema.Surface], say func(lint.Finding, schema.Inherited[schema.Quantity])) {
		if !stands.Known() || reported[part] {
			return
		}
		cold, ok := p.Plan.Coldest(at)
		if !ok || cold.V.SI >= stands.V.SI-1e-9 {
			return
		}
		reported[part] = true
		say(lint.Finding{Subject: by.ID(), At: by.Head(), Value: &lint.Value{Got: cold.V.SI, Limit: stands.V.SI, Unit: "degC"},
			Related: []lint.Related{{At: cold.At, Message: "the coldest air"}}}, cold)
	}
	for _, s := range p.Plan.Supplies {
		judge(s, s.MinTemperature, &s.Header, s.On, func(f lint.Finding, cold schema.Inherited[schema.Quantity]) {
			f.At = s.At(s.MinTemperature.At)
			f.Message = fmt.Sprintf("%s starts at %s or above, and its place gets as cold as %s; put it where it is warmer, or take one that starts there", s.ID(), p.Figures.Habit.Quantity(s.MinTemperature.V), p.Figures.Habit.Quantity(cold.V))
			p.Report(f)
		})
	}
	var nowhere schema.Value[*schema.Surface]
	lay := func(part *schema.Header, b schema.Block, stands schema.Value[schema.Quantity], by *schema.Header, on schema.Value[*schema.Surface], not, do string) {
		judge(b, stands, by, on, func(f lint.Finding, cold schema.Inherited[schema.Quantity]) {
			f.Level = lint.Hint
			f.Message = fmt.Sprintf("%s: %s is not to be %s below %s, and it gets as cold as %s; %s", by.ID(), part.ID(), not, p.Figures.Habit.Quantity(stands.V), p.Figures.Habit.Quantity(cold.V), do)
			p.Report(f)
		})
	}
	wire := func(w schema.Value[*schema.Wire], by *schema.Header) {
		if w.Known() {
			lay(&w.V.Header, w.V, w.V.MinTemperature, by, nowhere, "bent or moved", "lay it on a warmer day, and fix it so that nothing moves it")
		}
	}
	for _, l := range p.Plan.Leads {
		wire(l.Wire, &l.Header)
	}
	for _, s := range p.Plan.Signals {
		wire(s.Wire, &s.Header)
	}
	for _, r := range p.Plan.Runs {
		if d := r.Diffuser.V; d != nil && r.Diffuser.Known() {
			lay(&d.Header, d, d.MinTemperature, &r.Header, r.On, "bent", "bend it on a warmer day")
		}
		if x := r.Fixing.V; x != nil && r.Fixing.Known() {
			lay(&x.Header, x, x.MinTemperature, &r.Header, r.On, "applied", "apply it on a warmer day, and give it a day")
		}
	}
}
