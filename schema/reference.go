package schema

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// trail is how far a conversion has followed named values.
type trail struct {
	depth int
	use   *Val
}

func (c *conversion) trail() trail { return trail{len(c.via), c.use} }
func (c *conversion) back(w trail) { c.via, c.use = c.via[:w.depth], w.use }

// follow replaces let.NAME by its value, however many lets it goes through; nil
// where that is none. Who calls it goes back when the value has been used.
func (c *conversion) follow(v *Val) *Val {
	for v != nil && v.Kind == RefVal && v.Steps[0].Name == "let" {
		if len(v.Steps) != 2 || v.Steps[1].Index != nil {
			c.fail(RuleRefUnknown, v, "%s is not a named value; write let.NAME", clip(v.String()))
			return nil
		}
		name := v.Steps[1].Name
		l, ok := c.sc.lets[name]
		c.r.looksUpLet(c.sc, name, l)
		if !ok {
			names := c.r.namesOf(letType.Name, c.sc)
			p := c.fail(RuleRefUnknown, &Val{At: v.Steps[1].At}, "there is no let.%s%s", name, c.r.instead(name, names, "write it into a let block"))
			if best, ok := nearest(name, names); ok {
				p.fix("Write let."+best, GradeChoice, Edit{v.Steps[1].At, best})
			}
			return nil
		}
		if c.own && c.use == nil {
			c.r.use(Use{At: v.Steps[1].At, Let: l})
		}
		if slices.Contains(c.via, l) {
			c.circle(l, v)
			return nil
		}
		if len(c.via) == mostLets {
			c.fail(RuleValueRange, v, "let.%s goes through more than %d other named values; shorten the chain", name, mostLets)
			return nil
		}
		if c.use == nil {
			c.use = v
		}
		c.via = append(c.via, l)
		v = l.Val
	}
	return v
}

// mostLets bounds how many named values one may go through.
const mostLets = 50

// circle reports a circle of named values once, at the one that closes it.
func (c *conversion) circle(l *LetValue, v *Val) {
	for _, x := range c.via {
		if c.r.circled[x] {
			return
		}
	}
	if c.r.circled == nil {
		c.r.circled = map[*LetValue]bool{}
	}
	for _, x := range c.via {
		c.r.circled[x] = true
	}
	use := c.use
	c.use = nil // it is the value itself that is wrong, not where it is used
	c.fail(RuleRefCycle, v, "let.%s is made of itself%s; give one of them a value of its own", l.Name, c.through(l))
	c.use = use
}

// through names what lies on a circle of named values between l and itself.
func (c *conversion) through(l *LetValue) string {
	out := ""
	for _, x := range c.via[slices.Index(c.via, l)+1:] {
		if out == "" {
			out = ", through let." + x.Name
		} else {
			out += " and let." + x.Name
		}
	}
	return out
}

// checkLet reports what is wrong with a named value by itself: a text that
// looks like a quantity with a unit that does not exist, a circle, an unknown
// name. Its dimension is checked where it is used.
func (r *resolver) checkLet(l *LetValue) {
	c := conversion{r: r, a: &Attr{Name: "let." + l.Name, Example: `"16 in"`}, sc: r.scope, own: true}
	switch l.Val.Kind {
	case BadVal:
		r.badValue(l.Val, "a value")
	case RefVal:
		if l.Val.Steps[0].Name == "let" {
			w := c.trail()
			c.follow(l.Val)
			c.back(w)
		}
	case CallVal:
		for d := quantity.Length; d <= quantity.Money; d++ {
			trial := conversion{r: &resolver{plan: &Plan{}, scope: r.scope}, a: c.a, sc: r.scope, own: true}
			if _, ok := trial.quantity(l.Val, d); ok {
				c.quantity(l.Val, d) // for its uses
				return
			}
		}
		for d := quantity.Length; d <= quantity.Money && len(l.Val.Items) > 0; d++ {
			trial := conversion{r: &resolver{plan: &Plan{}, scope: r.scope}, a: c.a, sc: r.scope, own: true}
			if _, ok := trial.quantity(l.Val.Items[0], d); ok {
				c.quantity(l.Val, d) // the others go wrong against the first
				return
			}
		}
		c.quantity(l.Val, quantity.Length)
	}
}

// Quantity works a named value out as a quantity of whatever dimension it has.
func (p *Plan) Quantity(l *LetValue) (Quantity, bool) {
	for d := quantity.Length; d <= quantity.Money; d++ {
		c := conversion{r: &resolver{plan: &Plan{}}, a: &Attr{}, sc: &scope{lets: p.lets, named: p.named}, own: true}
		if l.Val.Kind == ListVal || l.Val.Kind == MapVal || l.Val.Kind == NumberVal {
			return Quantity{}, false
		}
		if q, ok := c.quantity(l.Val, d); ok {
			return q, true
		}
	}
	return Quantity{}, false
}

// reference finds the block that an attribute of kind Reference names.
func (c *conversion) reference(v *Val) (Block, bool) {
	if v.Kind != RefVal {
		b, ok := c.mismatch(v, Reference)
		if !ok {
			return nil, false
		}
		return b.(Block), true
	}
	return c.r.reference(v, c.a.Types, c.sc, c.of, c.own)
}

// reference finds the block that a traversal names: TYPE.NAME or catalog.NAME.
func (r *resolver) reference(v *Val, types []string, sc *scope, of *Header, own bool) (Block, bool) {
	report := func(rule string, at source.Span, format string, args ...any) *Problem {
		if !own {
			return &Problem{}
		}
		return r.report(rule, at, format, args...)
	}
	if v.Kind != RefVal {
		report(RuleValueKind, v.At, "%s is %s; a reference such as %s.NAME belongs here", clip(v.String()), valNames[v.Kind], types[0])
		return nil, false
	}
	b, rest, ok := r.named(v, sc, types, of, report)
	if !ok {
		return nil, false
	}
	if !slices.Contains(types, b.header().Type.Name) {
		report(RuleRefKind, v.At, "%s is %s where %s belongs", clip(v.String()), an(b.header().Type.Name), an(strings.Join(types, " or ")))
		return nil, false
	}
	if len(rest) > 0 {
		report(RuleRefKind, rest[0].At, "%s is a place on %s; here the %s itself belongs", clip(v.String()), b.header().ID(), b.header().Type.Name).
			fix("Write "+b.header().ID(), GradeChoice, Edit{v.At, b.header().ID()})
		return nil, false
	}
	if own && (of == nil || of.Copy < 2) {
		r.use(Use{At: v.Steps[1].At, Target: b})
	}
	return b, true
}

// named finds the block at the root of a traversal and gives the steps behind it.
func (r *resolver) named(v *Val, sc *scope, types []string, of *Header, report func(string, source.Span, string, ...any) *Problem) (Block, []RefStep, bool) {
	root := v.Steps[0]
	_, isType := TypeNamed(root.Name)
	if root.Name != "catalog" && !isType {
		roots := append([]string{"catalog", "let"}, types...)
		if len(v.Steps) == 1 { // a name without what it belongs to
			for _, whole := range []string{types[0] + "." + root.Name, "catalog." + root.Name} {
				if b, ok := r.lookUp(whole, sc); ok && slices.Contains(types, b.header().Type.Name) {
					report(RuleRefUnknown, root.At, "%q is a name without its kind; write %s", root.Name, whole).
						fix("Write "+whole, GradeNotation, Edit{v.At, whole})
					return nil, nil, false
				}
			}
		}
		p := report(RuleRefUnknown, root.At, "%q is not a kind of block; a reference such as %s.NAME belongs here%s", root.Name, types[0], suggestion(root.Name, roots))
		if best, ok := nearest(root.Name, roots); ok {
			p.fix("Write "+best, GradeChoice, Edit{root.At, best})
		}
		return nil, nil, false
	}
	if len(v.Steps) < 2 {
		report(RuleRefUnknown, v.At, "%s needs a name behind it, such as %s.NAME", root.Name, root.Name)
		return nil, nil, false
	}
	name, nameAt := v.Steps[1].Name, v.Steps[1].At
	if ix := v.Steps[1].Index; ix != nil {
		name = ix.Text
	}
	if root.Name == "catalog" {
		if b, ok := r.entry(name); ok {
			return b, v.Steps[2:], true
		}
		names := Catalogue().names(types...)
		p := report(RuleRefUnknown, nameAt, "the catalogue has no %s %q%s", strings.Join(types, " or "), name, suggestion(name, names))
		if best, ok := nearest(name, names); ok {
			p.fix("Write catalog."+best, GradeChoice, Edit{nameAt, best})
		}
		return nil, nil, false
	}
	r.id = append(append(append(r.id[:0], root.Name...), '.'), name...)
	b, ok := sc.named[string(r.id)]
	if !ok || of != nil && of.frame != nil {
		if name, ok = r.copyMeant(v, sc, of, report); !ok {
			return nil, nil, false
		}
		r.id = append(append(append(r.id[:0], root.Name...), '.'), name...)
		b, ok = sc.named[string(r.id)]
	}
	r.looksUp(sc, b)
	if ok {
		return b, v.Steps[2:], true
	}
	if !slices.Contains(types, root.Name) {
		report(RuleRefKind, v.At, "%s is %s where %s belongs", clip(v.String()), an(root.Name), an(strings.Join(types, " or ")))
		return nil, nil, false
	}
	names := r.namesOf(root.Name, sc)
	if x, ok := sc.split(root.Name, "", name); ok && len(x.of) > 0 {
		report(RuleRefUnknown, nameAt, "there is no %s %q; %s", root.Name, name, x.instead())
		return nil, nil, false
	}
	if base, _, picked := lastPick(name); picked { // several copies of a block whose name is misspelt
		of := len(names)
		names = slices.Clone(names)
		for id := range sc.copied {
			if block, ok := strings.CutPrefix(id, root.Name+"."); ok {
				names = append(names, block+strings.TrimPrefix(name, base))
			}
		}
		slices.Sort(names[of:])
	}
	p := report(RuleRefUnknown, nameAt, "there is no %s %q%s", root.Name, name, r.instead(name, names, "add a block for it"))
	if best, ok := nearest(name, names); ok {
		p.fix("Write "+root.Name+"."+best, GradeChoice, Edit{nameAt, best})
	}
	if _, ok := r.entry(name); ok {
		p.fix("Write catalog."+name, GradeChoice, Edit{source.Span{Piece: v.At.Piece, Start: root.At.Start, End: nameAt.End}, "catalog." + name})
	}
	return nil, nil, false
}

// copyMeant gives the whole name of what a name in a block stands for; false where
// that is not one thing.
func (r *resolver) copyMeant(v *Val, sc *scope, of *Header, report func(string, source.Span, string, ...any) *Problem) (string, bool) {
	step := v.Steps[1]
	name := step.Name
	if step.Index != nil {
		name = step.Index.Text
	}
	typeName := v.Steps[0].Name
	x, ok := sc.copies(typeName, name, of)
	if !ok {
		base, p, picked := lastPick(name)
		if n := sc.copied[typeName+"."+base]; picked && p.beside != "" && len(n) > 0 && (of == nil || len(of.numbers) == 0) {
			first, _ := n.numbered(0)
			report(RuleRefUnknown, step.At, "%s is %s, and this block has no times; name one copy, such as %s", name, beside[p.beside], copyNamed(base, first))
			return "", false
		}
		if picked && p.beside != "" && of != nil && len(of.numbers) > 0 { // blocks with numbers that are written out
			numbers := slices.Clone(of.numbers)
			numbers[len(numbers)-1] += map[string]int{pickNext: 1, pickPrevious: -1}[p.beside]
			return copyNamed(base, numbers), true
		}
		return name, true
	}
	if one, ok := x.one(); ok {
		return one, true
	}
	if len(x.picks) == 0 {
		id := v.Steps[0].Name + "." + name
		report(RuleRefUnknown, v.At, "%s stands for %d copies; name one (%s-1), or write %s-each in a block that has times as well", id, x.count(), id, id)
		return "", false
	}
	report(RuleRefUnknown, v.At, "%s stands for %d copies, and here one belongs; several may stand in a list", clip(v.String()), x.count())
	return "", false
}

// beside says which copy each, next and previous are.
var beside = map[string]string{pickEach: "the copy with the same number", pickNext: "the copy after", pickPrevious: "the copy before"}

// instead is the tail of a message about an unknown name: the one that was meant, or else those that there are and what
// to do for another.
func (r *resolver) instead(written string, names []string, add string) string {
	switch say := suggestion(written, names); {
	case say != "":
		return say
	case len(names) > 0:
		return fmt.Sprintf("; write one that there is (%s), or %s", listed(names), add)
	case len(r.plan.Problems) > mostProblems: // they were not looked for
		return ""
	}
	return "; " + add
}

// namesOf lists the names of the blocks of a type, of those of the plan once for
// all problems; and none when there are more problems than are shown.
func (r *resolver) namesOf(typeName string, sc *scope) []string {
	if len(r.plan.Problems) > mostProblems {
		return nil
	}
	own := sc == r.scope
	if names, ok := r.names[typeName]; own && ok {
		return names
	}
	var names []string
	if typeName == letType.Name {
		names = slices.Collect(maps.Keys(sc.lets))
	}
	for id := range sc.named {
		if name, ok := strings.CutPrefix(id, typeName+"."); ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	if own {
		if r.names == nil {
			r.names = map[string][]string{}
		}
		r.names[typeName] = names
	}
	return names
}

// lookUp finds a block by its address.
func (r *resolver) lookUp(id string, sc *scope) (Block, bool) {
	if name, ok := strings.CutPrefix(id, "catalog."); ok {
		return r.entry(name)
	}
	b, ok := sc.named[id]
	r.looksUp(sc, b)
	return b, ok
}

// entry finds an entry of the catalogue.
func (r *resolver) entry(name string) (Block, bool) {
	if r.within != nil {
		return r.within.entryLocked(name)
	}
	return Catalogue().entry(name)
}

// orderedRun reads run.a or from_end(run.a).
func (c *conversion) orderedRun(v *Val) (RunRef, bool) {
	out := RunRef{At: v.At}
	if v.Kind == CallVal {
		if v.Func.Text != "from_end" || len(v.Items) != 1 {
			c.fail(RuleFunction, v, "%s is no run; in an order a run stands as run.NAME or from_end(run.NAME)", clip(v.String()))
			return out, false
		}
		out.FromEnd = true
		v = v.Items[0]
	}
	if v.Kind != RefVal {
		c.fail(RuleValueKind, v, "%s is %s; a run is named as run.NAME", clip(v.String()), valNames[v.Kind])
		return out, false
	}
	b, ok := c.r.reference(v, []string{"run"}, c.sc, c.of, c.own)
	if !ok {
		return out, false
	}
	out.Run = b.(*Run)
	return out, true
}

// point resolves a place: supply.brick.out, run.arch["1.5 m"].
func (c *conversion) point(v *Val) (any, bool) {
	if v.Kind != RefVal {
		return c.mismatch(v, Place)
	}
	report := func(rule string, at source.Span, format string, args ...any) *Problem {
		if !c.own {
			return &Problem{}
		}
		return c.r.report(rule, at, format, args...)
	}
	types := PlaceTypes(c.a.Places)
	b, rest, ok := c.r.named(v, c.sc, types, c.of, report)
	if !ok {
		return nil, false
	}
	h := b.header()
	switch {
	case h.Home == InCatalogue:
		report(RuleRefKind, v.At, "%s is a catalogue entry, not a thing on the wall; write %s \"NAME\" { like = %s } and name that", clip(v.String()), h.Type.Name, h.ID())
		return nil, false
	case h.Home == InStock:
		report(RuleRefKind, v.At, "%s is a stock part, not a thing on the wall; write %s %q { like = %s } in the plan", clip(v.String()), h.Type.Name, h.Name, h.ID())
		return nil, false
	case !slices.Contains(types, h.Type.Name):
		report(RuleRefKind, v.At, "%s is %s; %s takes %s", clip(v.String()), an(h.Type.Name), c.a.Name, placeList(c.a.Places))
		return nil, false
	}
	if c.own && (c.of == nil || c.of.Copy < 2) {
		c.r.use(Use{At: v.Steps[1].At, Target: b})
	}
	return c.placeOn(v, b, rest, report)
}

// fed finds the block of a place in a list of places, or the block that stands there as a whole.
func (c *conversion) fed(v *Val) (Block, bool) {
	if v.Kind == RefVal && len(v.Steps) == 2 && slices.Contains(c.a.Types, v.Steps[0].Name) {
		b, ok := c.r.reference(v, c.a.Types, c.sc, c.of, c.own)
		if ok && b.header().Type == chainType {
			c.r.effectiveOf(b) // its runs count
		}
		return b, ok
	}
	pt, ok := c.point(v)
	if !ok {
		return nil, false
	}
	return pt.(*Point).Block(), true
}

func (c *conversion) placeOn(v *Val, b Block, rest []RefStep, report func(string, source.Span, string, ...any) *Problem) (any, bool) {
	id := b.header().ID()
	wrong := func(want string, fixes ...string) (any, bool) {
		is := "is not a place"
		if len(rest) > 0 {
			is = "is not a place that can stand here"
		}
		p := report(RuleRefKind, v.At, "%s %s; write %s", clip(v.String()), is, want)
		for _, f := range fixes {
			p.fix("Write "+f, onlyOf(len(fixes)), Edit{v.At, f})
		}
		return nil, false
	}
	step := func(i int) string {
		if i < len(rest) && rest[i].Index == nil {
			return rest[i].Name
		}
		return ""
	}
	switch b := b.(type) {
	case *Supply:
		pt := &Point{Kind: SupplyOut, Supply: b, Output: 1}
		if len(rest) == 0 && c.a.Name == "at" {
			return pt, true // a reading is taken at a supply as such
		}
		if step(0) != "out" || len(rest) > 2 {
			return wrong(id+".out", id+".out")
		}
		if len(rest) == 2 {
			ix := rest[1].Index
			n := c.r.outputsOf(b)
			if ix == nil || ix.Kind != NumberVal || ix.Number != float64(int(ix.Number)) || ix.Number < 1 || int(ix.Number) > n {
				report(RuleValueRange, rest[1].At, "%s has %s, counted from 1; %s is none of them", id, quantity.Count(n, "output"), clip(v.String()))
				return nil, false
			}
			pt.Output = int(ix.Number)
		}
		return pt, true
	case *Joint:
		if len(rest) > 0 {
			return wrong(id, id)
		}
		return &Point{Kind: JointPlace, Joint: b}, true
	case *Controller:
		if len(rest) == 1 && step(0) == "power" && slices.Contains(c.a.Places, ControllerPower) {
			return &Point{Kind: ControllerPower, Controller: b}, true
		}
		if len(rest) == 2 && step(0) == "port" && slices.Contains(c.a.Places, ControllerPort) {
			name := step(1)
			if rest[1].Index != nil {
				name = rest[1].Index.Text
			}
			for _, n := range c.r.effectiveOf(b).blocks {
				if n.Type == "port" && n.Label() == name {
					return &Point{Kind: ControllerPort, Controller: b, Port: &Port{Header: Header{Type: portType, Name: name, Node: n.Node, Home: b.Home}, Controller: b}}, true
				}
			}
			var ports []string
			for _, n := range c.r.effectiveOf(b).blocks {
				if n.Type == "port" {
					ports = append(ports, n.Label())
				}
			}
			p := report(RuleRefUnknown, rest[1].At, "%s has no port %q; %s", id, name, portsSay(ports))
			if best, ok := nearest(name, ports); ok {
				p.fix("Write "+best, GradeChoice, Edit{rest[1].At, best})
			}
			return nil, false
		}
		if slices.Contains(c.a.Places, ControllerPower) {
			return wrong(id+".power", id+".power")
		}
		return wrong(id + ".port.NAME")
	case *Run:
		return c.placeOnRun(v, b, rest, report)
	case *Lead:
		for _, at := range LeadPlaces {
			if len(rest) < 2 && leadSteps[at] == strings.TrimSuffix("."+step(0), ".") {
				return &Point{Kind: LeadPlace, Lead: b, Where: at}, true
			}
		}
		return wrong(fmt.Sprintf("%s for all of it, or %[1]s.from, .fuse, .to_fuse, .wire or .to for a part of it", id), id)
	}
	return wrong(placeList(c.a.Places))
}

func portsSay(names []string) string {
	if len(names) == 0 {
		return `write port "NAME" { pin = … } in it`
	}
	return "it has " + strings.Join(names, ", ")
}

// outputsOf reads a supply's number of outputs from its text, what it is like
// included: the point may be resolved before the supply's own form is filled.
func (r *resolver) outputsOf(s *Supply) int {
	for _, a := range r.effectiveOf(s).assigns {
		if a.Name != "outputs" {
			continue
		}
		if n, ok := r.convert(supplyType.must("outputs"), a.Val, r.scopeOf(a.lib), s.header(), false); ok {
			return n.(int)
		}
	}
	return 1
}

func (c *conversion) placeOnRun(v *Val, run *Run, rest []RefStep, report func(string, source.Span, string, ...any) *Problem) (any, bool) {
	id := run.ID()
	pt := &Point{Kind: RunPlace, Run: run}
	anywhere := slices.Contains(c.a.Places, RunPlace)
	switch {
	case len(rest) == 1 && rest[0].Index == nil && rest[0].Name == "start":
		return pt, true
	case len(rest) == 1 && rest[0].Index == nil && rest[0].Name == "end":
		pt.Where = AtEnd
		return pt, true
	case len(rest) == 1 && rest[0].Index != nil && anywhere:
		return c.placeAt(pt, rest[0], report)
	}
	want := fmt.Sprintf("%s.start or %s.end", id, id)
	if anywhere {
		want = fmt.Sprintf("%s.start, %s.end, %s[\"1.5 m\"] or %s[90]", id, id, id, id)
	}
	p := report(RuleRefKind, v.At, "%s is not a place; write %s", clip(v.String()), want)
	for _, end := range []string{"start", "end"} {
		if anywhere || (end == "end") == (c.a.Name == "from") { // data comes from an end and goes to a start
			p.fix("Write "+id+"."+end, GradeChoice, Edit{v.At, id + "." + end})
		}
	}
	return nil, false
}

func (c *conversion) placeAt(pt *Point, step RefStep, report func(string, source.Span, string, ...any) *Problem) (any, bool) {
	defer c.back(c.trail())
	ix := c.follow(step.Index)
	if ix == nil {
		return nil, false
	}
	if ix.Kind == NumberVal {
		if ix.Number != float64(int64(ix.Number)) || ix.Number < 0 || ix.Number > mostPixels {
			report(RuleValueRange, step.At, "[%s] is not a pixel; pixels are counted from 0 in whole numbers", clip(ix.Text))
			return nil, false
		}
		pt.Where, pt.Pixel = AtPixel, int(ix.Number)
		return pt, true
	}
	inner := *c
	inner.a = indexAttr
	q, ok := inner.measure(ix, quantity.Length)
	if !ok {
		return nil, false
	}
	pt.Where, pt.Distance = AtDistance, q
	return pt, true
}

// PlaceTypes lists the block types that places of some kinds lie on.
func PlaceTypes(ks []PlaceKind) []string {
	var out []string
	for _, k := range ks {
		t := [...]string{"supply", "joint", "controller", "controller", "run", "run", "lead"}[k]
		if !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

func placeList(ks []PlaceKind) string {
	var out []string
	for _, k := range ks {
		out = append(out, k.Example())
	}
	return strings.Join(out, ", ")
}
