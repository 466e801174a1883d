package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Block is a block that was added, removed, renamed, changed, split or joined,
// or a named value that changed.
type Block struct {
	What   What     `json:"what"`
	ID     string   `json:"id"`            // in head; of removed and split ones in base
	Was    string   `json:"was,omitempty"` // the old address of a renamed one
	Type   string   `json:"type"`
	Stock  bool     `json:"stock"`           // it stands in a stock directory
	Copies int      `json:"copies"`          // that times makes of it; 0 without times
	Brief  string   `json:"brief,omitempty"` // what an added or removed one is, in a few words
	Pieces []Piece  `json:"pieces,omitempty"`
	Attrs  []Attr   `json:"attributes"`
	Reach  []string `json:"reaches"` // the blocks of the plan that it shows at
}

// What happened to a block.
type What string

// A run is split when several runs are where one was, joined the other way
// round.
const (
	BlockAdded   What = "added"
	BlockRemoved What = "removed"
	BlockRenamed What = "renamed" // and perhaps changed as well
	BlockChanged What = "changed"
	BlockSplit   What = "split"
	BlockJoined  What = "joined"
)

// Attr is an attribute that changed; "" stands for one that is not written.
type Attr struct {
	Name    string `json:"name"`
	Was     string `json:"was"`
	Is      string `json:"is"`
	Through string `json:"through,omitempty"` // "like", where the block says so itself by what it is like
}

// Piece is one of the runs that a run was split into, or joined from.
type Piece struct {
	ID     string `json:"id"`
	Pixels int    `json:"pixels"`
	From   int    `json:"from"`   // the pixel of the whole that it begins at
	Turned bool   `json:"turned"` // it runs the other way
}

// blocks lists what changed, told once at its origin.
func (m *matching) blocks() []Block {
	t := &teller{matching: m, byID: map[string]*Block{}, lets: map[string]*Block{}}
	for _, w := range m.base.all {
		if _, ok := m.is[w.id]; !ok && !m.isPiece(w, true) && !inStock(w, m.head.Plan) {
			t.out = append(t.out, t.whole(BlockRemoved, w, m.base))
		}
	}
	for _, h := range m.head.all {
		if _, ok := m.was[h.id]; !ok && !m.isPiece(h, false) && !inStock(h, m.base.Plan) {
			t.out = append(t.out, t.whole(BlockAdded, h, m.head))
		}
	}
	for _, p := range m.pairs {
		if p.base.id != p.head.id && m.isPiece(p.base, true) && m.isPiece(p.head, false) {
			continue // told as a cut
		}
		t.pair(p)
	}
	for _, c := range m.cuts {
		t.out = append(t.out, t.cut(c))
	}
	t.reaches()
	for _, b := range t.byID {
		if b.What == BlockRenamed || len(b.Attrs) > 0 {
			t.out = append(t.out, *b)
		}
	}
	for _, b := range t.lets {
		t.out = append(t.out, *b)
	}
	slices.SortFunc(t.out, func(a, b Block) int {
		if d := weight(a) - weight(b); d != 0 {
			return d
		}
		return strings.Compare(a.ID, b.ID)
	})
	return t.out
}

// inStock reports whether a part of stock is there on the other side too and
// only not used: then the one who used it says so.
func inStock(w *written, other *schema.Plan) bool {
	b, ok := other.Find(w.id)
	return ok && w.head.Home == schema.InStock && schema.HeaderOf(b).Home == schema.InStock
}

// weights puts what decides about the wall before what follows from it.
var weights = []string{"plan", "let", "policy", "supply", "controller", "board", "strip", "run", "diffuser", "fixing", "wire", "lead", "joint", "signal", "order", "universes", "case", "surface", "reading", "marking"}

func weight(b Block) int {
	first := map[What]int{BlockSplit: 0, BlockJoined: 0, BlockChanged: 1, BlockRenamed: 2, BlockAdded: 3, BlockRemoved: 4}
	return first[b.What]*len(weights) + slices.Index(weights, b.Type)
}

// isPiece reports whether all copies of a block are told as part of a cut.
func (m *matching) isPiece(w *written, base bool) bool {
	told := map[schema.Block]bool{}
	for _, c := range m.cuts {
		if c.joined != base {
			told[c.whole.Run] = true
			continue
		}
		for _, p := range c.pieces {
			told[p.run.Run] = true
		}
	}
	return !slices.ContainsFunc(w.blocks, func(b schema.Block) bool { return !told[b] })
}

// teller gathers the changes.
type teller struct {
	*matching
	out  []Block
	byID map[string]*Block // of pairs, by the address in head
	lets map[string]*Block
	late []late
}

// late is a change that may be told at another block or named value.
type late struct {
	pair   pair
	change Attr
	owner  *written // the block of head that the value is written in, where that is another one
	lets   []string // named values that changed and that the value uses
}

func (t *teller) whole(what What, w *written, v *version) Block {
	b := t.entry(what, w, v)
	b.Brief = brief(w.blocks[0], v.Figures)
	for _, a := range resolved.Attrs(w.blocks[0]) {
		x := Attr{Name: a.Name, Is: show(a)}
		if what == BlockRemoved {
			x.Was, x.Is = x.Is, ""
		}
		b.Attrs = append(b.Attrs, x)
	}
	return b
}

func (t *teller) entry(what What, w *written, v *version) Block {
	b := Block{What: what, ID: w.id, Type: w.head.Type.Name, Stock: w.head.Home == schema.InStock, Attrs: []Attr{}, Reach: []string{}}
	if w.head.Copy > 0 {
		b.Copies = len(w.blocks)
	}
	return b
}

func (t *teller) cut(c cut) Block {
	what := BlockSplit
	if c.joined {
		what = BlockJoined
	}
	b := Block{What: what, ID: c.whole.ID(), Type: "run", Attrs: []Attr{}, Reach: []string{}}
	b.Brief = quantity.Count(c.whole.Pixels, "pixel")
	for _, p := range c.pieces {
		b.Pieces = append(b.Pieces, Piece{p.run.ID(), p.run.Pixels, p.from, p.turns})
	}
	return b
}

// pair compares two versions of a block.
func (t *teller) pair(p pair) {
	b := t.entry(BlockChanged, p.head, t.head)
	if p.base.id != p.head.id {
		b.What, b.Was = BlockRenamed, p.base.id
	}
	t.byID[p.head.id] = &b
	seen := map[string]bool{}
	last := min(len(p.base.blocks), len(p.head.blocks)) - 1
	for _, i := range []int{0, last} { // copies differ in what grows with their number; it shows in the last
		t.attrs(p, p.base.blocks[i], p.head.blocks[i], seen)
		if last == 0 {
			break
		}
	}
}

// attrs finds what changed in one block; seen holds the names already told.
func (t *teller) attrs(p pair, base, head schema.Block, seen map[string]bool) {
	was, is := byName(resolved.Attrs(base)), byName(resolved.Attrs(head))
	another := likeOf(base, t.rename) != likeOf(head, nil)
	note := func(c Attr, x, y resolved.Attr) {
		if seen[c.Name] {
			return
		}
		seen[c.Name] = true
		l := late{pair: p, change: c}
		before, after := t.base.owner(x.At), t.head.owner(y.At)
		switch {
		case y.At.Piece == nil && before != nil:
			l.owner = t.head.byID[t.is[before.id]]
		case before == nil || after != nil && t.is[before.id] == after.id:
			l.owner = after
		}
		if l.owner == p.head {
			l.owner = nil
		}
		if another && (after != p.head || before != p.base) {
			l.change.Through = "like"
		}
		if same(x.Text(), y.Text()) {
			l.lets = t.changedLets(y.At)
		}
		t.late = append(t.late, l)
	}
	if a, b := likeOf(base, t.rename), likeOf(head, nil); a != b && !seen["like"] {
		seen["like"] = true
		t.late = append(t.late, late{pair: p, change: Attr{Name: "like", Was: likeOf(base, nil), Is: b}})
	}
	for i := range schema.HeaderOf(head).Type.Attrs {
		name := schema.HeaderOf(head).Type.Attrs[i].Name
		x, inBase := was[name]
		y, inHead := is[name]
		switch {
		case !inBase && !inHead:
		case inBase && inHead && (x.Bad || y.Bad):
			if !same(x.Text(), y.Text()) { // else what it names has changed, and a finding says so
				note(Attr{Name: name, Was: show(x), Is: show(y)}, x, y)
			}
		case inBase && inHead && resolved.Same(x.Value, y.Value, t.rename):
		case inBase != inHead && t.meansDefault(base, head, name):
		default:
			note(Attr{Name: name, Was: show(x), Is: show(y)}, x, y)
		}
	}
	for _, n := range t.nested("", resolved.Nested(base), resolved.Nested(head)) {
		note(n.Attr, n.was, n.is)
	}
}

// meansDefault reports whether an attribute that one side does not write has
// the value there that the other side writes.
func (t *teller) meansDefault(base, head schema.Block, name string) bool {
	a, b := byName(resolved.All(base))[name], byName(resolved.All(head))[name]
	return a.Value != nil && b.Value != nil && resolved.Same(a.Value, b.Value, t.rename)
}

// inner is a change inside a nested block.
type inner struct {
	Attr
	was, is resolved.Attr
}

// nested compares the blocks inside of a block: those with a label by type and
// label, the others by type and place.
func (m *matching) nested(prefix string, base, head []schema.Block) []inner {
	var out []inner
	was, wasKeys := keyed(base)
	is, isKeys := keyed(head)
	for _, k := range wasKeys {
		if _, ok := is[k]; !ok {
			out = append(out, inner{Attr: Attr{Name: prefix + k, Was: inside(was[k])}})
		}
	}
	for _, k := range isKeys {
		b, ok := was[k]
		if !ok {
			out = append(out, inner{Attr: Attr{Name: prefix + k, Is: inside(is[k])}})
			continue
		}
		h := is[k]
		x, y := byName(resolved.Attrs(b)), byName(resolved.Attrs(h))
		for i := range schema.HeaderOf(h).Type.Attrs {
			name := schema.HeaderOf(h).Type.Attrs[i].Name
			p, inBase := x[name]
			q, inHead := y[name]
			if !inBase && !inHead || inBase && inHead && !p.Bad && !q.Bad && resolved.Same(p.Value, q.Value, m.rename) || p.Bad && q.Bad && same(p.Text(), q.Text()) {
				continue
			}
			out = append(out, inner{Attr{Name: prefix + k + " " + name, Was: show(p), Is: show(q)}, p, q})
		}
		out = append(out, m.nested(prefix+k+" ", resolved.Nested(b), resolved.Nested(h))...)
	}
	return out
}

func keyed(bs []schema.Block) (map[string]schema.Block, []string) {
	out := map[string]schema.Block{}
	var order []string
	count := map[string]int{}
	unlabelled := 0
	for _, b := range bs {
		if schema.HeaderOf(b).Type.Label == "" {
			unlabelled++
		}
	}
	for _, b := range bs {
		h := schema.HeaderOf(b)
		key := h.Type.Name
		if h.Type.Label != "" {
			key += " " + h.Name
		} else if unlabelled > 1 {
			count[""]++ // the steps of a path count together: their place in it is what matters
			key = fmt.Sprintf("%s %d", h.Type.Name, count[""])
		}
		if _, dup := out[key]; dup {
			continue
		}
		out[key] = b
		order = append(order, key)
	}
	return out, order
}

// inside says in short what a nested block holds.
func inside(b schema.Block) string {
	var parts []string
	for _, a := range resolved.Attrs(b) {
		parts = append(parts, a.Name+" "+show(a))
	}
	if n := len(resolved.Nested(b)); n > 0 {
		parts = append(parts, quantity.Count(n, "step"))
	}
	if len(parts) == 0 {
		return schema.HeaderOf(b).Type.Name
	}
	return strings.Join(parts, ", ")
}

func show(a resolved.Attr) string {
	if a.Bad {
		return strings.Join(strings.Fields(a.Text()), " ")
	}
	if q, ok := a.Value.(schema.Quantity); ok && q.Dim() == quantity.Money && q.SI != math.Trunc(q.SI) {
		return Amount{q.SI, q.Unit.Symbol}.String()
	}
	return resolved.Show(a.Value)
}

// same compares two expressions as written, white space aside.
func same(a, b string) bool {
	return strings.Join(strings.Fields(a), " ") == strings.Join(strings.Fields(b), " ")
}

func likeOf(b schema.Block, rename resolved.Rename) string {
	h := schema.HeaderOf(b)
	if h.Like == nil {
		return ""
	}
	id := schema.HeaderOf(h.Like).ID()
	if rename != nil {
		id = rename(id)
	}
	return id
}

// reaches puts every change where it was made, and notes there what it reaches.
func (t *teller) reaches() {
	changed := map[string]bool{}
	for _, l := range t.late {
		changed[l.pair.head.id+" "+l.change.Name] = true
	}
	for _, l := range t.late {
		switch {
		case len(l.lets) > 0:
			for _, name := range l.lets {
				t.letChange(name).reach(l.pair.head.id)
			}
		case l.owner != nil && t.byID[l.owner.id] != nil && changed[l.owner.id+" "+l.change.Name]:
			t.byID[l.owner.id].reach(l.pair.head.id)
		default:
			b := t.byID[l.pair.head.id]
			b.Attrs = append(b.Attrs, l.change)
		}
	}
	for id, b := range t.byID {
		if len(b.Attrs) == 0 {
			continue
		}
		for _, u := range t.head.users[id] {
			b.reach(u.by.id)
		}
	}
	for _, b := range t.byID {
		if !slices.ContainsFunc(b.Attrs, func(a Attr) bool { return a.Name != "like" }) && b.What == BlockChanged {
			b.Attrs = nil // another way to say the same
		}
		slices.Sort(b.Reach)
	}
	for _, b := range t.lets {
		slices.Sort(b.Reach)
	}
}

func (b *Block) reach(id string) {
	if !slices.Contains(b.Reach, id) && id != b.ID {
		b.Reach = append(b.Reach, id)
	}
}

// letChange is the entry of a named value.
func (t *teller) letChange(name string) *Block {
	if b, ok := t.lets[name]; ok {
		return b
	}
	was, _ := t.base.Plan.Let(name)
	is, _ := t.head.Plan.Let(name)
	b := &Block{What: BlockChanged, ID: "let." + name, Type: "let", Stock: is.Home == schema.InStock, Reach: []string{},
		Attrs: []Attr{{Name: "value", Was: letText(was.Val), Is: letText(is.Val)}}}
	t.lets[name] = b
	return b
}

func letText(v *schema.Val) string {
	if v.Kind == schema.TextVal {
		return v.Text
	}
	return strings.Join(strings.Fields(v.String()), " ")
}

// changedLets lists the named values used in a stretch of head, through others
// too, whose own text means something else than in base.
func (t *teller) changedLets(at source.Span) []string {
	var out []string
	seen := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		is, ok := t.head.Plan.Let(name)
		if !ok {
			return
		}
		if was, ok := t.base.Plan.Let(name); ok && !sameVal(was.Val, is.Val) {
			out = append(out, name)
		}
		for _, n := range letsIn(is.Val) {
			visit(n)
		}
	}
	for _, u := range t.head.Plan.Uses {
		if u.Let != nil && u.At.Piece == at.Piece && u.At.Start >= at.Start && u.At.End <= at.End {
			visit(u.Let.Name)
		}
	}
	slices.Sort(out)
	return out
}

func letsIn(v *schema.Val) []string {
	if v.Kind == schema.RefVal && len(v.Steps) == 2 && v.Steps[0].Name == "let" {
		return []string{v.Steps[1].Name}
	}
	var out []string
	for _, x := range v.Items {
		out = append(out, letsIn(x)...)
	}
	return out
}

// sameVal reports whether two expressions say the same, quantities whatever
// their unit.
func sameVal(a, b *schema.Val) bool {
	if a.Kind != b.Kind || len(a.Items) != len(b.Items) || a.Func.Text != b.Func.Text {
		return false
	}
	switch a.Kind {
	case schema.TextVal:
		return a.Text == b.Text || sameQuantity(a.Text, b.Text)
	case schema.NumberVal:
		return a.Number == b.Number
	case schema.ListVal, schema.CallVal:
		return slices.EqualFunc(a.Items, b.Items, sameVal)
	}
	return same(a.String(), b.String())
}

// sameQuantity reads two texts in every dimension until both make sense.
func sameQuantity(a, b string) bool {
	for d := quantity.Length; d <= quantity.Money; d++ {
		x, err := quantity.ParseFor(d, a)
		if err != nil {
			continue
		}
		y, err := quantity.ParseFor(d, b)
		return err == nil && x.Equal(y)
	}
	return false
}
