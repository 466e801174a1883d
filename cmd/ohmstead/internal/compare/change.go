package compare

import (
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
)

// teller gathers the changes.
type teller struct {
	*matching
	out     []Block
	byID    map[string]*Block // of pairs, by the address in head
	lets    map[string]*Block
	late    []late
	made    []made
	follows map[string]bool // blocks of head that name other runs or places by the same words
}

// made is a block that another one makes, and that is there on one side only.
type made struct {
	what What
	w    *written
	v    *version
}

// come tells of a block that is there on one side only.
func (t *teller) come(what What, w *written, v *version) {
	if v.maker(w) != nil {
		t.made = append(t.made, made{what, w, v})
		return
	}
	t.out = append(t.out, t.allOf(what, w, v))
}

// tellMade tells of blocks that another one makes where that one is told of, and by
// themselves only where it says what it said.
func (t *teller) tellMade() {
	for _, x := range t.made {
		id, paired := x.v.maker(x.w).id, true
		if x.v == t.base {
			id, paired = t.is[id], t.is[id] != ""
		}
		b := t.byID[id]
		switch {
		case !paired || b == nil || t.follows[id]: // the maker itself has come or gone, or what it leads to
		case len(b.Attrs) > 0:
			b.reach(x.w.id)
		default:
			t.out = append(t.out, t.allOf(x.what, x.w, x.v))
		}
	}
}

// late is a change that may be told at another block or named value.
type late struct {
	pair   pair
	change Attr
	owner  *written // the block of head that the value is written in, where that is another one
	lets   []string // named values that changed and that the value uses
}

func (t *teller) allOf(what What, w *written, v *version) Block {
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
	t.attrs(p, p.base.blocks[0], p.head.blocks[0], seen)
	for _, b := range slices.Backward(p.head.blocks[1:]) { // copies differ in what grows with their number; it shows in the last
		number := schema.HeaderOf(b).Numbers()
		if i := slices.IndexFunc(p.base.blocks, func(a schema.Block) bool { return schema.HeaderOf(a).Numbers() == number }); i >= 0 {
			t.attrs(p, p.base.blocks[i], b, seen)
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
		if l.change.Name == "length" {
			if a := t.base.lengthOf(base); l.change.Was == "" && a.ok {
				l.change.Was = a.String()
			}
			if b := t.head.lengthOf(head); l.change.Is == "" && b.ok {
				l.change.Is = b.String()
			}
		}
		for i, b := range []schema.Block{base, head} { // what counts where nothing is written
			if to := []*string{&l.change.Was, &l.change.Is}[i]; *to == "" {
				if d, ok := byName(resolved.All(b))[l.change.Name]; ok && !d.Bad && d.Value != nil {
					*to = show(d) + " (default)"
				}
			}
		}
		if l.change.Name == "ampacity" {
			l.change.Was, l.change.Is = tabled(l.change.Was, base, t.base), tabled(l.change.Is, head, t.head)
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
		case name == "times" && (p.base.head.Copy > 0) != (p.head.head.Copy > 0): // copies written out
		case !inBase && !inHead:
		case inBase && inHead && (x.Bad || y.Bad):
			if !same(x.Text(), y.Text()) { // else what it names has changed, and a finding says so
				note(Attr{Name: name, Was: show(x), Is: show(y)}, x, y)
			}
		case inBase && inHead && resolved.Same(x.Value, y.Value, t.rename):
		case inBase && inHead && elsewhere(name, x.Value) && same(x.Text(), y.Text()) && len(t.changedLets(y.At)) == 0:
			t.follows[p.head.id] = true
		case inBase != inHead && t.meansDefault(base, head, name):
		default:
			note(Attr{Name: name, Was: show(x), Is: show(y)}, x, y)
		}
	}
	for _, n := range t.nested("", resolved.Nested(base), resolved.Nested(head)) {
		note(n.Attr, n.was, n.is)
	}
}

// elsewhere reports whether a value that is said in the same words as before is another one for
// what is told at another block: the assembly that moves a member, or how many copies a list has.
func elsewhere(name string, value any) bool {
	switch value.(type) {
	case []schema.RunRef, []*schema.Run, []schema.Block:
		return true
	}
	return name == "at" || name == "shift"
}

// tabled says for a wire without an ampacity of its own what the table allows it.
func tabled(written string, b schema.Block, v *version) string {
	w, ok := b.(*schema.Wire)
	if written != "" || !ok || !w.Gauge.Known() {
		return written
	}
	amps, err := v.Figures.TableAmpacity(wire.Of(w.Gauge.V), w)
	if err != nil {
		return written
	}
	return quantity.Show(quantity.Current, amps) + " (of the table)"
}

// meansDefault reports whether an attribute that one side does not write has
// the value there that the other side writes.
func (t *teller) meansDefault(base, head schema.Block, name string) bool {
	a, b := byName(resolved.All(base))[name], byName(resolved.All(head))[name]
	return a.Value != nil && b.Value != nil && resolved.Same(a.Value, b.Value, t.rename)
}

// reaches puts every change where it was made, and notes there what it reaches.
func (t *teller) reaches() {
	changed := map[string]bool{}
	for _, l := range t.late {
		changed[l.pair.head.id] = true
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
		case t.remade(l.pair.head, changed):
			t.byID[t.head.maker(l.pair.head).id].reach(l.pair.head.id)
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

// remade reports whether the block that makes this one is told of itself.
func (t *teller) remade(w *written, changed map[string]bool) bool {
	maker := t.head.maker(w)
	return maker != nil && (changed[maker.id] || t.follows[maker.id]) && t.byID[maker.id] != nil
}

func (b *Block) reach(id string) {
	if !slices.Contains(b.Reach, id) && id != b.ID {
		b.Reach = append(b.Reach, id)
	}
}
