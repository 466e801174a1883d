package schema

import (
	"reflect"
	"slices"
)

// renewal puts together what stands in the place of the blocks of the version before that are not what they
// were.
type renewal struct {
	*resolver
	stands map[Block]Block // by changed block: what is found in its place; nil where there is nothing, or that is not known yet
	made   map[Block]Block // what was made of them; nil while that is being decided
}

// keepUnchanged decides which of the blocks proposed from the version before still hold, and puts others in
// the place of those that do not: copies with other references, or new ones to be decoded.
func (r *resolver) keepUnchanged() {
	n := &renewal{resolver: r, stands: r.changed()}
	n.made = make(map[Block]Block, len(n.stands))
	for i, b := range r.blocks {
		if _, changed := n.stands[b]; changed {
			b = n.renew(b)
			r.blocks[i] = b
		}
		r.plan.keep(b)
	}
}

// changed finds the blocks of the version before that are not in this one, or do not say the same in it.
func (r *resolver) changed() map[Block]Block {
	out := map[Block]Block{}
	for _, b := range r.shadowed {
		if b.header().rec != nil {
			out[b] = nil
		}
	}
	for i, rec := range r.before.records {
		if !r.before.found[i] || !r.readable(rec) {
			out[rec.block] = nil
		}
	}
	changed := func(b Block) bool {
		_, ok := out[b]
		return ok
	}
	for more := len(out) > 0; more; {
		more = false
		for _, rec := range r.before.records {
			if slices.ContainsFunc(rec.named, changed) && !changed(rec.block) {
				out[rec.block], more = nil, true
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
	if h := rec.block.header(); h.Home == InPlan {
		if was, is := h.Usual, r.usualFor(h); (was == nil) != (is == nil) || is != nil && is.header().Node != was.header().Node {
			return false
		}
		if h.entered != r.entered[h.ID()] {
			return false
		}
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
	if out, ok := n.made[b]; ok {
		return out
	}
	n.made[b] = nil
	h := b.header()
	out, ok := n.again(b)
	if !ok {
		out = h.Type.form()
		*out.header() = Header{Type: h.Type, Name: h.Name, Node: h.Node, Home: h.Home, Copy: h.Copy, id: h.id, frame: h.frame, numbers: h.numbers, says: h.says}
	}
	if id := h.address(); n.scope.named[id] == b {
		n.scope.named[id] = out
	}
	n.made[b] = out
	return out
}

// again copies a block of which nothing but the blocks that it refers to have changed; false where it has to be decoded.
func (n *renewal) again(b Block) (Block, bool) {
	was := b.header().rec
	if _, known := b.(*Controller); known || !n.readable(was) { // its ports know a controller
		return nil, false
	}
	if s, ok := b.(*Surface); ok && len(s.Edges) > 0 { // which name others
		return nil, false
	}
	for _, x := range was.named {
		now, ok := n.now(x)
		if !ok {
			return nil, false
		}
		counts := x.header().Copy > 0 || slices.Contains(was.reads, x) // a list of all copies hangs on their text
		if same := now == x || now == n.made[x] && now.header().rec != nil; counts && !same {
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
	names := make([]Block, 0, len(was.named)+len(was.reads))
	for _, xs := range [][]Block{was.named, was.reads} {
		for _, x := range xs {
			names = append(names, to(x))
		}
	}
	rec.named, rec.reads, rec.uses = names[:len(was.named):len(was.named)], names[len(was.named):], slices.Clone(was.uses)
	for i, u := range rec.uses {
		if u.Target != nil {
			rec.uses[i].Target = to(u.Target)
		}
	}
	h := rec.block.header()
	if h.rec = &rec; h.Like != nil {
		h.Like = to(h.Like)
	}
	if h.Usual != nil {
		h.Usual = to(h.Usual)
	}
	return rec.block, true
}

// now is what a block of the version before is in this one; false where nothing of the kind is there, or that is
// not decided.
func (n *renewal) now(b Block) (Block, bool) {
	now, changed := n.stands[b]
	if !changed {
		return b, true
	}
	if now != nil {
		return now, true
	}
	if now = n.scope.named[b.header().address()]; now == nil {
		return nil, false
	}
	if _, changed := n.stands[now]; changed {
		now = n.renew(now)
	}
	if now == nil || now.header().Home != b.header().Home {
		return nil, false
	}
	n.stands[b] = now
	return now, true
}
