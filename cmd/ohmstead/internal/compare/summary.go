package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

// Point is a line of the summary: a few words and what there is to say.
type Point struct {
	About string
	Text  string
}

// Summary tells in three to six lines what happens on the wall.
func (p *Plan) Summary() []Point {
	switch {
	case p.Status == Removed:
		return []Point{{"Plan", "it is removed"}, {"Parts", p.cost()}}
	case p.Same():
		return []Point{{"Change", "none that shows on the wall: every value, figure and finding is the same"}}
	}
	out := []Point{{"Change", p.change()}}
	if p.Unsolved != "" {
		out = append(out, Point{"Incomplete", p.incomplete()})
	}
	power := p.power()
	if len(power) == 0 {
		power = []Point{{"Power", "no voltage, current or load moves by more than " + quantity.Show(quantity.Share, p.threshold)}}
	}
	out = append(out, power...)
	return append(out, Point{"Findings", p.found()}, Point{"Parts", p.cost()}, Point{"Pixels", p.shifts()})
}

func (p *Plan) incomplete() string {
	side := map[string]string{"base": "before the change", "head": "after the change", "both": "on either side"}[p.Unsolved]
	return "not all of the wiring could be worked out " + side + "; the figures below say only part"
}

// mostTold is how many changes the summary names.
const mostTold = 3

// change names the changes that all else follows from.
func (p *Plan) change() string {
	if p.Status == Added {
		return "the plan is new: " + p.size()
	}
	var told []string
	cut := map[string]bool{}
	for _, b := range p.Blocks {
		for _, x := range b.Pieces {
			cut[x.ID] = true
		}
		if b.What == BlockJoined || b.What == BlockSplit {
			cut[b.ID] = true
		}
	}
	for _, b := range p.Blocks {
		if b.What == BlockChanged && cut[b.ID] {
			continue // its new length is what the cut says
		}
		told = append(told, b.sentence())
	}
	rest := ""
	if n := len(told) - mostTold; n > 0 {
		told = told[:mostTold]
		rest = fmt.Sprintf("; and %s", countOf(n, "more change", "more changes"))
	}
	if len(told) == 0 {
		return "the text says the same; what it is judged by has changed"
	}
	return strings.Join(told, "; ") + rest
}

func (p *Plan) size() string {
	n := map[string]int{}
	for _, b := range p.Blocks {
		n[b.Type] += max(b.Copies, 1)
	}
	return fmt.Sprintf("%s, %s, %s", quantity.Count(n["run"], "run"), quantity.Count(n["lead"], "lead"), countOf(n["supply"], "supply", "supplies"))
}

// sentence says in a few words what happened to a block.
func (b Block) sentence() string {
	id := b.name()
	switch b.What {
	case BlockAdded:
		return strings.TrimRight(fmt.Sprintf("%s is new: %s", id, b.Brief), ": ")
	case BlockRemoved:
		return fmt.Sprintf("%s is gone", id)
	case BlockSplit, BlockJoined:
		var names []string
		for _, x := range b.Pieces {
			names = append(names, fmt.Sprintf("%s (%d)", x.ID, x.Pixels))
		}
		all := strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
		if b.What == BlockJoined {
			return fmt.Sprintf("%s are joined into %s (%s)", all, id, b.Brief)
		}
		return fmt.Sprintf("%s (%s) is split into %s", id, b.Brief, all)
	case BlockRenamed:
		s := fmt.Sprintf("%s is called %s now", b.Was, id)
		if len(b.Attrs) > 0 {
			s += ", and " + attrsInShort(b.Attrs)
		}
		return s
	}
	s := id + ": " + attrsInShort(b.Attrs)
	if n := len(b.Reach); n > 0 && (b.Stock || partTypes[b.Type]) {
		s += " (in " + listed(b.Reach, 2) + ")"
	}
	return s
}

// partTypes are changed where they are described and show where they are used.
var partTypes = map[string]bool{"let": true, "strip": true, "diffuser": true, "wire": true, "fixing": true, "board": true}

// name is the block's address, with its copies and where it stands.
func (b Block) name() string {
	s := b.ID
	if b.Copies > 1 {
		s += fmt.Sprintf(" (× %d)", b.Copies)
	}
	if b.Stock {
		s += " (stock)"
	}
	return s
}

// telling ranks the attributes that say most about a part; the rest follows in
// the order of the declaration.
var telling = []string{"like", "voltage", "output", "channels", "density", "rating", "channel_current", "gauge", "length", "from", "to", "fuse", "runs", "ceiling", "first", "price"}

// attrsInShort names the attributes that matter most.
func attrsInShort(as []Attr) string {
	sorted := slices.DeleteFunc(slices.Clone(as), func(a Attr) bool { return a.Name == "source" && len(as) > 1 })
	rank := func(a Attr) int {
		i := slices.Index(telling, a.Name)
		switch {
		case a.Name == "note":
			return len(telling) + 1
		case i < 0:
			return len(telling)
		}
		return i
	}
	slices.SortStableFunc(sorted, func(a, b Attr) int { return rank(a) - rank(b) })
	var parts []string
	for _, a := range sorted {
		parts = append(parts, a.short())
	}
	if n := len(parts); n > 4 {
		parts = append(parts[:3], fmt.Sprintf("%d more", n-3))
	}
	return strings.Join(parts, ", ")
}

func (a Attr) short() string {
	was, is := clip(a.Was, 60), clip(a.Is, 60)
	name := a.Name
	if name == "value" {
		name = ""
	} else {
		name += " "
	}
	switch {
	case a.Was == "":
		return name + is + " (new)"
	case a.Is == "":
		return name + was + " → none"
	}
	return name + was + " → " + is
}

func listed(ids []string, most int) string {
	if len(ids) <= most+1 {
		return strings.Join(ids, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(ids[:most], ", "), len(ids)-most)
}

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
	if full, _, ok := p.worst(LeastVoltage, func(Move) float64 { return 0 }); ok && full.Case != "full" && len(parts) > voltage && voltage > 0 {
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
		switch mv.LimitOf {
		case "fuse":
			s += ", its fuse is " + quantity.Show(quantity.Current, *mv.Limit)
		case "wire":
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
		if i := slices.Index([]string{"full", "held"}, c); i >= 0 {
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

// found tells how many findings came and went, and what the gravest new one says.
func (p *Plan) found() string {
	f := p.Findings
	var parts []string
	switch {
	case len(f.New) == 0 && len(f.Gone) == 0 && len(f.Kept) == 0:
		return "none"
	case len(f.New) == 0:
		parts = append(parts, "none new")
	default:
		s := p.levels(f.New, "new")
		sorted := byGravity(f.New)
		if l, _ := lint.LevelNamed(sorted[0].Level); l >= lint.Warning {
			head, _, _ := strings.Cut(sorted[0].Message, ";")
			s += ": " + clip(head, 200)
			if len(sorted) > 1 {
				s += "; also " + named(sorted[1:])
			}
		} else {
			s += ": " + named(sorted)
		}
		parts = append(parts, s)
	}
	if n := len(f.Gone); n > 0 {
		parts = append(parts, p.levels(f.Gone, "gone")+": "+named(byGravity(f.Gone)))
	} else if len(f.New) == 0 {
		parts = append(parts, "none gone")
	}
	if n := len(f.Kept); n > 0 {
		parts = append(parts, fmt.Sprintf("%d as before", n))
	}
	return strings.Join(parts, "; ")
}

func byGravity(fs []Finding) []Finding {
	sorted := slices.Clone(fs)
	slices.SortStableFunc(sorted, func(a, b Finding) int {
		x, _ := lint.LevelNamed(a.Level)
		y, _ := lint.LevelNamed(b.Level)
		return int(y) - int(x)
	})
	return sorted
}

func (p *Plan) levels(fs []Finding, what string) string {
	var parts []string
	for _, l := range []lint.Level{lint.Error, lint.Warning, lint.Hint} {
		if n := count(fs, l); n > 0 {
			parts = append(parts, countOf(n, what+" "+l.String(), what+" "+l.String()+"s"))
		}
	}
	return strings.Join(parts, ", ")
}

// named lists findings by rule and subject.
func named(fs []Finding) string {
	var parts []string
	for _, f := range fs {
		s := f.Rule
		if f.Subject != "" {
			s += " at " + f.Subject
		}
		if !slices.Contains(parts, s) {
			parts = append(parts, s)
		}
	}
	return listed(parts, 2)
}

// cost tells what has to be bought and what it costs more or less.
func (p *Plan) cost() string {
	if len(p.Parts) == 0 {
		return "the shopping list stays as it is"
	}
	var sums []string
	for _, c := range p.Cost {
		sums = append(sums, Amount{c.Is - c.Was, c.Currency}.signed())
	}
	var names []string
	for _, x := range p.Parts {
		names = append(names, x.short())
	}
	s := listed(names, 3)
	if len(sums) > 0 {
		s = strings.Join(sums, ", ") + ": " + s
	}
	if p.Unpriced > 0 {
		s += fmt.Sprintf(" (%s)", countOf(p.Unpriced, "change has no price", "changes have no price"))
	}
	return s
}

// short says in a few words how a part's purchase changes.
func (x Part) short() string {
	d := x.Is.Buy - x.Was.Buy
	if d == 0 {
		if x.Was.Each != nil && x.Is.Each != nil {
			return fmt.Sprintf("%s at %s instead of %s", x.amount(fmt.Sprint(x.Is.Buy), x.Is.Buy), x.Is.Each, x.Was.Each)
		}
		return x.amount(fmt.Sprint(x.Is.Buy), x.Is.Buy)
	}
	sign := "+"
	if d < 0 {
		sign, d = "−", -d
	}
	return x.amount(sign+fmt.Sprint(d), d)
}

// amount writes so many units of the part, n of them.
func (x Part) amount(number string, n int) string {
	unit, _, _ := strings.Cut(x.Unit, " ")
	switch {
	case unit == "m":
		return number + " m of " + x.Part
	case x.Unit == "piece":
		return number + " × " + x.Part
	case n > 1:
		unit += "s"
	}
	return number + " " + unit + " of " + x.Part
}

// shifts tells which pixels have other numbers.
func (p *Plan) shifts() string {
	var parts []string
	lines := p.Pixels.Orders
	if len(lines) == 0 {
		lines = p.Pixels.Ports
	}
	for _, l := range lines {
		switch s := l.shifted(); {
		case s != "" && l.Was != l.Is:
			parts = append(parts, fmt.Sprintf("%s (%d → %d pixels)", s, l.Was, l.Is))
		case s != "":
			parts = append(parts, s)
		case l.Was == 0:
			parts = append(parts, fmt.Sprintf("%s is new: %s", l.ID, quantity.Count(l.Is, "pixel")))
		default:
			parts = append(parts, fmt.Sprintf("%s: %d → %s, none shifts", l.ID, l.Was, quantity.Count(l.Is, "pixel")))
		}
	}
	if len(parts) == 0 && len(p.Pixels.Universes) == 0 && len(p.Pixels.Controller) == 0 && len(p.Pixels.Show) == 0 {
		return "every pixel keeps its number"
	}
	if len(parts) == 0 {
		parts = append(parts, "every pixel keeps its number")
	}
	if len(p.Pixels.Universes) > 0 {
		parts = append(parts, "other network addresses in "+p.Pixels.Universes[0].ID)
	}
	if len(p.Pixels.Controller) > 0 {
		parts = append(parts, "set in the controller: "+listed(p.Pixels.Controller, 2))
	}
	return strings.Join(parts, "; ")
}
