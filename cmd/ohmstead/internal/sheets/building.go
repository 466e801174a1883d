package sheets

import (
	"slices"

	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema"
)

// building is what to do in which order, and what the words of these sheets mean.
func (m *maker) building() []Block {
	out := []Block{Text(say("building.lead"))}
	n := 0
	step := func(key string, cautions ...string) {
		n++
		out = append(out, Step{Number: n, Head: say("building." + key), Text: say("building." + key + ".how"), Cautions: cautions})
	}
	step("buy")
	placed := slices.ContainsFunc(m.Figures.Runs, func(r *figures.Run) bool { return r.Path != nil })
	if placed {
		step("mark", say("template.caution"))
	}
	if runs := m.unheld(); len(runs) > 0 {
		n++
		out = append(out, Step{Number: n, Head: say("building.hold"), Text: say("building.hold.unknown", "runs", every(runs))})
	} else {
		step("hold")
	}
	step("strip")
	step("wire")
	step("join")
	step("devices")
	step("measure")
	out = append(out, Heading(say("glossary")))
	var words []Fact
	for _, key := range []string{"strip", "run", "feed", "lead", "signal", "joint", "pixel", "port", "order", "ceiling", "full", "held", "any", "worst", "conductor"} {
		words = append(words, Fact{say("glossary." + key), say("glossary." + key + ".is")})
	}
	if len(m.plan.Universes) > 0 {
		words = append(words, Fact{say("glossary.universe"), say("glossary.universe.is")})
	}
	return append(out, Facts{Lines: words, Fine: true})
}

// unheld are the runs of which the plan does not say what holds them.
func (m *maker) unheld() []string {
	var out []string
	for _, r := range m.plan.Runs {
		if !r.Fixing.Set {
			out = append(out, r.Name)
		}
	}
	return lists.Spans(out)
}

// title is a block's name, behind what it is where another kind of block has the same name.
func (m *maker) title(b schema.Block) string {
	if m.alike == nil {
		m.alike = map[string]bool{}
		types := map[string]*schema.BlockType{}
		for _, x := range m.plan.Blocks {
			switch h := schema.HeaderOf(x); h.Type.Name {
			case "supply", "controller", "joint":
				m.alike[h.Name] = m.alike[h.Name] || types[h.Name] != nil && types[h.Name] != h.Type
				types[h.Name] = h.Type
			}
		}
	}
	switch h := schema.HeaderOf(b); {
	case m.alike[h.Name]:
		return say("block.titled", "kind", say("part."+h.Type.Name), "name", h.Name)
	}
	return name(b)
}
