package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// power tells the voltage that matters most, and the currents.
func (p *Plan) power() []Point {
	var out []Point
	if s := p.volts(); s != "" {
		out = append(out, Point{"Light", s})
	}
	if s := p.amps(); s != "" {
		out = append(out, Point{"Current", s})
	}
	return out
}

// volts tells the least voltage that moved farthest, in the case full if it
// moved there, and what a ceiling leaves of the light.
func (p *Plan) volts() string {
	var parts []string
	if mv, others, ok := p.worst(LeastVoltage, func(m Move) float64 {
		d := 0.0
		if m.Was != nil {
			d = (*m.Was - *m.Is) / math.Max(m.scale, 1e-9)
		}
		if m.below() {
			d += 10 // what cannot work comes first
		}
		if m.Was == nil {
			return d - 5
		}
		return math.Abs(d) + d/10 // of two equal moves the fall
	}); ok {
		s := "least voltage of " + mv.ID
		where := mv.Case
		switch {
		case mv.Was == nil:
			s += " is " + volts(*mv.Is)
		case mv.moved:
			s = fmt.Sprintf("lowest point of %s moves from pixel %d to %d, %s → %s V", mv.ID, *mv.WasAt, *mv.Pixel, quantity.Number(*mv.Was, 3), quantity.Number(*mv.Is, 3))
		case *mv.Is < *mv.Was:
			s += fmt.Sprintf(" falls %s → %s", number(*mv.Was, *mv.Is), voltsBeside(*mv.Is, *mv.Was))
		default:
			s += fmt.Sprintf(" rises %s → %s", number(*mv.Was, *mv.Is), voltsBeside(*mv.Is, *mv.Was))
		}
		if mv.Limit != nil {
			if mv.below() {
				where += ", below the " + quantity.Show(quantity.Voltage, *mv.Limit) + " that its colours need"
			} else {
				where += ", its colours need " + quantity.Show(quantity.Voltage, *mv.Limit)
			}
		}
		s += " (" + where + ")"
		if others > 0 {
			s += ", and that of " + countOf(others, "more run", "more runs") + " moves"
		}
		parts = append(parts, s)
	}
	voltage := len(parts)
	if mv, _, ok := p.worst(Brightness, func(m Move) float64 { return math.Abs(change(m)) }); ok {
		if mv.Was == nil {
			parts = append(parts, fmt.Sprintf("the ceiling of %s leaves %s of full light (%s)", mv.ID, share(*mv.Is), mv.Case))
		} else {
			parts = append(parts, fmt.Sprintf("the ceiling of %s leaves %s → %s of full light (%s)", mv.ID, share(*mv.Was), share(*mv.Is), mv.Case))
		}
	}
	if full, _, ok := p.worst(LeastVoltage, func(Move) float64 { return 0 }); ok && full.Case != schema.Full && len(parts) > voltage && voltage > 0 {
		parts[0], parts[1] = parts[1], parts[0] // the ceiling is what moved the voltage
	}
	if mv, _, ok := p.worst(FrameRate, func(m Move) float64 { return math.Abs(change(m)) }); ok && mv.Was != nil {
		s := fmt.Sprintf("%s shows %s → %s frames a second", mv.ID, quantity.Number(*mv.Was, 3), quantity.Number(*mv.Is, 3))
		if mv.Limit != nil && *mv.Is < *mv.Limit && *mv.Was >= *mv.Limit {
			s += fmt.Sprintf(", fewer than the %s wanted", quantity.Number(*mv.Limit, 3))
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, "; ")
}

// amps tells the lead and the supply that moved farthest.
func (p *Plan) amps() string {
	var parts []string
	if mv, others, ok := p.worst(Current, strain); ok {
		s := mv.ID + " carries "
		if mv.Was != nil {
			s += number(*mv.Was, *mv.Is) + " → " + number(*mv.Is, *mv.Was) + " A"
		} else {
			s += quantity.Show(quantity.Current, *mv.Is)
		}
		s += " (" + mv.Case
		switch {
		case mv.LimitOf == "fuse" && mv.above():
			s += ", above its fuse of " + quantity.Show(quantity.Current, *mv.Limit)
		case mv.LimitOf == "fuse":
			s += ", its fuse is " + quantity.Show(quantity.Current, *mv.Limit)
		case mv.LimitOf == "wire" && mv.above():
			s += ", above the " + quantity.Show(quantity.Current, *mv.Limit) + " that its wire may carry"
		case mv.LimitOf == "wire":
			s += ", its wire may carry " + quantity.Show(quantity.Current, *mv.Limit)
		}
		s += ")"
		if others > 0 {
			s += ", " + countOf(others, "more lead moves", "more leads move")
		}
		parts = append(parts, s)
	}
	if mv, _, ok := p.worst(Load, func(m Move) float64 { return math.Abs(change(m)) }); ok {
		if mv.Was == nil {
			parts = append(parts, fmt.Sprintf("%s is loaded to %s (%s)", mv.ID, share(*mv.Is), mv.Case))
		} else {
			parts = append(parts, fmt.Sprintf("load of %s %s → %s (%s)", mv.ID, share(*mv.Was), share(*mv.Is), mv.Case))
		}
	}
	if mv, _, ok := p.worst(Heat, func(m Move) float64 { return math.Abs(change(m)) }); ok && mv.Was != nil && mv.above() {
		parts = append(parts, fmt.Sprintf("%s makes %s → %s W/m, above the %s of its diffuser (%s)", mv.ID, quantity.Number(*mv.Was, 3), quantity.Number(*mv.Is, 3), quantity.Number(*mv.Limit, 3), mv.Case))
	}
	return strings.Join(parts, "; ")
}

// strain ranks the moves of currents: a rise counts more than a fall, and one
// near a limit or beyond it most.
func strain(m Move) float64 {
	d := change(m)
	if m.Limit == nil || *m.Limit <= 0 {
		return math.Abs(d)
	}
	if d < 0 {
		return -d / *m.Limit / 2
	}
	return d / *m.Limit + 5*math.Max(0, *m.Is / *m.Limit - 0.7)
}

// worst picks the move of a figure that ranks highest: in the case full, else
// in held, else in whatever case it moved in. others counts what moved beside it.
func (p *Plan) worst(f Figure, rank func(Move) float64) (best Move, others int, ok bool) {
	order := func(c string) int {
		if i := slices.Index([]string{schema.Full, schema.Held}, c); i >= 0 {
			return i
		}
		return 2
	}
	ids := map[string]bool{}
	for _, m := range p.Moves {
		if m.Figure != f || m.Is == nil {
			continue
		}
		ids[m.ID] = true
		switch a, b := order(m.Case), order(best.Case); {
		case !ok, a < b, a == b && rank(m) > rank(best):
			best, ok = m, true
		}
	}
	return best, len(ids) - 1, ok
}

// change is how far a figure moved, all of it where it is new.
func change(m Move) float64 {
	if m.Was == nil {
		return *m.Is
	}
	return *m.Is - *m.Was
}

// below and above report whether a figure is beyond its limit.
func (m Move) below() bool { return m.Limit != nil && m.Is != nil && *m.Is < *m.Limit }
func (m Move) above() bool { return m.Limit != nil && m.Is != nil && *m.Is > *m.Limit }

// beyond reports whether a figure is on the wrong side of its limit.
func (m Move) beyond() bool {
	switch m.Figure {
	case LeastVoltage, FrameRate:
		return m.below()
	}
	return m.above()
}

func volts(v float64) string { return quantity.Number(v, 3) + " V" }

// number writes a value with as many digits as it takes to tell it from another.
func number(v, beside float64) string {
	for digits := 3; digits < 6; digits++ {
		if s := quantity.Number(v, digits); s != quantity.Number(beside, digits) {
			return s
		}
	}
	return quantity.Number(v, 6)
}

func voltsBeside(v, beside float64) string { return number(v, beside) + " V" }

func share(s float64) string { return quantity.Show(quantity.Share, s) }
