package ide

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// speaks picks the copy that speaks for all: the run or joint with the least
// voltage, the lead with the greatest current, else the first one. why says
// what it was picked for.
func (v *View) speaks(copies []schema.Block, caseName string) (b schema.Block, why string) {
	b = copies[0]
	if len(copies) == 1 || v.Figures == nil {
		return b, ""
	}
	c := v.loadCase(caseName)
	worst := math.Inf(1)
	for _, x := range copies {
		switch x := x.(type) {
		case *schema.Run:
			if f, ok := v.runCase(x, c); ok && f.MinVolts < worst {
				b, worst, why = x, f.MinVolts, "the lowest voltage of them"
			}
		case *schema.Joint:
			if f, ok := v.jointCase(x, c); ok && f.Volts < worst {
				b, worst, why = x, f.Volts, "the lowest voltage of them"
			}
		case *schema.Lead:
			if f, ok := v.leadCase(x, c); ok && -math.Abs(f.Amps) < worst {
				b, worst, why = x, -math.Abs(f.Amps), "the greatest current of them"
			}
		}
	}
	return b, why
}

// brief says the most telling figures of a block in one line: for an outline,
// a lens, a list.
func (v *View) brief(b schema.Block, caseName string) string {
	if v.Figures == nil || b == nil {
		return ""
	}
	if before, was, ok := v.judgedBefore(b); ok {
		if text := before.brief(was, caseName); text != "" {
			return old + text
		}
		return ""
	}
	c := v.loadCase(caseName)
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	switch b := b.(type) {
	case *schema.Run:
		f, ok := v.Figures.Run(b)
		if !ok || !f.OK {
			return ""
		}
		add("%s", quantity.Count(f.Pixels, "pixel"))
		add("%s", v.metres(f.Length))
		if x, ok := v.runCase(b, c); ok {
			add("least %s in %s", volts(x.MinVolts), c.Name)
		}
	case *schema.Lead:
		if x, ok := v.leadCase(b, c); ok {
			add("%s", amps(x.Amps))
			add("loses %s in %s", volts(x.Drop), c.Name)
		}
	case *schema.Supply:
		if x, ok := v.supplyCase(b, c); ok {
			add("%s", amps(x.Amps))
			add("%s in %s", ofRating(x.Load), c.Name)
		}
	case *schema.Joint:
		if x, ok := v.jointCase(b, c); ok {
			add("%s in %s", volts(x.Volts), c.Name)
		}
	case *schema.Controller:
		f, ok := v.Figures.Controller(b)
		if !ok {
			return ""
		}
		pixels := 0
		for _, p := range f.Ports {
			pixels += p.Pixels
		}
		if pixels > 0 {
			add("%s", quantity.Count(pixels, "pixel"))
			if x, ok := v.controllerCase(b, c); ok {
				add("counts %s in %s", amps(x.Estimate), c.Name)
			}
		}
	case *schema.Order:
		for _, f := range v.Figures.Orders {
			if f.Order == b && f.OK {
				add("%s", quantity.Count(f.Pixels, "pixel"))
			}
		}
	case *schema.Universes:
		for _, f := range v.Figures.Universes {
			if f.Universes == b && f.OK && len(f.Spans) > 0 {
				add("%s", universeRange(f))
			}
		}
	}
	return strings.Join(parts, ", ")
}

// briefOf is brief for a block with its copies.
func (v *View) briefOf(copies []schema.Block, caseName string) string {
	if len(copies) == 0 {
		return ""
	}
	b, _ := v.speaks(copies, caseName)
	text := v.brief(b, caseName)
	if len(copies) > 1 && text != "" {
		return fmt.Sprintf("%d times %s (%s)", len(copies), text, schema.HeaderOf(b).ID())
	}
	return text
}
