package schema

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/schema/source"
)

// Assembly is a group of blocks that belong together, made once or several times.
// Its members are blocks of the plan like any other, under names that begin with
// its own.
type Assembly struct {
	Header
	Times    Value[int]      `attr:"times"`
	Shift    Value[XY]       `attr:"shift"`
	Rows     Value[int]      `attr:"rows"`
	RowShift Value[XY]       `attr:"row_shift"`
	Place    Value[XY]       `attr:"at"`
	Turn     Value[Quantity] `attr:"turn"`
	Mirror   Value[string]   `attr:"mirror"`
}

var assemblyType = &BlockType{
	Name: "assembly", Label: "name",
	Doc: "Holds blocks that belong together, such as a ring with its tap and the hop to the next one: made once or several times, and placed as one.",
	Detail: "Places in it are counted from a corner of its own. A member is named by its plain name in it (run.hoop, and run.hoop-next for that of the next copy) and as run.NAME-hoop from outside, run.NAME-hoop-7 in the seventh copy; in rows the number of the row goes before. " +
		"What leads to the next copy is not made in the last one, and what leads to the previous one not in the first. In lists of runs assembly.NAME stands for all of its runs, assembly.NAME-7 for those of one copy, and in the assembly itself run.all.",
	Example: `assembly "ring" {
  times = 40
  shift = ["60 cm", "0 cm"]
  at    = ["50 cm", "95 cm"]
  run "hoop" {
    strip  = strip.arch
    length = "90 cm"
  }
  signal "hop" {
    from = run.hoop.end
    to   = run.hoop-next.start
  }
}`,
	Attrs: []Attr{
		{Name: "times", Kind: Integer, Least: 1, Most: mostTimes, Doc: "Makes so many copies of all that it holds, each moved by shift from the one before.", Example: "40"},
		spot("shift", `["60 cm", "0 cm"]`, "How far each copy lies from the one before, right and up."),
		{Name: "rows", Kind: Integer, Least: 1, Most: mostTimes, Doc: "Makes so many rows of the copies, each moved by row_shift from the one before.", Detail: "Copies are counted row by row, and the last copy of a row is followed by the first of the next.", Example: "4"},
		spot("row_shift", `["0 cm", "60 cm"]`, "How far each row lies from the one before, right and up."),
		spot("at", `["50 cm", "95 cm"]`, "Where its corner is put on the surface, or in the assembly that it stands in."),
		turn("Turns each copy about its corner, counter-clockwise."),
		mirror("Mirrors each copy at its corner, before it is turned; runs keep their start and end."),
	},
	form: func() former { return new(Assembly) },
}

// memberTypes are what an assembly may hold.
var memberTypes = []*BlockType{runType, jointType, supplyType, controllerType, leadType, signalType, chainType, feedType}

// MemberOf reports whether a block in one of another type is a block of the plan
// itself, of a type that stands for itself in the language.
func (t *BlockType) MemberOf(outer *BlockType) bool {
	return outer != nil && (outer.Name == runsName && t == runType || outer.Name == assemblyType.Name && (t.Name == assemblyType.Name || slices.Contains(memberTypes, t)))
}

func init() { // what holds itself cannot be declared in one piece
	for _, t := range memberTypes {
		if _, ok := t.Attr("times"); ok {
			t.Blocks = append(t.Blocks, varying(t))
		}
	}
	inside := *assemblyType
	inside.Name, inside.Label, inside.Attrs, inside.Example = "copy", "number of copies", nil, "copy \"7\" {\n  run \"hoop\" { length = \"80 cm\" }\n}"
	inside.Doc, inside.Detail = "Says what is different in a copy, or in some: \"7\", \"11-to-20\", \"odd\", \"even\" or \"last\".", "What stands in a member there wins over what the assembly says of it."
	inside.Blocks = memberTypes
	inside.form = func() former { return new(struct{ Header }) }
	assemblyType.Blocks = append(slices.Clone(memberTypes), runsType, &inside)
	for range deepestAssembly - 1 {
		inner := *assemblyType
		assemblyType.Blocks = append(slices.Clone(memberTypes), runsType, &inside, &inner)
	}
}

// varying is the block in one of a type that says what is different in some copies.
func varying(t *BlockType) *BlockType {
	v := *t
	v.Name, v.Label, v.Part, v.Varies = "copy", "number of copies", false, t
	v.Doc, v.Detail = "Says what is different in a copy, or in some: \"7\", \"11-to-20\", \"odd\", \"even\" or \"last\".", ""
	for _, a := range t.Attrs {
		if a.Name == "length" || a.Name == "at" {
			v.Example = fmt.Sprintf("copy \"7\" { %s = %s }", a.Name, a.Example)
		}
	}
	v.Attrs = slices.DeleteFunc(slices.Clone(t.Attrs), func(a Attr) bool { return a.Name == "times" })
	return &v
}

// assembled is an assembly with all that it holds, whatever its copies.
type assembled struct {
	says    []*Node
	of      counts // of this assembly alone
	members []*memberNode
	runs    float64 // in one copy
	blocks  float64 // that one copy makes, those of assemblies in it included
}

// memberNode is what an assembly says of a member: a block, or an assembly.
type memberNode struct {
	t      *BlockType
	nodes  []*Node // its own one first, then those of what the assembly is like
	times  int     // copies of its own; 0 where it has no times
	inside *assembled
	name   string // of an assembly, with those around it
}

// deepestAssembly bounds how far assemblies stand in one another.
const deepestAssembly = 3

// findAssemblies notes where each assembly is written, those in others too.
func (r *resolver) findAssemblies(nodes []*Node, outer string, depth int) {
	for _, n := range nodes {
		if n.Type != assemblyType.Name || n.Label() == "" || depth > deepestAssembly {
			continue
		}
		name := outer + n.Label()
		if _, dup := r.assemblies[name]; !dup {
			r.assemblies[name] = n
		}
		r.findAssemblies(n.Blocks, name+"-", depth+1)
	}
}

// assemble works out what an assembly holds, before anything is made; nil where that cannot be.
func (r *resolver) assemble(n *Node, outer string, trail []*Node) *assembled {
	if len(trail) == deepestAssembly {
		r.report(RuleTooLarge, n.Head, "assembly %q stands in %d others; they are read %d deep, so it is left out: place it by itself", n.Label(), len(trail), deepestAssembly)
		return nil
	}
	a := &assembled{says: []*Node{n}}
	for base := n; ; {
		base = r.assemblyLike(base, outer)
		if base == nil {
			break
		}
		if slices.Contains(a.says, base) || slices.Contains(trail, base) {
			if like, ok := n.Assign("like"); ok && slices.Contains(trail, base) {
				r.report(RuleRefCycle, like.Val.At, "assembly %q is like one that it stands in; break the circle", n.Label())
				return nil
			}
			break // the block itself reports it
		}
		a.says = append(a.says, base)
	}
	f := frame{says: a.says}
	var ok [2]bool
	for i, name := range []string{"rows", "times"} {
		number, good := 0, true
		if as, written := f.assign(name); written {
			number, good = r.number(assemblyType, as)
		}
		ok[i] = good
		if number > 0 {
			a.of = append(a.of, number)
		}
	}
	if !ok[0] || !ok[1] {
		return nil
	}
	name := outer + n.Label()
	for i := len(a.says) - 1; i >= 0; i-- {
		for _, c := range a.says[i].members() {
			t, known := TypeNamed(c.Type)
			if !known || !t.MemberOf(assemblyType) {
				continue
			}
			if at := slices.IndexFunc(a.members, func(m *memberNode) bool { return m.t == t && m.nodes[0].Label() == c.Label() }); at >= 0 && !slices.Contains(a.says[i].members(), a.members[at].nodes[0]) {
				a.members[at].nodes = append([]*Node{c}, a.members[at].nodes...)
				continue
			}
			a.members = append(a.members, &memberNode{t: t, nodes: []*Node{c}})
		}
	}
	if r.members += len(a.members); r.members > mostCopies {
		r.report(RuleTooLarge, n.Head, "assembly %q and those before hold more than %d blocks, those that they take over with like included; so many are not read: split the plan", n.Label(), mostCopies)
		return nil
	}
	for _, m := range a.members {
		if m.t == assemblyType {
			m.name = name + "-" + m.nodes[0].Label()
			if m.inside = r.assemble(m.nodes[0], name+"-", append(slices.Clone(trail), a.says...)); m.inside == nil {
				continue
			}
			a.runs += float64(m.inside.of.product()) * m.inside.runs
			a.blocks += float64(m.inside.of.product()) * max(m.inside.blocks, 1)
			continue
		}
		m.times = 0
		for _, c := range m.nodes {
			if as, written := c.Assign("times"); written {
				m.times, _ = r.number(m.t, as)
				break
			}
		}
		a.blocks += float64(max(m.times, 1))
		if m.t == runType {
			a.runs += float64(max(m.times, 1))
		}
	}
	return a
}

// number reads an attribute that says how many; the block itself reports what is wrong.
func (r *resolver) number(t *BlockType, a *Assign) (int, bool) {
	attr, declared := t.Attr(a.Name)
	if !declared {
		return 0, true
	}
	quiet := &resolver{plan: &Plan{}, scope: r.scope}
	x, ok := quiet.convert(attr, a.Val, r.scope, nil, true)
	if !ok {
		return 0, false
	}
	return x.(int), true
}

// assemblyLike finds the assembly that one is like, by the name that it has where the first stands.
func (r *resolver) assemblyLike(n *Node, outer string) *Node {
	a, ok := n.Assign("like")
	if !ok || a.Val.Kind != RefVal || len(a.Val.Steps) != 2 || a.Val.Steps[0].Name != assemblyType.Name {
		return nil
	}
	for {
		if base, ok := r.assemblies[outer+a.Val.Steps[1].Name]; ok {
			return base
		}
		if outer == "" {
			return nil
		}
		outer = outer[:strings.LastIndexByte(strings.TrimSuffix(outer, "-"), '-')+1]
	}
}

// collectAssembly files an assembly and, for each of its copies, its members.
func (r *resolver) collectAssembly(n *Node, home Home) {
	h := Header{Type: assemblyType, Node: n, Home: home, Name: n.Label()}
	h.Broken = !r.label(n, assemblyType)
	if h.Broken {
		r.register(h)
		return
	}
	a := r.assemble(n, "", nil)
	if a == nil {
		h.Broken = true
		r.register(h)
		return
	}
	total := float64(a.of.product()) * max(a.blocks, 1)
	if r.made > mostCopies {
		h.Broken = true
	} else if all := float64(r.made) + total; all > mostCopies {
		h.Broken = true
		r.made = mostCopies + 1
		r.report(RuleTooLarge, n.Head, "assembly %q makes %.0f blocks in %d copies, %.0f in the plan with those before; at most %d are made in a plan, so these and those behind are left out: make fewer, or split the plan",
			n.Label(), total, a.of.product(), all, mostCopies)
	} else {
		r.made = int(all)
	}
	if h.Broken {
		a.members = nil
	}
	r.fileAssembly(h, a, nil)
}

// fileAssembly files an assembly and its members in all copies of what is around it.
func (r *resolver) fileAssembly(h Header, a *assembled, outer []*frame) {
	r.register(h)
	around := counts{}
	if len(outer) == 0 {
		outer = []*frame{nil}
	} else {
		around = r.scope.copied[assemblyType.Name+"."+outer[0].name]
	}
	of := append(slices.Clone(around), a.of...)
	r.scope.copied[assemblyType.Name+"."+h.Name] = of
	r.scope.assemblies[h.Name] = a
	var frames []*frame
	for _, o := range outer {
		for i := range a.of.product() {
			f := &frame{outer: o, name: h.Name, says: a.says, of: a.of}
			own, _ := a.of.numbered(i)
			if o != nil {
				f.numbers = slices.Clone(o.numbers)
			}
			f.numbers = append(f.numbers, own...)
			frames = append(frames, f)
		}
	}
	variations := r.variations(a)
	for _, m := range a.members {
		c := Header{Type: m.t, Node: m.nodes[0], Home: h.Home}
		c.Broken = !r.label(c.Node, m.t)
		if m.inside != nil {
			c.Name, c.frame, c.numbers = m.name, frames[0], frames[0].numbers
			r.fileAssembly(c, m.inside, frames)
			continue
		}
		if m.t == assemblyType || c.Broken {
			continue
		}
		r.scope.copied[m.t.Name+"."+h.Name+"-"+c.Node.Label()] = of
		if m.times > 0 {
			r.scope.copied[m.t.Name+"."+h.Name+"-"+c.Node.Label()] = append(slices.Clone(of), m.times)
		}
		made := 0
		for _, f := range frames {
			c := c
			c.frame = f
			if vs := variations.of(f, m); len(vs)+len(m.nodes) > 1 {
				c.says = append(vs, m.nodes...)
			}
			if leadsNowhere(&c, a) {
				continue
			}
			r.fileMember(c, m, len(of) > 0, &made)
		}
	}
}

// fileMember files a member in one copy, as often as it has copies of its own.
func (r *resolver) fileMember(c Header, m *memberNode, copied bool, made *int) {
	base := c.frame.name + "-" + c.Node.Label()
	own := r.variedCopies(c.Node, m.times)
	for i := range max(m.times, 1) {
		c := c
		c.numbers = c.frame.numbers
		if m.times > 0 {
			c.numbers = append(slices.Clone(c.numbers), i+1)
			c.says = c.vary(own[i])
		}
		if copied || m.times > 0 {
			*made++
			c.Copy = *made
		}
		c.Name = copyNamed(base, c.numbers)
		r.register(c)
	}
}

// fileMade files what a member makes, in the copy of that.
func (r *resolver) fileMade(n *Node, maker *Header) {
	t, ok := TypeNamed(n.Type)
	if !ok {
		return
	}
	base := maker.frame.name + "-" + n.Label()
	r.scope.copied[t.Name+"."+base] = r.scope.copied[maker.Type.Name+"."+maker.Base()]
	r.register(Header{Type: t, Node: n, Home: maker.Home, Name: copyNamed(base, maker.numbers), Copy: maker.Copy, frame: maker.frame, numbers: maker.numbers})
}

// leadsNowhere reports whether a member leads to the next copy in the last one, or to the previous one in the first.
func leadsNowhere(h *Header, a *assembled) bool {
	seen := map[string]bool{}
	for _, n := range h.Written() {
		for _, as := range n.Assigns {
			if seen[as.Name] {
				continue
			}
			seen[as.Name] = true
			if namesMissing(as.Val, h.frame, a) {
				return true
			}
		}
	}
	return false
}

func namesMissing(v *Val, f *frame, a *assembled) bool {
	if v.Kind == RefVal && len(v.Steps) > 1 {
		base, p, ok := lastPick(v.Steps[1].Name)
		if ok && p.beside != "" && f.lacks(p.beside) && a.holds(v.Steps[0].Name, base) {
			return true
		}
	}
	return slices.ContainsFunc(v.Items, func(x *Val) bool { return namesMissing(x, f, a) })
}

// holds reports whether a name is that of a member that is made once in a copy.
func (a *assembled) holds(typeName, name string) bool {
	return slices.ContainsFunc(a.members, func(m *memberNode) bool {
		if m.inside != nil {
			inner, ok := strings.CutPrefix(name, m.nodes[0].Label()+"-")
			return ok && len(m.inside.of) == 0 && m.inside.holds(typeName, inner)
		}
		return m.t.Name == typeName && m.nodes[0].Label() == name && m.times == 0
	})
}

// runsOf adds the runs of one copy of an assembly, or of all copies in it, in the order of the text.
func (sc *scope) runsOf(out []member, base string, numbers []int) []member {
	a := sc.assemblies[base]
	for _, m := range a.members {
		switch {
		case m.inside != nil:
			for i := range m.inside.of.product() {
				own, _ := m.inside.of.numbered(i)
				out = sc.runsOf(out, m.name, append(slices.Clone(numbers), own...))
			}
		case m.t == runType:
			name := base + "-" + m.nodes[0].Label()
			if m.times == 0 {
				out = append(out, member{runType.Name, copyNamed(name, numbers)})
			}
			for i := range m.times {
				out = append(out, member{runType.Name, copyNamed(name, append(slices.Clone(numbers), i+1))})
			}
		}
	}
	return out
}

// variation is what a copy block says of some copies.
type variation struct {
	which pick
	node  *Node
}

type variations []variation

// variations reads the copy blocks of an assembly.
func (r *resolver) variations(a *assembled) (out variations) {
	for _, c := range a.says[0].Blocks { // the copies of what it is like are not taken over, nor what is different in them
		if c.Type != "copy" {
			continue
		}
		p, ok := r.which(c, a.of.product())
		if !ok {
			continue
		}
		out = append(out, variation{p, c})
		for _, m := range c.Blocks {
			t, known := TypeNamed(m.Type)
			if !known || slices.ContainsFunc(a.members, func(x *memberNode) bool { return x.t == t && x.nodes[0].Label() == m.Label() }) {
				continue
			}
			var names []string
			for _, x := range a.members {
				if x.t == t {
					names = append(names, x.nodes[0].Label())
				}
			}
			r.report(RuleRefUnknown, m.Head, "assembly %q has no %s %q; a copy block says what is different in what is there%s", a.says[0].Label(), m.Type, m.Label(), suggestion(m.Label(), names))
		}
	}
	return out
}

// which reads the copies that a copy block is about.
func (r *resolver) which(n *Node, of int) (p pick, ok bool) {
	label := n.Label()
	if label == "" || len(n.Labels) != 1 {
		return p, false // its shape is a problem of its own
	}
	_, p, ok = lastPick("x-" + label)
	switch {
	case !ok || p.beside != "" || p.from == 1 && p.to == 0 && p.step == 1:
		r.report(RuleValueUnknown, n.Labels[0].At, "%q says no copies; write a number (\"7\"), a range (\"11-to-20\"), \"odd\", \"even\" or \"last\"", label)
	case of == 0:
		r.report(RuleValueRange, n.Head, "copy says what is different in one of several, and there is one; write times = …, or what is different in the block itself")
	case max(p.from, p.to) > of:
		r.report(RuleValueRange, n.Labels[0].At, "%q is not among the copies; there are %d, as times says", label, of)
	}
	return p, ok && p.beside == ""
}

// of are the nodes that vary a member in a copy.
func (vs variations) of(f *frame, m *memberNode) (out []*Node) {
	if len(vs) == 0 {
		return nil
	}
	at := f.of.ordinal(f.numbers[len(f.around()):]) + 1
	for _, v := range vs {
		if !slices.Contains(v.which.numbers(f.of.product()), at) {
			continue
		}
		for _, c := range v.node.Blocks {
			if c.Type == m.t.Name && c.Label() == m.nodes[0].Label() {
				out = append(out, c)
			}
		}
	}
	return out
}

// variedCopies are, for each copy that times makes, the blocks that say what is different in it.
func (r *resolver) variedCopies(n *Node, times int) [][]*Node {
	out := make([][]*Node, times)
	for _, c := range n.Blocks {
		if c.Type != "copy" {
			continue
		}
		if p, ok := r.which(c, times); ok {
			for _, i := range p.numbers(times) {
				if i > 0 && i <= times {
					out[i-1] = append(out[i-1], c)
				}
			}
		}
	}
	return out
}

func (a *Assembly) check(r *resolver, _ *effective) {
	clash := func(at source.Span, format string, args ...any) {
		r.report(RuleAttrClash, a.At(at), "%s", fmt.Sprintf(format, args...))
	}
	if a.Rows.Set && !a.Rows.Bad && !a.Times.Set {
		clash(a.Rows.At, "rows makes rows of the copies that times makes; write times = … too, how many there are in a row")
	}
	if a.RowShift.Set && !a.RowShift.Bad && !a.Rows.Set && a.Like == nil {
		clash(a.RowShift.At, "row_shift moves the rows that rows makes; write rows = …, or remove row_shift")
	}
	if a.Shift.Set && !a.Shift.Bad && !a.Times.Set && a.Like == nil {
		clash(a.Shift.At, "shift moves each copy from the one before, and times makes none here; write at = […] to place the assembly")
	}
}
