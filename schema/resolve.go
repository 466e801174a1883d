package schema

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"ohmstead/schema/source"
)

// effective is what a block says once like is followed.
type effective struct {
	assigns []scoped
	blocks  []scopedNode
}

// scoped is an attribute with where its value was written.
type scoped struct {
	*Assign
	lib   bool    // written in the catalogue, whose names it means
	own   bool    // written in the block itself
	steps float64 // of what moves a run: how many times it counts, see Run.moved
	like  int     // how many blocks that are like each other lie between
	alone bool    // not for blocks that are like this one
}

type scopedNode struct {
	*Node
	lib bool
	own bool
}

// ownOf is what stands in a block itself.
func ownOf(n scopedNode) *effective {
	e := &effective{assigns: make([]scoped, 0, len(n.Assigns))}
	for _, a := range n.Assigns {
		if a.Name != "like" {
			e.assigns = append(e.assigns, scoped{Assign: a, lib: n.lib, own: n.own, steps: 1})
		}
	}
	for _, c := range n.Blocks {
		e.blocks = append(e.blocks, scopedNode{c, n.lib, n.own})
	}
	return e
}

func (e *effective) assign(name string) (scoped, bool) {
	for _, a := range e.assigns {
		if a.Name == name {
			return a, true
		}
	}
	return scoped{}, false
}

func (r *resolver) resolveAll() {
	for _, l := range r.plan.Lets {
		r.checkLet(l)
	}
	for _, bs := range [][]Block{r.plan.Stock, r.plan.Blocks} {
		for _, b := range bs {
			h := b.header()
			if r.listed > mostListed && h.Type == orderType {
				h.Broken = true
				continue
			}
			if h.Type != letType && !r.leftOut[b] && (h.rec == nil || !h.rec.done) {
				r.resolve(b)
			}
			if o, ok := b.(*Order); ok {
				if r.listed += len(o.Runs.V); r.listed > mostListed {
					r.report(RuleTooLarge, h.Head(), "the orders up to this one list %d runs; at most %d are read in a plan, so those behind it are left out: list fewer, or split the plan", r.listed, mostListed)
				}
			}
		}
	}
}

// resolve fills one block's typed form.
func (r *resolver) resolve(b Block) {
	rec := r.rec
	r.rec = recordOf(b)
	defer func() { r.rec = rec }()
	h := b.header()
	if h.Copy < 2 && h.Node.Maker == nil && (h.Type.Name != usualType.Name || h.Type.Of != nil) { // not a usual one of no kind that is said
		r.checkNode(h.Node, h.Type, true)
	}
	e := r.effectiveOf(b)
	r.fillForm(b, e)
	r.rec.done = true
}

// scopeOf is what names mean where a value was written.
func (r *resolver) scopeOf(lib bool) *scope {
	if lib && r.within == nil {
		return Catalogue().scope
	}
	return r.scope
}

// checkNode reports what the text alone gets wrong: unknown attributes and
// blocks, and values that exclude each other.
func (r *resolver) checkNode(n *Node, t *BlockType, top bool) {
	type claim struct {
		group string
		Name
	}
	var taken []claim
	exclusive := func(group string, name Name) {
		if group == "" {
			return
		}
		if k := slices.IndexFunc(taken, func(c claim) bool { return c.group == group }); k >= 0 {
			first := taken[k]
			r.report(RuleAttrClash, name.At, "%s and %s exclude each other; keep one of them", first.Text, name.Text).
				related(first.At, "the other one").
				fix("Remove "+name.Text, GradeChoice, Edit{r.lineOf(n, name), ""})
			return
		}
		taken = append(taken, claim{group, name})
	}
	for _, a := range n.Assigns {
		if a.Name == "like" && top && t.Likes() {
			continue
		}
		attr, ok := t.Attr(a.Name)
		if why := t.notUsual(a.Name); !ok && why != "" {
			r.report(RuleAttrUnknown, a.NameAt, "%s", why).fix("Remove "+a.Name, GradeChoice, Edit{WholeLines(a.Whole), ""})
			continue
		}
		if !ok {
			names := t.words()
			if nested, isBlock := t.Block(a.Name); isBlock {
				r.report(RuleBlockShape, a.NameAt, "%s is a block; write %s { … } without \"=\"", a.Name, strings.TrimSpace(nested.Name+" "+quoteIf(nested.Label)))
				continue
			}
			best, near := nearest(a.Name, names)
			if _, there := n.Assign(best); near && there {
				r.report(RuleAttrUnknown, a.NameAt, "%s has no attribute %q, and %s stands in it already; remove this one", t.title(), a.Name, best).
					fix("Remove "+a.Name, GradeChoice, Edit{WholeLines(a.Whole), ""})
				continue
			}
			say := suggestion(a.Name, names)
			if open := free(n, t); !near && len(open) > 0 {
				say = "; it takes " + listed(open)
			}
			p := r.report(RuleAttrUnknown, a.NameAt, "%s has no attribute %q%s", t.title(), a.Name, say)
			if near {
				p.fix("Write "+best, GradeChoice, Edit{a.NameAt, best})
			}
			continue
		}
		exclusive(attr.OneOf, Name{a.Name, a.NameAt})
	}
	var seen []*Node
	for _, c := range n.Blocks {
		bt, ok := t.Block(c.Type)
		if ok && bt.MemberOf(t) {
			continue // a block of its own
		}
		if why := t.notUsual(c.Type); !ok && why != "" {
			r.report(RuleBlockShape, c.TypeAt, "%s", why)
			continue
		}
		if !ok {
			if _, isAttr := t.Attr(c.Type); isAttr {
				r.report(RuleBlockShape, c.TypeAt, "%s is an attribute; write %s = …", c.Type, c.Type)
				continue
			}
			if other, isTop := TypeNamed(c.Type); isTop {
				r.report(RuleBlockShape, c.TypeAt, "%s stands inside of %s; it belongs outside, and the \"}\" of %s may be missing", other.Name, t.Name, t.Name)
				continue
			}
			r.unknownBlock(c, t.Blocks, t.title())
			continue
		}
		r.label(c, bt)
		exclusive(bt.OneOf, Name{c.Type, c.TypeAt})
		for _, s := range seen {
			if s.Type == c.Type && (bt.Once || bt.Label != "" && s.Label() == c.Label() && c.Label() != "") {
				p := r.report(RuleNameDuplicate, c.Head, "a second %s in %s; give it another name or remove it", strings.TrimSpace(c.Type+quoted(c.Label())), t.Name).
					related(s.Head, "the first one")
				if len(c.Labels) > 0 && !bt.Once {
					p.rename(c.Labels[0].At, another(c.Label(), "-", func(name string) bool {
						return slices.ContainsFunc(n.Blocks, func(o *Node) bool { return o.Type == c.Type && o.Label() == name })
					}))
				}
			}
		}
		seen = append(seen, c)
		r.checkNode(c, bt, false)
	}
}

// words are the attributes that may stand in a block.
func (t *BlockType) words() (names []string) {
	if t.Likes() {
		names = []string{"like"}
	}
	for _, x := range t.Attrs {
		names = append(names, x.Name)
	}
	return names
}

// title is what a block of the type is called: lead, usual "lead".
func (t *BlockType) title() string {
	if t.Of != nil {
		return t.Name + quoted(t.Of.Name)
	}
	return t.Name
}

func quoted(label string) string {
	if label == "" {
		return ""
	}
	return " " + strconv.Quote(label)
}

func quoteIf(label string) string {
	if label == "" {
		return ""
	}
	return `"` + strings.ToUpper(label) + `"`
}

// lineOf is the stretch to delete for an attribute or block of a node.
func (r *resolver) lineOf(n *Node, name Name) source.Span {
	at := name.At
	for _, a := range n.Assigns {
		if a.NameAt == name.At {
			at = a.Whole
		}
	}
	for _, c := range n.Blocks {
		if c.TypeAt == name.At {
			at = c.Whole
		}
	}
	return WholeLines(at)
}

// WholeLines widens a stretch to the lines it stands on, when nothing else
// stands there: deleting it then leaves no empty line.
func WholeLines(at source.Span) source.Span {
	src := at.Piece.Bytes()
	start, end := at.Start, at.End
	for start > 0 && (src[start-1] == ' ' || src[start-1] == '\t') {
		start--
	}
	for end < len(src) && (src[end] == ' ' || src[end] == '\t' || src[end] == '\r') {
		end++
	}
	if (start == 0 || src[start-1] == '\n') && end < len(src) && src[end] == '\n' {
		return source.Span{Piece: at.Piece, Start: start, End: end + 1}
	}
	return at
}

// RemoveItem is the edit that takes an item out of a list, with the comma that parts it from the others.
func RemoveItem(at source.Span) Edit {
	src := string(at.Piece.Bytes())
	behind := strings.TrimLeft(src[at.End:], " \t\r\n")
	before := strings.TrimRight(src[:at.Start], " \t\r\n")
	switch {
	case strings.HasPrefix(behind, ","):
		at.End = len(src) - len(strings.TrimLeft(behind[1:], " \t"))
	case strings.HasSuffix(before, ","):
		at.Start = len(before) - 1
	}
	return Edit{At: at}
}

// another is a name like one that is taken.
func another(name, sep string, taken func(string) bool) string {
	for i := 2; ; i++ {
		if next := fmt.Sprint(name, sep, i); !taken(next) {
			return next
		}
	}
}

// effectiveOf follows like and merges.
func (r *resolver) effectiveOf(b Block) *effective {
	h := b.header()
	if h.Home == InCatalogue && r.within == nil {
		return Catalogue().effectiveOf(b)
	}
	rec := r.rec
	if rec != nil && rec.block != b {
		rec.reads = append(rec.reads, b)
	}
	if h.rec != nil && h.rec.says != nil {
		return h.rec.says
	}
	r.rec = recordOf(b)
	defer func() { r.rec = rec }()
	e := r.sayings(h)
	r.going[b] = true
	defer delete(r.going, b)
	if base := r.likeOf(b); base != nil {
		h.Like = base
		r.inherit(e, h.Type, r.effectiveOf(base))
	}
	if u := r.usualFor(h); u != nil {
		h.Usual = u
		r.looksUp(r.scope, u)
		r.inherit(e, h.Type, r.effectiveOf(u))
	}
	r.enter(h, e)
	for i, a := range e.assigns {
		if a.own && Moves(a.Name) {
			e.assigns[i].steps = h.steps()
		}
	}
	r.rec.says = e
	return e
}

// likeOf finds the block that b is like.
func (r *resolver) likeOf(b Block) Block {
	h := b.header()
	a, ok := h.Assign("like")
	if !ok || !h.Type.Likes() {
		return nil
	}
	if a.Val.Kind == BadVal {
		h.Broken = true
		r.badValue(a.Val, "a reference")
		return nil
	}
	base, ok := r.reference(r.firstCopy(a.Val, h), []string{h.Type.Name}, r.scope, h, true)
	if !ok {
		h.Broken = true
		return nil
	}
	if base == b || r.going[base] {
		h.Broken = true
		through := " through " + a.Val.String()
		if base == b {
			through = ""
		}
		r.report(RuleRefCycle, a.Val.At, "%s is like itself%s; break the circle", h.ID(), through)
		return nil
	}
	return base
}

// sayings is what stands in a block itself, with what is different in its copy.
func (r *resolver) sayings(h *Header) *effective {
	lib := h.Home == InCatalogue
	if h.says == nil {
		return ownOf(scopedNode{h.Node, lib, !h.Node.Quiet})
	}
	e := ownOf(scopedNode{h.says[0], lib, true})
	for _, n := range h.says[1:] {
		r.merge(e, h.Type, ownOf(scopedNode{n, lib, true}), func(name string) bool { return false })
	}
	return e
}

// steps is how often a block's own shift counts: once for each copy before it, and
// once more where the geometry that it moves is taken over. What is like the copy
// beside is moved from that.
func (h *Header) steps() float64 {
	own := 0
	switch {
	case h.frame == nil && len(h.numbers) > 0:
		own = h.numbers[0]
	case h.frame != nil && len(h.numbers) > len(h.frame.numbers):
		own = h.numbers[len(h.numbers)-1]
	}
	if like, ok := h.Assign("like"); own == 0 || ok && isBeside(like.Val) {
		return 1
	}
	if h.Like != nil {
		return float64(own)
	}
	return float64(own - 1)
}

func isBeside(v *Val) bool {
	if v.Kind != RefVal || len(v.Steps) != 2 {
		return false
	}
	_, p, ok := lastPick(v.Steps[1].Name)
	return ok && p.beside != ""
}

// firstCopy is what a like means that names a block with copies: that is as its first one.
func (r *resolver) firstCopy(v *Val, h *Header) *Val {
	if v.Kind != RefVal || len(v.Steps) != 2 || v.Steps[1].Index != nil || v.Steps[0].Name == assemblyType.Name {
		return v
	}
	x, ok := r.scope.copies(v.Steps[0].Name, v.Steps[1].Name, h)
	if !ok || len(x.picks) > 0 || len(x.given) == len(x.of) {
		return v
	}
	numbers := x.given
	for len(numbers) < len(x.of) {
		numbers = append(slices.Clip(numbers), 1)
	}
	first := &Val{Kind: RefVal, At: v.At, Steps: slices.Clone(v.Steps)}
	first.Steps[1].Name = copyNamed(x.base, numbers)
	return first
}

// inherit adds to e what the base says and e does not.
func (r *resolver) inherit(e *effective, t *BlockType, base *effective) {
	r.merge(e, t, base, func(name string) bool { return name == "times" || name == "rows" })
}

// merge is as inherit, with the attributes that are a block's own.
func (r *resolver) merge(e *effective, t *BlockType, base *effective, leave func(name string) bool) {
	groups := map[string]bool{}
	for _, a := range e.assigns {
		if attr, ok := t.Attr(a.Name); ok && attr.OneOf != "" {
			groups[attr.OneOf] = true
		}
	}
	for _, c := range e.blocks {
		if bt, ok := t.Block(c.Type); ok && bt.OneOf != "" {
			groups[bt.OneOf] = true
		}
	}
	own := len(e.assigns)
	for _, a := range base.assigns {
		attr, known := t.Attr(a.Name)
		if !known || a.alone || groups[attr.OneOf] && attr.OneOf != "" {
			continue
		}
		inherited := leave("times")
		if leave(a.Name) || inherited && Moves(a.Name) && groups["geometry"] {
			continue
		}
		if slices.ContainsFunc(e.assigns[:own], func(o scoped) bool { return o.Name == a.Name }) && (!Moves(a.Name) || !inherited) {
			continue
		}
		if inherited {
			a.own = false
			a.like++
		}
		e.assigns = append(e.assigns, a)
	}
	mine := len(e.blocks)
	for _, c := range base.blocks {
		bt, known := t.Block(c.Type)
		if !known || groups[bt.OneOf] && bt.OneOf != "" {
			continue
		}
		if slices.ContainsFunc(e.blocks[:mine], func(o scopedNode) bool {
			return o.Type == c.Type && (bt.Once || bt.Label != "" && o.Label() == c.Label())
		}) {
			continue
		}
		e.blocks = append(e.blocks, scopedNode{c.Node, c.lib, c.own && !leave("times")})
	}
}

// fillForm sets the typed block's fields from what it says.
func (r *resolver) fillForm(b Block, e *effective) {
	h := b.header()
	if h.Type != assemblyType && (h.frame != nil || h.Like != nil) && h.Home == InPlan {
		var ok bool
		if h.placed, ok = r.placedAs(h); !ok {
			h.Broken = true
		}
	}
	v := reflect.ValueOf(b).Elem()
	shape := shapeOf(v.Type())
	c, strange := new(conversion), h.strange()
	if h.Usual != nil {
		strange = append(strange, h.Usual.header().strange()...)
	}
	for i := range h.Type.Attrs {
		a := &h.Type.Attrs[i]
		index, ok := shape.attrs[a.Name]
		if !ok {
			continue
		}
		f := v.Field(index).Addr().Interface().(field)
		if a.Default != "" {
			f.setDefault(defaultOf(a))
		}
		written, ok := e.assign(a.Name)
		if !ok {
			if at, meant := misspelt(h, strange, a.Name); meant {
				f.spoil(at)
				h.Broken = h.Broken || a.Required
				continue
			}
			if a.Required {
				h.Broken = true
				if !h.torn() && !orphaned(h) {
					r.missing(h, a)
				}
			}
			continue
		}
		use := written
		at := use.Val.At
		if use.Val.Kind == BadVal && use.Val.Why == "" {
			f.spoil(at)
			h.Broken = true
			continue
		}
		*c = conversion{r: r, a: a, sc: r.scopeOf(use.lib), of: h, own: use.own}
		x, ok := c.value(a.Kind, use.Val)
		if xy, isPlace := x.(XY); ok && isPlace && a.Name == "at" && (h.frame != nil || !use.own) {
			x = xy.moved(h.placed)
		}
		if !ok {
			f.spoil(at)
			h.Broken = true
			if r.rec != nil {
				r.rec.faulty = true // also where it is another block that tells what is wrong
			}
			continue
		}
		f.put(x, at)
	}
	for i, index := range shape.blocks {
		r.fillNested(b, v.Field(index), shape.blockNames[i], e)
	}
	if c, ok := b.(checker); ok {
		c.check(r, e)
	}
}

// strange lists the attributes of a block that its type does not have.
func (h *Header) strange() (out []*Assign) {
	for _, a := range h.Node.Assigns {
		if _, known := h.Type.Attr(a.Name); !known && a.Name != "like" {
			out = append(out, a)
		}
	}
	return out
}

// misspelt finds the strange attribute of a block that comes closest to one
// that is not there: it says the value, and its name is the one thing wrong.
func misspelt(h *Header, strange []*Assign, name string) (source.Span, bool) {
	for _, a := range strange {
		if best, near := nearest(a.Name, h.Type.words()); near && best == name {
			return a.Val.At, true
		}
	}
	return source.Span{}, false
}

// checker is a block that has more to check than its single attributes.
type checker interface {
	check(r *resolver, e *effective)
}

func (r *resolver) missing(h *Header, a *Attr) {
	example := a.Example
	fixed := true
	if a.Kind == Reference || a.Kind == Place || a.Kind == OrderedRuns { // an example would name what there is not
		example, fixed = r.only(a)
	}
	at := h.Head()
	if h.Node.Quiet { // all that it makes lack the same
		at = h.Node.Maker.Head
	}
	p := r.report(RuleAttrMissing, at, "%s needs the attribute %s (%s); write %s = %s", describe(h), a.Name, strings.TrimSuffix(lowerFirst(a.Doc), "."), a.Name, example)
	if fixed {
		p.fix("Add "+a.Name, GradeChoice, InsertAttr(h.Node, a.Name, example))
	}
}

// only is the one block of the plan that a reference can name; else an example.
func (r *resolver) only(a *Attr) (string, bool) {
	var ids []string
	for _, t := range a.Types {
		for _, name := range r.namesOf(t, r.scope) {
			ids = append(ids, t+"."+name)
		}
	}
	if len(ids) == 1 && a.Kind == Reference {
		return ids[0], true
	}
	return a.Example, false
}

// torn reports whether a syntax problem lies in the block: what seems to be
// missing may stand in the broken line.
func (h *Header) torn() bool {
	return broken(h.Node.Piece(), h.Node.Whole) || h.Usual != nil && h.Usual.header().torn()
}

// orphaned reports whether the block, or one that it is like, is like what
// cannot be found: that is then the one cause of all that is missing.
func orphaned(h *Header) bool {
	for {
		if _, asked := h.Node.Assign("like"); !asked {
			return false
		}
		if h.Like == nil {
			return true
		}
		h = h.Like.header()
	}
}

// describe names a block in a sentence: run "arch".
func describe(h *Header) string {
	if h.Name == "" {
		return h.Type.Name
	}
	return h.Type.Name + ` "` + h.Name + `"`
}

// an puts the article before a kind of block.
func an(kind string) string {
	if kind != "" && strings.ContainsRune("aeio", rune(kind[0])) { // universes begin as "you" does
		return "an " + kind
	}
	return "a " + kind
}

func lowerFirst(s string) string {
	if s == "" || len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// fillNested fills the field that holds the nested blocks of one name ("*":
// of every name, in the order of the text).
func (r *resolver) fillNested(parent Block, f reflect.Value, name string, e *effective) {
	ph := parent.header()
	for _, n := range e.blocks {
		bt, ok := ph.Type.Block(n.Type)
		if !ok || name != "*" && n.Type != name {
			continue
		}
		c := bt.form()
		*c.header() = Header{Type: bt, Name: n.Label(), Node: n.Node, Home: ph.Home, Copy: ph.Copy, frame: ph.frame, numbers: ph.numbers}
		r.fillForm(c, ownOf(n))
		if c.header().Broken {
			ph.Broken = true
		}
		if f.Kind() == reflect.Slice {
			f.Set(reflect.Append(f, reflect.ValueOf(c)))
		} else {
			f.Set(reflect.ValueOf(c))
		}
	}
}

// SetAttr is the edit that gives an attribute a value: in place of what the block says, in its copy if
// that says it, else at its end.
func SetAttr(h *Header, name, value string) Edit {
	if a, ok := h.Assign(name); ok {
		return Edit{a.Val.At, value}
	}
	return InsertAttr(h.Node, name, value)
}

// InsertAttr is the edit that adds an attribute to a block: behind its attributes, above
// its nested blocks.
func InsertAttr(n *Node, name, value string) Edit {
	e := InsertBlock(n, name+" = "+value)
	first := slices.IndexFunc(n.Blocks, func(b *Node) bool { return b.Maker == nil })
	if first < 0 || e.At.Start != e.At.End {
		return e
	}
	src := n.Piece().Bytes()
	at := n.Inside.Start
	for _, a := range n.Assigns {
		if a.Whole.Start >= n.Inside.Start && a.Whole.End <= n.Blocks[first].Whole.Start {
			at = max(at, a.Whole.End)
		}
	}
	next := bytes.IndexByte(src[at:n.Blocks[first].Whole.Start], '\n')
	if next < 0 {
		return e
	}
	e.At.Start, e.At.End = at+next+1, at+next+1
	return e
}

// InsertBlock is the edit that adds a nested block at the end of a block.
func InsertBlock(n *Node, text string) Edit {
	p := n.Piece()
	src := p.Bytes()
	if n.InLine() { // which makes it a block
		a := n.Assigns[0]
		return Edit{n.Whole, fmt.Sprintf("run %q {\n  %s = %s\n  %s\n}", n.Label(), a.Name, src[a.Val.At.Start:a.Val.At.End], strings.ReplaceAll(text, "\n", "\n  "))}
	}
	indent := ""
	for i := n.TypeAt.Start; i > 0 && (src[i-1] == ' ' || src[i-1] == '\t'); i-- {
		indent += " "
	}
	inner := indent + "  "
	text = strings.ReplaceAll(text, "\n", "\n"+inner)
	inside := string(src[n.Inside.Start:n.Inside.End])
	last := strings.LastIndexByte(inside, '\n')
	if last < 0 { // on one line: spread it out
		line := "\n"
		if t := strings.TrimSpace(inside); t != "" {
			line += inner + t + "\n"
		}
		return Edit{n.Inside, line + inner + text + "\n" + indent}
	}
	at := n.Inside.Start + last + 1
	return Edit{source.Span{Piece: p, Start: at, End: at}, inner + text + "\n"}
}

// InsertBehind is the edit that adds blocks behind a block.
func InsertBehind(n *Node, text string) Edit {
	return Edit{source.Span{Piece: n.Piece(), Start: n.Whole.End, End: n.Whole.End}, "\n\n" + text}
}
