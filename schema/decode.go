package schema

import (
	"fmt"
	"path"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"ohmstead/schema/source"
)

// Fetch reads the plan files of a directory below the root; the
// caller does the reading and may keep parsed files.
type Fetch func(dir string) ([]*source.File, error)

// Decode makes the plan of a directory from its files. It never stops at an
// error: every problem is reported at its place and the rest is usable.
func Decode(dir string, files []*source.File, fetch Fetch) *Plan {
	return newResolver(dir, version{}).decode(files, fetch)
}

func (r *resolver) decode(files []*source.File, fetch Fetch) *Plan {
	r.plan.Files = files
	if len(r.before.records) == 0 {
		readAhead(files)
	}
	r.collect(files, InPlan)
	r.stock(r.plan.Dir, fetch)
	r.makeAll()
	r.keepUnchanged()
	r.resolveAll()
	r.countFeeds()
	r.followBeside()
	r.countPlans()
	r.dropRepeats()
	r.plan.sortProblems()
	r.cap()
	return r.plan
}

// readAhead reads the pieces of large files on all cores.
func readAhead(files []*source.File) {
	const worthwhile = 64
	pieces := make(chan []*source.Piece)
	var readers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		readers.Go(func() {
			for some := range pieces {
				for _, p := range some {
					writtenIn(p)
				}
			}
		})
	}
	for _, f := range files {
		if len(f.Pieces) > worthwhile {
			for some := range slices.Chunk(f.Pieces, worthwhile/4) {
				pieces <- some
			}
		}
	}
	close(pieces)
	readers.Wait()
}

// resolver holds the state of one Decode.
type resolver struct {
	plan   *Plan
	scope  *scope
	going  map[Block]bool // blocks whose likeness is being followed
	within *Library       // what is decoded is the catalogue itself; nil for plans
	heads  []*PlanHead

	blocks   []Block // in the order of the text
	shadowed []Block // those not found under their address, as another one is
	rec      *record // of the block being decoded
	id       []byte  // room for an address that is looked up
	before   version

	circled map[*LetValue]bool // named values of circles that are reported

	names map[string][]string // of blocks, by type; see namesOf

	assemblies map[string]*Node // as written, by their names with those around them

	made, listed, members int // copies made, runs listed in orders, and members of assemblies read, so far

	makers   []Block // blocks that stand for others, which are not made yet
	anyMade  bool
	leftOut  map[Block]bool   // makers that would make too many
	entered  map[string]entry // the runs that chains go through from their end, by address
	anyUsual bool
}

// scope says what names mean where a value was written.
type scope struct {
	lets   map[string]*LetValue
	named  map[string]Block
	copied map[string]counts // how many copies there are, by address without numbers; of all that is in assemblies

	assemblies map[string]*assembled
}

func newResolver(dir string, before version) *resolver {
	n := len(before.records)
	before.found = make([]bool, n)
	p := &Plan{Dir: dir, Blocks: make([]Block, 0, n), named: make(map[string]Block, n), lets: map[string]*LetValue{}}
	p.places = sync.OnceValue(p.index)
	r := &resolver{
		plan:       p,
		scope:      &scope{lets: p.lets, named: p.named, copied: map[string]counts{}, assemblies: map[string]*assembled{}},
		assemblies: map[string]*Node{},
		going:      map[Block]bool{},
		blocks:     make([]Block, 0, n),
		before:     before,
	}
	p.scope = r.scope
	return r
}

// collect files the blocks of some files under their names: the named values
// first, because times may use one.
func (r *resolver) collect(files []*source.File, home Home) {
	var pieces []*written
	for _, f := range files {
		if f.Refused() != nil {
			rule := RuleTooLarge
			if f.Unread() != nil && home == InStock {
				rule = RuleStock
			}
			r.report(rule, source.Span{}, "%s: %s", f.Text.Path(), join(f.Refused().Summary, f.Refused().Detail))
			continue
		}
		for _, p := range f.Pieces {
			w := writtenIn(p)
			pieces = append(pieces, w)
			if !w.early {
				continue
			}
			for _, n := range w.nodes {
				if n.Type == letType.Name {
					r.collectLet(n, home)
				}
			}
			if home == InPlan {
				r.findAssemblies(w.nodes, "", 0)
			}
		}
	}
	for _, f := range files {
		for _, p := range f.Pieces {
			w := pieces[0]
			pieces = pieces[1:]
			if w.plain != nil {
				if home == InPlan || w.plain.Type.Part {
					h := *w.plain
					h.Home = home
					r.register(h)
				}
				continue
			}
			rule := RuleSyntax
			if len(p.Problems()) > 0 && len(p.Tokens()) == 0 {
				rule = RuleTooLarge // refused as a whole
			}
			for _, sp := range p.Problems() {
				if slices.ContainsFunc(w.headless, func(b source.Span) bool { return sp.Start == b.End }) {
					continue // the "}" of a block that lacks its "{"
				}
				problem := r.report(rule, source.Span{Piece: p, Start: sp.Start, End: sp.End}, "%s", syntaxSays(p, sp))
				if title, edit := syntaxFix(p, sp); title != "" {
					problem.fix(title, GradeChoice, edit)
				}
			}
			for _, n := range w.nodes {
				r.collectNode(n, home, w.headless)
			}
		}
	}
}

func join(summary, detail string) string {
	summary = strings.TrimSuffix(summary, ".")
	if detail == "" {
		return summary
	}
	return summary + ": " + detail
}

// collectNode files a block. Loose attributes are reported, but for those in
// the bodies of blocks without "{".
func (r *resolver) collectNode(n *Node, home Home, bodies []source.Span) {
	if n.Type == "" {
		for _, a := range n.Assigns {
			if slices.ContainsFunc(bodies, func(b source.Span) bool { return b.Start <= a.NameAt.Start && a.NameAt.Start < b.End }) {
				continue
			}
			r.report(RuleBlockShape, a.NameAt, "%s stands outside of any block; attributes belong between the braces of a block", a.Name)
		}
		return
	}
	t, ok := TypeOf(n.Type, n.LabelTexts()...)
	if !ok {
		r.unknownBlock(n, Language, "")
		if t, ok = meantType(n); !ok {
			return
		}
	}
	if home == InStock && !t.Part {
		return // another plan's runs and leads are its own affair
	}
	h := Header{Type: t, Node: n, Home: home, Broken: n.Type != t.Name}
	if !r.label(n, t) {
		h.Broken = true
	}
	h.Name = n.Label()
	if t.Name == usualType.Name {
		h.Name = n.Name()
	}
	if (t.Label == "" || t == planType) && t != runsType {
		b := t.form()
		*b.header() = h
		if head, ok := b.(*PlanHead); ok {
			r.heads = append(r.heads, head)
		}
		if t == letType {
			if home == InPlan {
				r.blocks = append(r.blocks, b)
			}
			return
		}
		for _, other := range r.blocks {
			if o := other.header(); t.Once && t != planType && o.Type == t && o.Home == home {
				r.report(RuleNameDuplicate, n.Head, "a second %s block; a plan has at most one", t.Name).
					related(o.Head(), "the first one")
			}
		}
		r.blocks = append(r.blocks, b)
		return
	}
	if t == runsType {
		r.checkNode(n, t, false)
		for _, run := range (&Node{Blocks: []*Node{n}}).members() {
			r.collectNode(run, home, bodies)
		}
		return
	}
	if t == assemblyType {
		r.collectAssembly(n, home)
		return
	}
	copies, ok := r.copies(n, t)
	if !ok {
		h.Broken = true
	}
	var varied [][]*Node
	if ok {
		varied = r.variedCopies(n, copies)
	}
	if copies == 0 {
		r.register(h)
		return
	}
	for i := range copies {
		c := h
		c.Copy, c.numbers = i+1, []int{i + 1}
		c.Name = copyNamed(h.Name, c.numbers)
		c.says = c.vary(varied[i])
		r.register(c)
	}
	r.scope.copied[t.Name+"."+h.Name] = counts{copies}
}

// meantType is the kind of a block whose own is misspelt: it is read as that,
// so that what refers to it is not wrong as well.
func meantType(n *Node) (*BlockType, bool) {
	if broken(n.Piece(), n.Head) || n.Label() == "" {
		return nil, false
	}
	var names []string
	for _, t := range Language {
		names = append(names, t.Name)
	}
	best, near := nearest(n.Type, names)
	if !near {
		return nil, false
	}
	t, ok := TypeNamed(best)
	return t, ok && t.Label != "" && t != planType
}

// copies is the number that times asks for; 0 where there is no times.
func (r *resolver) copies(n *Node, t *BlockType) (int, bool) {
	a, written := n.Assign("times")
	if !written {
		return 0, true
	}
	x, ok := r.number(t, a)
	if !ok || x == 0 {
		return 0, ok
	}
	if r.made > mostCopies {
		return 0, false
	}
	if r.made += x; r.made > mostCopies {
		r.report(RuleTooLarge, a.Val.At, "%s makes %d copies, %d in the plan with those before; at most %d are made in a plan, so these and those behind are left out: make fewer, or split the plan",
			a.Name, x, r.made, mostCopies)
		return 0, false
	}
	return x, true
}

// register files a block under its address: the one of the version before, if
// there is one, else a new one.
func (r *resolver) register(h Header) {
	b, kept := Block(nil), false
	if !h.Broken {
		b, kept = r.before.find(&h)
	}
	if !kept {
		b = h.Type.form()
		h.id = h.ID()
		*b.header() = h
	}
	id := b.header().address()
	if first, dup := r.scope.named[id]; dup && h.Name != "" {
		o := first.header()
		switch {
		case o.Home != h.Home:
		case h.Type.Of != nil:
			r.report(RuleNameDuplicate, h.Node.Labels[0].At, "a second %s; write what both say in one of them, and remove the other", describe(&h)).
				related(o.Head(), "the first one")
		case h.Node.Maker != nil && h.Node.Maker == o.Node.Maker:
			r.report(RuleNameDuplicate, h.Head(), "%s would make a second %s; remove one of the two places, or write one as a %s of its own", h.Node.Maker.Type+quoted(h.Node.Maker.Label()), describe(&h), h.Type.Name).
				related(o.Head(), "the first one")
		case h.Node.Maker != nil:
			m := h.Node.Maker
			r.report(RuleNameDuplicate, h.Head(), "%s makes a second %s; the name is taken, give the %s another name, or that one", m.Type+quoted(m.Label()), describe(&h), m.Type).
				related(o.Head(), "the first one")
		default:
			p := r.report(RuleNameDuplicate, h.Node.Labels[0].At, "a second %s; the name is taken, give this one another", describe(&h)).
				related(o.Head(), "the first one")
			if h.frame == nil && h.Copy == 0 {
				p.rename(h.Node.Labels[0].At, another(h.Name, "-", func(name string) bool { _, taken := r.scope.named[h.Type.Name+"."+name]; return taken }))
			}
		}
		if o.Home <= h.Home { // the plan's own wins over stock
			r.shadowed = append(r.shadowed, b)
			if o.Home == h.Home {
				r.blocks = append(r.blocks, b)
			}
			return
		}
		r.shadowed = append(r.shadowed, first)
	}
	if h.Name != "" {
		r.scope.named[id] = b
	}
	r.blocks = append(r.blocks, b)
	r.anyUsual = r.anyUsual || h.Type.Name == usualType.Name
	if h.Type.makes != nil && h.Home == InPlan {
		r.makers = append(r.makers, b)
	}
}

// address is what a block is found under.
func (h *Header) address() string {
	if h.Home == InCatalogue {
		return h.Name
	}
	return h.id
}

// label checks a block's labels against its declaration.
func (r *resolver) label(n *Node, t *BlockType) bool {
	switch {
	case t.Label == "" && len(n.Labels) > 0:
		r.report(RuleBlockShape, n.Labels[0].At, "%s takes no label; write %s { … }", t.Name, t.Name).
			fix("Remove the label", GradeNotation, Edit{source.Span{Piece: n.Piece(), Start: n.TypeAt.End, End: n.Head.End}, ""})
	case t.Label != "" && len(n.Labels) == 0:
		r.report(RuleBlockShape, n.TypeAt, "%s needs a %s in quotes, such as %s %q { … }", t.Name, t.Label, t.Name, sampleLabel(t))
		return false
	case len(n.Labels) > 1 && t.Name != usualType.Name:
		r.report(RuleBlockShape, n.Labels[1].At, "%s takes one label; %q is one too many", t.Name, n.Labels[1].Text)
	case t.Label != "" && n.Label() == "":
		r.report(RuleBlockShape, n.Labels[0].At, "an empty name; give the %s a %s, such as %q", t.Name, t.Label, sampleLabel(t))
		return false
	}
	return true
}

func sampleLabel(t *BlockType) string {
	if t.Label == "number" {
		return "4"
	}
	return "main"
}

func (r *resolver) unknownBlock(n *Node, among []*BlockType, in string) {
	if broken(n.Piece(), n.Head) {
		return // what the parser made of a broken line; the syntax problem stands there
	}
	if in == "" {
		if outer, ok := holderOf(n.Type, Language); ok {
			r.report(RuleBlockUnknown, n.TypeAt, "%s stands outside of a block; it belongs between the braces of %s", n.Type, outer.Name)
			return
		}
	}
	var names []string
	for _, t := range among {
		names = append(names, t.Name)
	}
	where := "the language"
	if in != "" {
		where = in
	}
	p := r.report(RuleBlockUnknown, n.TypeAt, "%s has no block %q%s", where, n.Type, suggestion(n.Type, names))
	if best, ok := nearest(n.Type, names); ok {
		p.fix("Write "+best, GradeChoice, Edit{n.TypeAt, best})
	}
}

// holderOf finds the block type that a nested block belongs into.
func holderOf(name string, among []*BlockType) (*BlockType, bool) {
	for _, t := range among {
		if _, ok := t.Block(name); ok {
			return t, true
		}
		if inner, ok := holderOf(name, t.Blocks); ok {
			return inner, true
		}
	}
	return nil, false
}

func (r *resolver) collectLet(n *Node, home Home) {
	for _, a := range n.Assigns {
		v := &LetValue{Assign: a, Home: home}
		if first, dup := r.scope.lets[a.Name]; dup {
			if first.Home == home {
				r.report(RuleNameDuplicate, a.NameAt, "a second let.%s; the name is taken, give this one another", a.Name).
					related(first.NameAt, "the first one").
					rename(a.NameAt, another(a.Name, "_", func(name string) bool { _, taken := r.scope.lets[name]; return taken }))
			}
			continue
		}
		r.scope.lets[a.Name] = v
		r.plan.Lets = append(r.plan.Lets, v)
	}
	for _, c := range n.Blocks {
		r.report(RuleBlockUnknown, c.TypeAt, "let holds only values, no blocks such as %q", c.Type)
	}
}

// stock adds the files of the plan's stock directories, and of theirs.
func (r *resolver) stock(dir string, fetch Fetch) {
	trail := []string{path.Clean(dir)}
	seen := map[string]bool{}
	var add func(head *PlanHead, base string)
	add = func(head *PlanHead, base string) {
		a, ok := head.Node.Assign("stock")
		if !ok {
			return
		}
		for _, d := range r.directories(a.Val) {
			target, why := stockPath(base, d.Text)
			switch {
			case why != "":
				p := r.report(RuleStock, d.At, "stock %q %s", d.Text, why)
				if right := strings.ReplaceAll(d.Text, `\`, "/"); right != d.Text {
					if _, wrong := stockPath(base, right); wrong == "" {
						p.fix(fmt.Sprintf("Write %q", right), GradeNotation, Edit{d.At, strconv.Quote(right)})
					}
				}
				p.remove(d.At, strconv.Quote(d.Text))
				continue
			case slices.Contains(trail, target):
				r.report(RuleStock, d.At, "stock %q leads back to where it came from (%s); remove it here or there", d.Text, strings.Join(append(slices.Clone(trail), target), " -> ")).remove(d.At, strconv.Quote(d.Text))
				continue
			case seen[target]:
				continue
			}
			seen[target] = true
			r.plan.StockDirs = append(r.plan.StockDirs, target)
			if fetch == nil {
				continue
			}
			files, err := fetch(target)
			if err != nil {
				r.report(RuleStock, d.At, "stock %q cannot be read: %v", d.Text, err).remove(d.At, strconv.Quote(d.Text))
				continue
			}
			if len(files) == 0 {
				r.report(RuleStock, d.At, "stock %q holds no *.ohm.hcl file; check the path, which counts from the plan's directory", d.Text).remove(d.At, strconv.Quote(d.Text))
				continue
			}
			before := len(r.heads)
			r.plan.StockFiles = append(r.plan.StockFiles, files...)
			r.collect(files, InStock)
			for _, f := range files {
				for _, p := range f.Pieces {
					for _, n := range nodesOf(p) {
						if n.Type == planType.Name {
							r.heads = append(r.heads, &PlanHead{Header: Header{Type: planType, Node: n, Home: InStock}})
						}
					}
				}
			}
			inner := slices.Clone(r.heads[before:])
			r.heads = r.heads[:before]
			trail = append(trail, target)
			for _, h := range inner {
				add(h, target)
			}
			trail = trail[:len(trail)-1]
		}
	}
	for _, h := range slices.Clone(r.heads) {
		add(h, dir)
	}
}

// stockPath resolves a stock path below the root, or says why not.
func stockPath(base, written string) (target, why string) {
	switch {
	case strings.TrimSpace(written) == "":
		return "", "is empty; name a directory, such as \"../workshop\""
	case strings.Contains(written, "://"):
		return "", "is a network address; only directories below the root can be stock"
	case path.IsAbs(written) || strings.Contains(written, `\`) || len(written) > 1 && written[1] == ':':
		return "", "is not a relative path with forward slashes, such as \"../workshop\""
	case strings.ContainsRune(written, 0):
		return "", "holds a zero byte"
	}
	target = path.Join(base, written)
	if target == ".." || strings.HasPrefix(target, "../") {
		return "", "lies outside of the root; stock stays inside the repository or, without one, the parent of the plan's directory"
	}
	return target, ""
}

func (r *resolver) directories(v *Val) []Name {
	var out []Name
	for _, x := range v.Listed() {
		if x.Kind == TextVal { // the conversion of the plan block reports others
			out = append(out, Name{x.Text, x.At})
		}
	}
	return out
}

// countPlans reports a missing or second plan block.
func (r *resolver) countPlans() {
	var own []*PlanHead
	for _, h := range r.heads {
		if h.Home == InPlan {
			own = append(own, h)
		}
	}
	unread := slices.ContainsFunc(r.plan.Files, func(f *source.File) bool { return f.Refused() != nil })
	if len(own) == 0 && !unread {
		at := source.Span{}
		if len(r.plan.Files) > 0 && len(r.plan.Files[0].Pieces) > 0 {
			at = source.Span{Piece: r.plan.Files[0].Pieces[0]}
		}
		where := r.plan.Dir
		if where == "" {
			where = "."
		}
		p := r.report(RulePlanMissing, at, "no plan block in %s; write plan \"NAME\" { … } in one of its files", where)
		if at.Piece != nil {
			p.fix("Add a plan block", GradeChoice, Edit{at, firstPlan(r.plan.Dir)})
		}
	}
	for _, h := range own[min(1, len(own)):] {
		r.report(RulePlanMissing, h.Head(), "a second plan block; all files of a directory are one plan, so it has one plan block").
			related(own[0].Head(), "the first one")
	}
}

// mostProblems bounds what is said about one plan: nobody reads more, and a
// file of another kind would give one for each line.
const mostProblems = 500

func (r *resolver) cap() {
	if n := len(r.plan.Problems); n > mostProblems {
		r.plan.Problems = r.plan.Problems[:mostProblems:mostProblems]
		last := r.plan.Problems[mostProblems-1]
		r.report(RuleTooLarge, last.At, "%d more problems are not shown; mend these first", n-mostProblems)
	}
}

// dropRepeats keeps one problem of a kind at a place: the copies of a block
// share its text, and so do those that one block makes.
func (r *resolver) dropRepeats() {
	if len(r.scope.copied) == 0 && !r.anyMade {
		return
	}
	type key struct {
		rule string
		at   source.Span
	}
	seen := map[key]bool{}
	r.plan.Problems = slices.DeleteFunc(r.plan.Problems, func(p *Problem) bool {
		k := key{p.Rule, p.At}
		was := seen[k]
		seen[k] = true
		return was
	})
}

// firstPlan is a plan block for a directory: what only its maker knows stands in it as a question.
func firstPlan(dir string) string {
	name := nameFor(dir)
	title := []rune(strings.NewReplacer("-", " ", "_", " ").Replace(name))
	title[0] = unicode.ToUpper(title[0])
	return fmt.Sprintf("plan %q {\n  title = %q\n  # ? Write mains = \"230 V\" or \"120 V\": what the supplies plug into\n}\n\n", name, string(title))
}

func nameFor(dir string) string {
	base := path.Base(dir)
	if base == "." || base == "/" || base == "" {
		return "plan"
	}
	return base
}
