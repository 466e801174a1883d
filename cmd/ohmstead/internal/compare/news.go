package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

// news is one thing that a reviewer must know, in a line. The same kind of it in
// several plans is told once.
type news struct {
	weight int
	kind   string
	text   string
	many   string // what is told instead where several plans have it; "" for the text
	cause  bool   // it is what was changed, not what comes of it
	plans  []*Plan

	// Of findings of one rule: how many there are in each plan, what to call one and
	// several, and how far the worst is from its limit.
	each      []int
	one, some string
	strain    float64
	whose     *Plan // the plan that the text names blocks of, where several have the like
}

// The weights of news: what nobody is to hear of and what burns before what is dim,
// what is dim before what is dear.
const (
	notCompared = 100 - 5*iota
	silencedGuard
	notJudged
	guardError
	otherError
	guardWarning
	quietened // findings hidden or limits loosened
	otherWarning
	changedHere
	mendedGrave
	consequence
	toldAgain
	aHint
	mended
)

// news lists what there is to know of a plan, the gravest first.
func (p *Plan) news() []news {
	var out []news
	add := func(weight int, kind, text string) {
		if text != "" {
			out = append(out, news{weight: weight, kind: kind, text: text, plans: []*Plan{p}})
		}
	}
	if p.Failed != "" {
		add(notCompared, "failed", "not judged at all: "+p.Failed)
		return out
	}
	p.Silenced.news(add)
	if p.halfKnown() {
		out = append(out, news{weight: notJudged, kind: "unjudged " + p.Why, text: "not judged " + p.unjudgedText(), plans: []*Plan{p},
			many: "not judged after the change, because " + clip(oneLine(p.Why), 160)})
	}
	for _, l := range p.Limits {
		switch {
		case l.judges() && l.Is > l.Was:
			add(quietened, "limit "+l.Name, l.sentence())
		default:
			add(changedHere, "limit "+l.Name, l.sentence())
		}
	}
	p.findingNews(add, func(n news) { out = append(out, n) })
	switch p.Status {
	case Removed:
		add(changedHere, "removed "+p.Dir, "the plan is removed")
		return out
	case Added:
		add(changedHere, "added "+p.Dir, p.change()+p.worth())
		return out
	}
	if p.Called != "" {
		add(changedHere, "called "+p.Dir, p.called())
	}
	var own []string
	for _, c := range p.changes() {
		if c.stock {
			out = append(out, news{weight: changedHere, kind: "change " + c.text, text: c.text, cause: true, plans: []*Plan{p}})
		} else {
			own = append(own, c.text)
		}
	}
	if len(own) > 0 {
		s := strings.Join(own, "; ")
		out = append(out, news{weight: changedHere, kind: "change " + s, text: s, cause: true, plans: []*Plan{p}})
	}
	add(consequence, "so "+p.Dir, p.consequences())
	return out
}

// worth says of a new plan what it holds, gives off and costs.
func (p *Plan) worth() string {
	s := ""
	pixels := 0
	for _, l := range p.Pixels.Ports {
		pixels += l.Is
	}
	if pixels > 0 {
		s += ", " + quantity.Count(pixels, "pixel")
	}
	if w := p.Watts[1]; w != nil && *w > 0 {
		s += ", " + quantity.Show(quantity.Power, *w)
	}
	for _, c := range p.Cost {
		s += ", " + Amount{c.Is, c.Currency}.String()
	}
	if len(p.Findings.New) == 0 {
		s += "; nothing is found"
	}
	return s
}

// consequences says in short what comes of a change on the wall.
func (p *Plan) consequences() string {
	var parts []string
	for _, x := range p.moved() {
		if !slices.ContainsFunc(p.sentences(), func(s string) bool { return strings.Contains(s, x) }) {
			parts = append(parts, x)
		}
	}
	if s := p.shifts(); s != "" {
		parts = append(parts, s)
	}
	for _, x := range p.power() {
		at := len(parts)
		if strings.Contains(x.Text, "above ") || strings.Contains(x.Text, "below ") {
			at = 0
		}
		parts = slices.Insert(parts, at, x.Text)
	}
	if s := p.lengths(); s != "" {
		parts = append(parts, s)
	}
	if s := p.cost(); s != "" && p.Unsolved == "" {
		parts = append(parts, s)
	}
	if len(parts) > 3 {
		parts = parts[:3]
	}
	return strings.Join(parts, "; ")
}

// findingNews tells new findings and those that are gone, those of a rule together.
func (p *Plan) findingNews(add func(int, string, string), put func(news)) {
	type group struct{ rule, level, how string }
	groups := map[group][]Finding{}
	var order []group
	for _, f := range p.Findings.New {
		how := "new"
		switch {
		case f.Worse:
			how = "worse"
		case f.Again:
			how = "no longer hidden"
		}
		g := group{f.Rule, f.Level, how}
		if groups[g] == nil {
			order = append(order, g)
		}
		groups[g] = append(groups[g], f)
	}
	for _, g := range order {
		fs := slices.DeleteFunc(groups[g], p.blamed)
		if len(fs) == 0 {
			continue
		}
		slices.SortStableFunc(fs, func(a, b Finding) int { return cmp.Compare(b.strain(), a.strain()) })
		what, _, _ := strings.Cut(fs[0].Message, ";")
		s := clip(oneLine(what), 220)
		if n := len(fs[0].Members); n > 1 && g.how != "worse" {
			s += fmt.Sprintf(" (and %d more)", n-1)
		}
		if len(fs) > 1 {
			s += "; also at " + listed(subjects(fs[1:]), 2)
		}
		weight := aHint
		switch {
		case g.level == lint.Error.String() && fs[0].Guard:
			weight = guardError
		case g.level == lint.Error.String():
			weight = otherError
		case g.level == lint.Warning.String() && fs[0].Guard:
			weight = guardWarning
		case g.level == lint.Warning.String():
			weight = otherWarning
		case g.how == "no longer hidden":
			weight = toldAgain
		}
		n := news{weight: weight, kind: g.how + " " + g.level + " " + g.rule + "\x00" + p.cause(), text: s, plans: []*Plan{p}, each: []int{len(fs)}, strain: fs[0].strain(), whose: p,
			one: "1 " + g.how + " " + g.level + " " + g.rule + grown(fs[0]), some: "%d " + g.how + " " + g.level + "s " + g.rule + grown(fs[0])}
		if g.how == "no longer hidden" {
			n.each[0] = 0
			for _, f := range fs {
				n.each[0] += max(len(f.Members), 1)
			}
			n.one, n.some = "1 "+g.level+" no longer hidden, "+g.rule, "%d "+g.level+"s no longer hidden, "+g.rule
		}
		put(n)
	}
	if n := len(p.Findings.Gone); n > 0 {
		what := "gone"
		if p.halfKnown() {
			what = "no longer judged"
		}
		weight := mended
		if !p.halfKnown() && count(p.Findings.Gone, lint.Error)+count(p.Findings.Gone, lint.Warning) > 0 {
			weight = mendedGrave
		}
		add(weight, what+"\x00"+p.cause(), p.levels(p.Findings.Gone, what)+": "+named(byGravity(p.Findings.Gone)))
	}
}

// cause is what plans have in common that the same change of stock reaches; of a plan
// that changed by itself it is the plan.
func (p *Plan) cause() string {
	var parts []string
	for _, b := range p.toldAlone() {
		if !b.Stock {
			return p.Dir // what is found may be of its own making
		}
		parts = append(parts, b.sentence())
	}
	if len(parts) == 0 || p.halfKnown() {
		return p.Dir
	}
	return strings.Join(parts, "\x00")
}

// strain is how far a finding is from its limit, as a share of it.
func (f Finding) strain() float64 {
	if f.found == nil || f.found.Value == nil || f.found.Value.Limit == 0 {
		return 0
	}
	return math.Abs(f.found.Value.Got-f.found.Value.Limit) / math.Abs(f.found.Value.Limit)
}

// grown says of a finding that is worse by how much it is.
func grown(f Finding) string {
	if f.was == nil {
		return ""
	}
	was, is := max(len(f.was.Members), 1), max(len(f.Members), 1)
	switch {
	case is > was:
		return fmt.Sprintf(", at %d instead of %d", is, was)
	case f.found.Value != nil && f.was.Value != nil && quantity.Number(f.found.Value.Got, 3) == quantity.Number(f.was.Value.Got, 3):
		return fmt.Sprintf(", against %s %s instead of %s", quantity.Number(f.found.Value.Limit, 3), f.found.Value.Unit, quantity.Number(f.was.Value.Limit, 3))
	case f.found.Value != nil && f.was.Value != nil:
		return fmt.Sprintf(", %s %s instead of %s", quantity.Number(f.found.Value.Got, 3), f.found.Value.Unit, quantity.Number(f.was.Value.Got, 3))
	}
	return ", elsewhere"
}

func subjects(fs []Finding) []string {
	var out []string
	for _, f := range fs {
		if f.Subject != "" && !slices.Contains(out, f.Subject) {
			out = append(out, f.Subject)
		}
	}
	return out
}

// news tells what is newly hidden, and what is not hidden any more.
func (s *Silenced) news(add func(int, string, string)) {
	for _, guard := range []bool{true, false} {
		var of []Silence
		for _, x := range s.New {
			if x.Guard == guard {
				of = append(of, x)
			}
		}
		if len(of) == 0 {
			continue
		}
		kept := 0
		for _, x := range s.Kept {
			if x.Rule == of[0].Rule && x.ByFile == of[0].ByFile {
				kept++
			}
		}
		text := countOf(len(of), "finding newly hidden", "findings newly hidden")
		if kept > 0 {
			text += fmt.Sprintf(" (%d with those before)", len(of)+kept)
		}
		weight := quietened
		if guard {
			weight = silencedGuard
		}
		add(weight, "hidden "+of[0].Rule+" "+of[0].ByFile, text+": "+of[0].sentence())
	}
	if n := len(s.Changed); n > 0 {
		text := s.Changed[0].changed()
		if n > 1 {
			text += fmt.Sprintf(" (and %d more)", n-1)
		}
		add(quietened, "hidden otherwise "+s.Changed[0].Rule+s.Changed[0].Reason, text)
	}
	for _, x := range s.Settings {
		weight := changedHere
		if x.lowers() {
			weight = quietened
		}
		add(weight, "setting "+x.Rule+" "+x.File, x.sentence())
	}
}

// headline says how many plans change and what comes of it over all.
func (r *Report) headline() string {
	var parts []string
	for _, m := range r.Moved {
		parts = append(parts, m.Was+" is "+m.Is+" now")
	}
	if len(r.Plans) == 0 {
		return strings.Join(append([]string{"nothing changes on any wall"}, parts...), "; ")
	}
	s := ""
	switch of := fmt.Sprintf(" of %d", r.Total); {
	case r.Total <= 1:
		s = "the plan changes"
	case len(r.Plans) == 1:
		s = "1" + of + " plans changes"
	default:
		s = fmt.Sprint(len(r.Plans)) + of + " plans change"
	}
	var all Plan
	guards, failed := 0, 0
	for _, p := range r.Plans {
		all.Findings.New = append(all.Findings.New, p.Findings.New...)
		if !p.halfKnown() {
			all.Findings.Gone = append(all.Findings.Gone, p.Findings.Gone...)
		}
		if p.Moved != "" {
			parts = append(parts, p.Moved+" is "+p.Dir+" now")
		}
		for _, x := range p.Silenced.New {
			if x.Guard {
				guards++
			}
		}
		if p.Failed != "" || p.halfKnown() {
			failed++
		}
	}
	var counts []string
	add := func(s string) {
		if s != "" {
			counts = append(counts, s)
		}
	}
	if failed > 0 {
		add(fmt.Sprintf("%d not fully judged", failed))
	}
	if guards > 0 {
		add(countOf(guards, "newly silenced guard", "newly silenced guards"))
	}
	add(all.counts() + rulesOf(all.Findings.New))
	add(all.levels(all.Findings.Gone, "gone") + rulesOf(all.Findings.Gone))
	if len(counts) == 0 {
		counts = []string{"no finding comes or goes"}
	}
	s += ": " + strings.Join(counts, ", ")
	parts = append([]string{s}, parts...)
	parts = append(parts, r.sums()...)
	return strings.Join(parts, "; ")
}

// rulesOf names the rules of findings where they are few.
func rulesOf(fs []Finding) string {
	var names []string
	for _, f := range byGravity(fs) {
		if !slices.Contains(names, f.Rule) {
			names = append(names, f.Rule)
		}
	}
	if len(names) == 0 || len(names) > 3 {
		return ""
	}
	return " (" + strings.Join(names, ", ") + ")"
}

// sums are the differences in cost and power over all plans whose both versions are
// known.
func (r *Report) sums() []string {
	byCode := map[string]float64{}
	was, is := 0.0, 0.0
	unknown := 0
	for _, p := range r.Plans {
		for _, c := range p.Cost {
			byCode[c.Currency] += c.Is - c.Was
		}
		switch {
		case p.Failed != "" || p.Unsolved != "" || p.Watts[0] == nil || p.Watts[1] == nil:
			unknown++
		default:
			was, is = was+*p.Watts[0], is+*p.Watts[1]
		}
	}
	for _, d := range r.Drawers {
		if d.Cost != nil {
			byCode[d.Cost.Currency] += d.Cost.Amount
		}
	}
	var out []string
	for _, code := range sortedKeys(byCode) {
		if d := byCode[code]; d > 1e-9 || d < -1e-9 {
			out = append(out, Amount{d, code}.signed())
		}
	}
	if a, b := quantity.Show(quantity.Power, was), quantity.Show(quantity.Power, is); a != b && unknown == 0 {
		out = append(out, a+" → "+b)
	}
	return out
}

// top is what the whole report comes down to: the headline, and below it the
// gravest news of all plans, at least two lines where there are.
func (r *Report) top() []string {
	out := []string{r.headline()}
	all := r.news()
	if len(all) == 0 {
		return out
	}
	picked := []news{all[0]}
	take := func(of func(news) bool) {
		i := slices.IndexFunc(all, func(n news) bool {
			return of(n) && !slices.ContainsFunc(picked, func(p news) bool { return p.kind == n.kind })
		})
		if i >= 0 {
			picked = append(picked, all[i])
		}
	}
	elsewhere := func(n news) bool {
		return slices.ContainsFunc(n.plans, func(p *Plan) bool { return !slices.Contains(all[0].plans, p) }) || n.plans == nil
	}
	if all[0].weight >= otherWarning && !all[0].cause {
		blind := all[0].weight == notJudged || all[0].weight == notCompared // which hides what burns
		if take(func(n news) bool {
			return n.weight >= guardError && (blind || elsewhere(n)) && !strings.HasPrefix(n.kind, "unjudged")
		}); len(picked) == 1 {
			take(func(n news) bool { return n.cause && (len(n.plans) > 1 || !elsewhere(n)) })
		}
	}
	for len(picked) < min(len(all), 3-1) {
		before := len(picked)
		if take(func(news) bool { return true }); len(picked) == before {
			break
		}
	}
	for len(picked) < mostNews {
		before := len(picked)
		if take(func(n news) bool { return n.weight >= otherWarning }); len(picked) == before {
			break
		}
	}
	for _, n := range picked {
		out = append(out, n.line(r))
	}
	return out
}

// mostNews is how many lines of news stand below the headline.
const mostNews = 4

// line is the news with the plans that it is of.
func (n news) line(r *Report) string {
	if len(n.plans) == 0 {
		return n.text
	}
	var names []string
	sum := 0
	for i, p := range n.plans {
		name := r.label(p)
		if len(n.each) > 0 {
			sum += n.each[i]
			if len(n.plans) > 1 && n.each[i] > 1 {
				name += fmt.Sprintf(" %d", n.each[i])
			}
		}
		names = append(names, name)
	}
	text := n.text
	if len(n.plans) > 1 && n.many != "" {
		text = n.many
	}
	if len(n.each) > 0 {
		what := n.one
		if sum != 1 {
			what = fmt.Sprintf(n.some, sum)
		}
		if len(names) > 1 {
			what += ", in " + r.label(n.whose)
		}
		text = what + ": " + text
	}
	if len(names) == 1 {
		return clip(names[0]+": "+text, longestLine)
	}
	return clip(fmt.Sprintf("%d plans (%s): %s", len(names), listed(names, 4), text), longestLine)
}

// longestLine is how many characters of a line of news are told.
const longestLine = 320

// label is what to call a plan in a line: its name, or its directory where another
// plan has that name too.
func (r *Report) label(p *Plan) string {
	same := func(o *Plan) bool { return o != p && o.Name == p.Name }
	if p.Name == "" || p.Shares != "" || slices.ContainsFunc(r.Plans, same) {
		return oneLine(p.Dir)
	}
	return clip(oneLine(p.Name), 60)
}

// news gathers the news of all plans, those of one kind together, the gravest first.
func (r *Report) news() []news {
	at := map[string]int{}
	var out []news
	for _, p := range r.Plans {
		for _, n := range p.news() {
			key := fmt.Sprint(n.weight, " ", n.kind)
			if i, seen := at[key]; seen {
				m := &out[i]
				m.plans, m.each = append(m.plans, n.plans...), append(m.each, n.each...)
				if n.strain > m.strain {
					m.text, m.strain, m.whose = n.text, n.strain, n.whose
				}
				continue
			}
			at[key] = len(out)
			out = append(out, n)
		}
	}
	for _, b := range r.Baselines {
		out = append(out, b.news()...)
	}
	for _, d := range r.Drawers {
		out = append(out, news{weight: consequence, kind: "drawer " + d.Part, text: d.sentence()})
	}
	slices.SortStableFunc(out, func(a, b news) int { return cmp.Or(b.weight-a.weight, blind(a)-blind(b), len(b.plans)-len(a.plans)) })
	return out
}

// blind is 1 for news of plans that are not fully judged: it may be there for that.
func blind(n news) int {
	if len(n.plans) > 0 && n.plans[0].halfKnown() {
		return 1
	}
	return 0
}

// gravity is the weight of the gravest news of a plan.
func (p *Plan) gravity() int {
	most := 0
	for _, n := range p.news() {
		most = max(most, n.weight)
	}
	return most
}

// Arrange leaves out the plans of which nothing changed, and puts the others in the
// order of what there is to know of them, the gravest first whatever its name.
func (r *Report) Arrange() {
	r.Plans = slices.DeleteFunc(r.Plans, func(p *Plan) bool {
		if p.Same() && p.Moved != "" {
			r.Moved = append(r.Moved, Moved{p.Moved, p.Dir})
		}
		return p.Same()
	})
	for i := range r.Baselines {
		r.weigh(r.Baselines[i].New)
	}
	weight := map[*Plan]int{}
	for _, p := range r.Plans {
		weight[p] = p.gravity()
	}
	slices.SortStableFunc(r.Plans, func(a, b *Plan) int {
		return cmp.Or(weight[b]-weight[a],
			count(b.Findings.New, lint.Error)-count(a.Findings.New, lint.Error),
			count(b.Findings.New, lint.Warning)-count(a.Findings.New, lint.Warning),
			strings.Compare(a.Dir, b.Dir))
	})
}
