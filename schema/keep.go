package schema

import (
	"sync/atomic"

	"ohmstead/schema/source"
)

// Memo keeps the blocks of a plan between its versions: a block that is
// written in the same piece of text and refers to nothing but what is the same
// is taken over as it is. A plan decoded with a memo says exactly what it says
// without one. A memo is safe for concurrent use.
type Memo struct{ last atomic.Pointer[records] }

// Decode is as the function Decode, with what the memo holds.
func (m *Memo) Decode(dir string, files []*source.File, fetch Fetch) *Plan {
	r := newResolver(dir)
	if before := m.last.Load(); before != nil {
		r.before = *before
	}
	p := r.decode(files, fetch)
	m.last.Store(&r.now)
	return p
}

// records are the blocks of one version by where they come from. They are not
// changed once the version is decoded.
type records map[origin]*record

// origin is where a block comes from: its text, whose it is, and which of the
// copies it is.
type origin struct {
	node *Node
	home Home
	copy int
}

func originOf(h *Header) origin { return origin{h.Node, h.Home, h.Copy} }

// record is a decoded block with what it depends on beside its own text.
type record struct {
	block  Block
	whole  *effective
	uses   []Use
	named  []lookup
	lets   []letLookup
	faulty bool // something was reported or not found: it is decoded again each time
}

type (
	lookup struct {
		id    string
		block Block
	}
	letLookup struct {
		name string
		text *Assign
	}
)

// recordOf is the record that the decoding of a block writes to.
func (r *resolver) recordOf(b Block) *record {
	k := originOf(b.header())
	rec, ok := r.now[k]
	if !ok {
		rec = &record{block: b}
		r.now[k] = rec
	}
	return rec
}

// looksUp and looksUpLet note what the block being decoded depends on. What the
// catalogue says never changes, and how many copies there are is part of each
// copy's own text.
func (r *resolver) looksUp(sc *scope, id string, b Block) {
	if r.rec == nil || sc != r.scope {
		return
	}
	if b == nil {
		r.rec.faulty = true // what is said of it depends on every other name
		return
	}
	r.rec.named = append(r.rec.named, lookup{id, b})
}

func (r *resolver) looksUpLet(sc *scope, name string, l *LetValue) {
	if r.rec == nil || sc != r.scope {
		return
	}
	if l == nil {
		r.rec.faulty = true
		return
	}
	r.rec.lets = append(r.rec.lets, letLookup{name, l.Assign})
}

// use notes a resolved reference.
func (r *resolver) use(u Use) {
	if r.rec != nil {
		r.rec.uses = append(r.rec.uses, u)
		return
	}
	r.plan.Uses = append(r.plan.Uses, u)
}

// settle decides which of the blocks proposed from the version before still
// hold, and puts new ones in the place of the others.
func (r *resolver) settle() {
	holds := map[Block]bool{} // decided, or being decided: no block depends on itself
	for _, b := range r.blocks {
		h := b.header()
		rec, proposed := r.before[originOf(h)]
		if proposed && rec.block == b && r.holds(rec, holds) {
			r.now[originOf(h)] = rec
			r.whole[b] = rec.whole
			r.kept[b] = true
		} else if proposed && rec.block == b {
			fresh := h.Type.form()
			*fresh.header() = Header{Type: h.Type, Name: h.Name, Node: h.Node, Home: h.Home, Copy: h.Copy, id: h.id}
			if id := r.addressOf(fresh.header()); r.scope.named[id] == b {
				r.scope.named[id] = fresh
			}
			b = fresh
		}
		r.plan.keep(b)
	}
}

// holds reports whether a block of the version before is the same in this one.
func (r *resolver) holds(rec *record, decided map[Block]bool) bool {
	if is, ok := decided[rec.block]; ok {
		return is
	}
	decided[rec.block] = false
	if rec.faulty || rec.whole == nil {
		return false
	}
	for _, l := range rec.lets {
		if now, ok := r.scope.lets[l.name]; !ok || now.Assign != l.text {
			return false
		}
	}
	for _, d := range rec.named {
		if r.scope.named[d.id] != d.block {
			return false
		}
		other, ok := r.before[originOf(d.block.header())]
		if !ok || !r.holds(other, decided) {
			return false
		}
	}
	decided[rec.block] = true
	return true
}
