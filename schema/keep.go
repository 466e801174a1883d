package schema

import (
	"slices"
	"sync/atomic"

	"ohmstead/schema/source"
)

// Memo keeps the blocks of a plan between its versions: a block that is
// written in the same piece of text and refers to nothing but what is the same
// is taken over as it is, and one that refers to what has changed is copied with
// its references renewed. A plan decoded with a memo says exactly what it says
// without one. A memo is safe for concurrent use.
type Memo struct{ last atomic.Pointer[[]*record] }

// Decode is as the function Decode, with what the memo holds.
func (m *Memo) Decode(dir string, files []*source.File, fetch Fetch) *Plan {
	var before version
	if last := m.last.Load(); last != nil {
		before.records = *last
	}
	r := newResolver(dir, before)
	p := r.decode(files, fetch)
	now := recordsOf(r.blocks)
	m.last.Store(&now)
	return p
}

// recordsOf lists the records of blocks, for the next version.
func recordsOf(blocks []Block) []*record {
	out := make([]*record, 0, len(blocks))
	for _, b := range blocks {
		if h := b.header(); h.rec != nil {
			h.Node.known.Store(true)
			out = append(out, h.rec)
		}
	}
	return out
}

// version are the blocks of the version before in the order of the text, which
// are not changed once it is decoded, and how far they have been found again.
type version struct {
	records []*record
	next    int
	index   map[origin]int // made when a block has moved
	found   []bool         // of each record: its block is in this version too
}

// find gives the block of a text. Mostly it is the next one.
func (v *version) find(h *Header) (Block, bool) {
	i, ok := v.place(originOf(h))
	if !ok {
		return nil, false
	}
	if was := v.records[i].block.header(); !h.frame.same(was.frame) || !slices.Equal(h.numbers, was.numbers) || !slices.Equal(h.says, was.says) {
		return nil, false
	}
	v.next, v.found[i] = i+1, true
	return v.records[i].block, true
}

func (v *version) place(k origin) (int, bool) {
	const ahead = 4
	for i := v.next; i < min(v.next+ahead, len(v.records)); i++ {
		if originOf(v.records[i].block.header()) == k {
			return i, true
		}
	}
	if len(v.records) == 0 || !k.node.known.Load() {
		return 0, false
	}
	if v.index == nil {
		v.index = make(map[origin]int, len(v.records))
		for i, rec := range v.records {
			v.index[originOf(rec.block.header())] = i
		}
	}
	i, ok := v.index[k]
	return i, ok
}

// origin is where a block comes from: its text, whose it is, which of the
// copies it is, and of which assembly: two may be alike.
type origin struct {
	node *Node
	home Home
	copy int
	in   string
}

func originOf(h *Header) origin {
	o := origin{node: h.Node, home: h.Home, copy: h.Copy}
	if h.frame != nil {
		o.in = h.frame.name
	}
	return o
}

// record is a decoded block with what it depends on beside its own text.
type record struct {
	block  Block
	says   *effective
	uses   []Use
	named  []Block // found under their addresses
	reads  []Block // those of them whose own text counts too, not just which block it is
	lets   []letLookup
	faulty bool // something was reported or not found: it is decoded again each time
	done   bool // the block is complete
}

// letLookup is a named value that was asked for, and what it was.
type letLookup struct {
	name string
	text *Assign
}

// recordOf is the record that the decoding of a block writes to.
func recordOf(b Block) *record {
	h := b.header()
	if h.rec == nil {
		h.rec = &record{block: b}
	}
	return h.rec
}

// looksUp and looksUpLet note what the block being decoded depends on. What the
// catalogue says never changes, and how many copies there are is part of each
// copy's own text.
func (r *resolver) looksUp(sc *scope, b Block) {
	if r.rec == nil || sc != r.scope {
		return
	}
	if b == nil {
		r.rec.faulty = true // what is said of it depends on every other name
		return
	}
	r.rec.named = append(r.rec.named, b)
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
	r.plan.inLets = append(r.plan.inLets, u)
}
