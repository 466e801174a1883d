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

// Summary tells in a few lines what happens on the wall.
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
	var before []string // what stays
	add := func(about, text, same string) {
		if text == "" {
			before = append(before, same)
			return
		}
		out = append(out, Point{about, text})
	}
	optional := func(about, text string) {
		if text != "" {
			out = append(out, Point{about, text})
		}
	}
	optional("Silenced", p.Silenced.sentence()) // first: it is about what nobody is to hear
	if p.halfKnown() {
		out = append(out, Point{"Not judged", p.unjudgedText()})
	}
	optional("Limits", p.judged())
	optional("Change", p.change())
	if p.Unsolved == "base" {
		out = append(out, Point{"Incomplete", p.unjudgedText()})
	}
	grave := count(p.Findings.New, lint.Error) > 0
	if grave { // before all that follows from it
		add("Findings", p.found(), "")
	}
	power := p.power()
	out = append(out, power...)
	if len(power) == 0 && p.Unsolved == "" {
		before = append(before, "no voltage, current or load moves by more than "+quantity.Show(quantity.Share, p.threshold))
	}
	optional("Places", listedBy(p.moved(), 3))
	optional("Lengths", p.lengths())
	if !grave {
		add("Findings", p.found(), "no finding comes or goes")
	}
	same := "the shopping list stays"
	if p.Unsolved != "" {
		same = ""
	}
	add("Parts", p.cost(), same)
	same = "every pixel keeps its number"
	if p.halfKnown() {
		same = ""
	}
	add("Pixels", p.shifts(), same)
	if before = slices.DeleteFunc(before, func(s string) bool { return s == "" }); len(before) > 0 {
		out = append(out, Point{"As before", strings.Join(before, "; ")})
	}
	return out
}

func listedBy(parts []string, most int) string {
	if len(parts) > most+1 {
		parts = append(slices.Clone(parts[:most]), fmt.Sprintf("%d more", len(parts)-most))
	}
	return strings.Join(parts, "; ")
}

// mostTold is how many changes the summary names.
const mostTold = 5

// change names the changes that all else follows from.
func (p *Plan) change() string {
	if p.Status == Added {
		s := "the plan is new: " + p.size()
		if p.Shares != "" {
			s += "; it has the name of the plan in " + p.Shares + ", so that only the directory tells them apart"
		}
		return s
	}
	told := p.sentences()
	rest := ""
	if n := len(told) - mostTold; n > 1 {
		told = told[:mostTold]
		rest = fmt.Sprintf("; and %s", countOf(n, "more change", "more changes"))
	}
	if p.Called != "" {
		told = append([]string{p.called()}, told...)
	}
	if p.Moved != "" {
		told = append([]string{"the plan was in " + p.Moved}, told...)
	}
	if len(told) == 0 && len(p.Limits) == 0 && p.Silenced.same() {
		return "the text says the same; what it is judged by has changed"
	}
	return strings.Join(told, "; ") + rest
}

// sentences tells the changed blocks, what protects copper first, and before all what
// the gravest findings are about.
func (p *Plan) sentences() []string {
	var out []string
	for _, c := range p.changes() {
		out = append(out, c.text)
	}
	return out
}

// sentence is a change in a sentence.
type sentence struct {
	text  string
	stock bool
}

// changes tells changed blocks in sentences, several of which the same changed in one.
func (p *Plan) changes() []sentence {
	about := map[string]int{}
	note := func(id string, weight int) { about[id] = max(about[id], weight) }
	for i, fs := range [][]Finding{p.Findings.Gone, p.Findings.New} {
		for _, f := range fs {
			if l, _ := lint.LevelNamed(f.Level); l >= lint.Warning {
				for _, id := range append([]string{f.Subject}, f.Members...) {
					note(id, i+1)
				}
			}
		}
	}
	for _, s := range p.Silenced.New {
		note(s.Subject, 3)
	}
	blocks := p.toldAlone()
	concerned := func(b Block) int {
		if b.Copies > 0 {
			return max(about[b.ID], about[b.ID+"-1"])
		}
		return about[b.ID]
	}
	slices.SortStableFunc(blocks, func(a, b Block) int { return concerned(b) - concerned(a) })
	type key struct {
		attrs string
		stock bool
	}
	alike := map[key][]string{}
	for _, b := range blocks {
		if b.What == BlockChanged && len(p.movedOf(b.ID)) == 0 {
			k := key{attrsInShort(b.Attrs), b.Stock}
			alike[k] = append(alike[k], b.name())
		}
	}
	var out []sentence
	done := map[key]bool{}
	for _, b := range blocks {
		k := key{attrsInShort(b.Attrs), b.Stock}
		if names := alike[k]; b.What == BlockChanged && len(names) > 1 && slices.Contains(names, b.name()) {
			if !done[k] {
				done[k] = true
				out = append(out, sentence{listed(names, 2) + ": " + k.attrs, b.Stock})
			}
			continue
		}
		out = append(out, sentence{p.sentence(b), b.Stock})
	}
	return out
}

// geometric are the attributes of a run that say where it hangs.
var geometric = []string{"through", "path", "at", "start", "shift", "turn", "mirror"}

// sentence says what happened to a block: of one that hangs elsewhere, where.
func (p *Plan) sentence(b Block) string {
	moved := p.movedOf(b.ID)
	if b.What != BlockChanged || len(moved) == 0 {
		return b.sentence()
	}
	b.Attrs = slices.DeleteFunc(slices.Clone(b.Attrs), func(a Attr) bool {
		first, _, _ := strings.Cut(a.Name, " ")
		return slices.Contains(geometric, first)
	})
	s := strings.Join(moved, "; ")
	if len(b.Attrs) > 0 {
		s = b.sentence() + "; " + s
	}
	return s
}

// toldAlone are the changed blocks of which no other line tells.
func (p *Plan) toldAlone() []Block {
	var out []Block
	cut := map[string]bool{}
	for _, b := range p.Blocks {
		for _, x := range b.Pieces {
			cut[x.ID] = true
		}
		if b.What == BlockJoined || b.What == BlockSplit {
			cut[b.ID] = true
		}
	}
	s := p.Silenced
	for _, b := range p.Blocks {
		if b.What == BlockChanged && cut[b.ID] {
			continue // its new length is what the cut says
		}
		if b.judges() && len(p.Limits)+len(s.Settings)+len(s.New)+len(s.Changed)+len(s.Gone) > 0 {
			continue // told before
		}
		out = append(out, b)
	}
	return out
}

func (p *Plan) size() string {
	n := map[string]int{}
	for _, b := range p.Blocks {
		n[b.Type] += max(b.Copies, 1)
	}
	return fmt.Sprintf("%s, %s, %s", quantity.Count(n["run"], "run"), quantity.Count(n["lead"], "lead"), countOf(n["supply"], "supply", "supplies"))
}

// found tells how many findings came and went, and what the gravest new one says;
// "" where none did.
func (p *Plan) found() string {
	f := p.Findings
	if len(f.New)+len(f.Gone) == 0 {
		if n := len(f.Kept); n > 0 && p.halfKnown() {
			return fmt.Sprintf("%d as before, of what could be judged", n)
		}
		return ""
	}
	var parts []string
	if len(f.New) > 0 {
		s := p.counts()
		sorted := byGravity(f.New)
		if l, _ := lint.LevelNamed(sorted[0].Level); l >= lint.Warning && !p.blamed(sorted[0]) {
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
		what := "gone"
		if p.halfKnown() {
			what = "no longer judged"
		}
		parts = append(parts, p.levels(f.Gone, what)+": "+named(byGravity(f.Gone)))
	}
	if n := len(f.Kept); n > 0 {
		parts = append(parts, fmt.Sprintf("%d as before", n))
	}
	return strings.Join(parts, "; ")
}

// counts says how many findings are new, worse or told again, by level.
func (p *Plan) counts() string {
	var fresh, worse, again []Finding
	for _, x := range p.Findings.New {
		switch {
		case x.Worse:
			worse = append(worse, x)
		case x.Again:
			again = append(again, x)
		default:
			fresh = append(fresh, x)
		}
	}
	var parts []string
	for _, s := range []string{p.levels(fresh, "new"), p.levels(worse, "worse"), p.levels(again, "no longer hidden")} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ", ")
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
			if what == "no longer hidden" {
				n = 0
				for _, f := range fs {
					if f.Level == l.String() {
						n += max(len(f.Members), 1)
					}
				}
				parts = append(parts, countOf(n, l.String(), l.String()+"s")+" "+what)
				continue
			}
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
		if n := len(f.Members); n > 1 {
			s += fmt.Sprintf(" and %d more", n-1)
		}
		if !slices.Contains(parts, s) {
			parts = append(parts, s)
		}
	}
	return listed(parts, 2)
}

// cost tells what has to be bought and what it costs more or less.
func (p *Plan) cost() string {
	switch {
	case len(p.Parts) == 0 && p.Unsolved != "":
		return "not known, as not all could be worked out"
	case len(p.Parts) == 0:
		return ""
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

// shifts tells which pixels have other numbers, and what else the controller has to
// know; "" where nothing changes.
func (p *Plan) shifts() string {
	parts := p.runCounts()
	lines := p.Pixels.Orders
	if len(lines) == 0 {
		lines = p.Pixels.Ports
	}
	for _, l := range lines {
		s := l.shifted()
		switch {
		case l.Unknown:
			parts = append(parts, l.ID+" cannot be counted")
		case s != "" && l.Was != l.Is:
			parts = append(parts, fmt.Sprintf("%s (%d → %d pixels)", s, l.Was, l.Is))
		case s != "":
			parts = append(parts, s)
		case l.Was == 0:
			parts = append(parts, fmt.Sprintf("%s is new: %s", l.ID, quantity.Count(l.Is, "pixel")))
		case p.respaced():
			parts = append(parts, fmt.Sprintf("%s: %d → %s, none of which is where one was", l.ID, l.Was, quantity.Count(l.Is, "pixel")))
		default:
			parts = append(parts, fmt.Sprintf("%s: %d → %s, the others keep their numbers", l.ID, l.Was, quantity.Count(l.Is, "pixel")))
		}
	}
	if len(p.Pixels.Universes) > 0 {
		parts = append(parts, "other network addresses in "+p.Pixels.Universes[0].ID)
	}
	if len(p.Pixels.Controller) > 0 {
		parts = slices.DeleteFunc(parts, func(s string) bool { return slices.Contains(p.Pixels.Controller, s) })
		parts = append(parts, "set in the controller: "+listed(likewise(p.Pixels.Controller, lines), 2))
	}
	return strings.Join(parts, "; ")
}

// likewise says in short of a port what is said of an order before it.
func likewise(entries []string, said []Line) []string {
	out := slices.Clone(entries)
	for i, s := range entries {
		for _, l := range said {
			what, known := strings.CutPrefix(l.shifted(), l.ID)
			if who, same := strings.CutSuffix(s, what); known && same && who != l.ID {
				out[i] = who + " likewise"
			}
		}
	}
	return out
}

func (p *Plan) respaced() bool {
	return slices.ContainsFunc(p.Pixels.Runs, func(r RunCount) bool { return r.Pitch[0] != r.Pitch[1] })
}

// runCounts tells which runs have more or fewer pixels, copies together.
func (p *Plan) runCounts() []string {
	type same struct {
		family   string
		was, is  int
		pitchWas float64
		pitchIs  float64
	}
	ids := map[same][]string{}
	var order []same
	for _, r := range p.Pixels.Runs {
		k := same{r.Family, r.Was, r.Is, r.Pitch[0], r.Pitch[1]}
		if ids[k] == nil {
			order = append(order, k)
		}
		ids[k] = append(ids[k], r.ID)
	}
	var out []string
	for _, k := range order {
		s := fmt.Sprintf("%s: %d → %s", fromTo(ids[k]), k.was, quantity.Count(k.is, "pixel"))
		if len(ids[k]) > 1 {
			s += " each"
		}
		if k.pitchWas != k.pitchIs {
			s += fmt.Sprintf(", %s → %s a metre", quantity.Number(1/k.pitchWas, 4), quantity.Number(1/k.pitchIs, 4))
		}
		out = append(out, s)
	}
	if len(out) > 3 {
		out = append(out[:2], fmt.Sprintf("%d more runs", len(out)-2))
	}
	return out
}
