package compare

import (
	"fmt"
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

// Summary tells in three to eight lines what happens on the wall.
func (p *Plan) Summary() []Point {
	switch {
	case p.Failed != "":
		return []Point{{"Not judged", p.Failed + "; nothing is known of what changes"}}
	case p.Status == Removed:
		return []Point{{"Plan", "it is removed"}, {"Parts", p.cost()}}
	case p.Same():
		return []Point{{"Change", "none that shows on the wall: every value, figure and finding is the same"}}
	}
	var out []Point
	if hidden := p.Silenced.told(); hidden != "" { // first: it is about what nobody is to hear
		out = append(out, Point{"Silenced", hidden})
	}
	if len(p.Limits) > 0 {
		out = append(out, Point{"Limits", p.judged()})
	}
	out = append(out, Point{"Change", p.change()})
	if p.Unsolved != "" {
		out = append(out, Point{"Incomplete", p.incomplete()})
	}
	power := p.power()
	if len(power) == 0 {
		power = []Point{{"Power", "no voltage, current or load moves by more than " + quantity.Show(quantity.Share, p.threshold)}}
	}
	findings := Point{"Findings", p.found()}
	if count(p.Findings.New, lint.Error) > 0 { // before all that follows from it
		out = append(append(out, findings), power...)
	} else {
		out = append(append(out, power...), findings)
	}
	return append(out, Point{"Parts", p.cost()}, Point{"Pixels", p.shifts()})
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
		if b.judges() && len(p.Limits)+len(p.Silenced.Settings)+len(p.Silenced.New)+len(p.Silenced.Changed)+len(p.Silenced.Gone) > 0 {
			continue // told before
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
		var fresh, worse []Finding
		for _, x := range f.New {
			if x.Worse {
				worse = append(worse, x)
			} else {
				fresh = append(fresh, x)
			}
		}
		s := strings.Join(slices.DeleteFunc([]string{p.levels(fresh, "new"), p.levels(worse, "worse")}, func(s string) bool { return s == "" }), ", ")
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
