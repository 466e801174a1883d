package schema

import (
	"reflect"
	"slices"
)

// renewal puts together what stands in the place of the blocks of the version before that are not what they
// were.
type renewal struct {
	*resolver
	changed map[Block]bool
	done    map[Block]Block // what stands in their place; nil while that is being decided
}

// keepUnchanged decides which of the blocks proposed from the version before still hold, and puts others in
// the place of those that do not: copies with other references, or new ones to be decoded.
func (r *resolver) keepUnchanged() {
	n := &renewal{resolver: r, changed: r.changed(), done: map[Block]Block{}}
	for i, b := range r.blocks {
		if b.header().rec != nil && n.changed[b] {
			b = n.renew(b)
			r.blocks[i] = b
		}
		r.plan.keep(b)
	}
}

// changed finds the blocks of the version before that are not in this one, or do not say the same in it.
func (r *resolver) changed() map[Block]bool {
	out := map[Block]bool{}
	for _, b := range r.shadowed {
		out[b] = true
	}
	for i, rec := range r.before.records {
		if !r.before.found[i] || !r.readable(rec) {
			out[rec.block] = true
		}
	}
	for more := len(out) > 0; more; {
		more = false
		for _, rec := range r.before.records {
			if !out[rec.block] && slices.ContainsFunc(rec.named, func(b Block) bool { return out[b] }) {
				out[rec.block], more = true, true
			}
		}
	}
	return out
}

// readable reports whether a block of the version before says what it said, as far as that does not hang on
// other blocks.
func (r *resolver) readable(rec *record) bool {
	if rec.faulty || rec.says == nil {
		return false
	}
	for _, l := range rec.lets {
		if now, ok := r.scope.lets[l.name]; !ok || now.Assign != l.text {
			return false
		}
	}
	return true
}

// renew gives what stands in the place of a changed block.
func (n *renewal) renew(b Block) Block {
	if out, ok := n.done[b]; ok {
		return out
	}
	n.done[b] = nil
	h := b.header()
	out, ok := n.again(b)
	if !ok {
		out = h.Type.form()
		*out.header() = Header{Type: h.Type, Name: h.Name, Node: h.Node, Home: h.Home, Copy: h.Copy, id: h.id}
	}
	if id := h.address(); n.scope.named[id] == b {
		n.scope.named[id] = out
	}
	n.done[b] = out
	return out
}

// again copies a block of which nothing but the blocks that it refers to have changed; false where it has to be decoded.
func (n *renewal) again(b Block) (Block, bool) {
	was := b.header().rec
	if _, known := b.(*Controller); known || !n.readable(was) { // its ports know a controller
		return nil, false
	}
	for _, x := range was.named {
		now, ok := n.now(x)
		if !ok {
			return nil, false
		}
		counts := x.header().Copy > 0 || slices.Contains(was.reads, x) // a list of all copies hangs on their text
		if same := now == x || now == n.done[x] && now.header().rec != nil; counts && !same {
			return nil, false
		}
	}
	to := func(x Block) Block {
		now, _ := n.now(x)
		return now
	}
	out := reflect.New(reflect.TypeOf(b).Elem())
	out.Elem().Set(reflect.ValueOf(b).Elem())
	for _, i := range shapeOf(out.Elem().Type()).refs {
		out.Elem().Field(i).Addr().Interface().(field).renew(to)
	}
	rec := *was
	rec.block = out.Interface().(Block)
	rec.named, rec.reads, rec.uses = slices.Clone(was.named), slices.Clone(was.reads), slices.Clone(was.uses)
	for _, xs := range [][]Block{rec.named, rec.reads} {
		for i, x := range xs {
			xs[i] = to(x)
		}
	}
	for i, u := range rec.uses {
		if u.Target != nil {
			rec.uses[i].Target = to(u.Target)
		}
	}
	h := rec.block.header()
	if h.rec = &rec; h.Like != nil {
		h.Like = to(h.Like)
	}
	return rec.block, true
}

// now is what a block of the version before is in this one; false where nothing of the kind is there, or that is
// not decided.
func (n *renewal) now(b Block) (Block, bool) {
	h := b.header()
	if !n.changed[b] {
		return b, true
	}
	now := n.scope.named[h.address()]
	if now != nil && now.header().rec != nil && n.changed[now] {
		now = n.renew(now)
	}
	return now, now != nil && now.header().Home == h.Home
}
