package compare

import (
	"fmt"
	"regexp"
	"strings"
	"sync"

	"ohmstead/lint/figures"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// matching says which block of one version is which block of the other.
type matching struct {
	base, head *version
	is         map[string]string // address or place in base -> in head
	was        map[string]string // and back
	pairs      []pair            // written blocks that are on both sides, in the order of head
	cuts       []cut             // runs that were split or joined
	stretches  []stretch         // which pixel is which
	into       map[*figures.Run][]stretch
	index      map[*figures.Run]int // of base
}

type pair struct{ base, head *written }

// version is one side's blocks as they are written.
type version struct {
	*Side
	all   []*written
	byID  map[string]*written // by the address as written and by that of each copy
	users map[string][]use    // who refers to a block, by its address
	order map[*written]int
	at    map[*source.Piece][]*written
	twice map[string]bool // blocks that stand more than once
}

// written is a block as it stands in the text, with the copies that times
// makes of it.
type written struct {
	id     string // "run.shelf" for all its copies
	blocks []schema.Block
	head   *schema.Header // of the first
}

// use is a reference to a block.
type use struct {
	by   *written
	attr string
}

// matched finds out which block is which.
func matched(base, head *Side) *matching {
	m := &matching{base: newVersion(base), head: newVersion(head), is: map[string]string{}, was: map[string]string{}}
	m.base.apart(m.head)
	m.head.apart(m.base)
	for _, w := range m.base.all {
		if h, ok := m.head.byID[w.id]; ok && h.id == w.id {
			m.join(w, h)
		}
	}
	m.renames(func(w *written) bool { return !wiring[w.head.Type.Name] })
	m.cut()
	m.renames(func(w *written) bool { return true })
	for _, h := range m.head.all {
		if b := m.counterpart(h); b != nil {
			m.pairs = append(m.pairs, pair{b, h})
		}
	}
	m.stretches = m.follow()
	m.into, m.index = map[*figures.Run][]stretch{}, map[*figures.Run]int{}
	for _, s := range m.stretches {
		m.into[s.head] = append(m.into[s.head], s)
	}
	for i, r := range m.base.Figures.Runs {
		m.index[r] = i
	}
	return m
}

// wiring lists the block types that are recognised by what they refer to; the
// parts must have been recognised before.
var wiring = map[string]bool{"run": true, "lead": true, "signal": true, "order": true, "universes": true, "reading": true, "case": true}

func newVersion(s *Side) *version {
	v := &version{Side: s, byID: map[string]*written{}, users: map[string][]use{}, order: map[*written]int{}, at: map[*source.Piece][]*written{}, twice: map[string]bool{}}
	used := usedStock(s.Plan)
	for _, bs := range [][]schema.Block{s.Plan.Blocks, s.Plan.Stock} {
		for _, b := range bs {
			h := schema.HeaderOf(b)
			if _, isLet := b.(*schema.Let); isLet || h.Home != schema.InPlan && !used[b] {
				continue
			}
			v.file(b, h)
		}
	}
	for i, w := range v.all {
		v.order[w] = i
		v.at[w.head.Node.Piece()] = append(v.at[w.head.Node.Piece()], w)
		for _, a := range resolved.Attrs(w.blocks[0]) {
			for _, t := range targets(a.Value) {
				id := schema.HeaderOf(t).ID()
				if x, ok := v.byID[id]; ok {
					id = x.id
				}
				v.users[id] = append(v.users[id], use{w, a.Name})
			}
		}
	}
	return v
}

// file puts a block under its written one.
func (v *version) file(b schema.Block, h *schema.Header) {
	id := h.ID()
	if h.Copy > 0 {
		id = h.Type.Name + "." + h.Base()
	}
	w, ok := v.byID[id]
	if ok && h.Copy == 0 && h.Type.Label != "" && h.Type.Name != "plan" {
		v.twice[id] = true // which is a finding; the first one counts
		return
	}
	if h.Type.Label == "" && h.Home == schema.InStock { // a policy beside that of the plan
		id += " of stock"
		w, ok = v.byID[id]
	}
	if ok && h.Copy == 0 {
		for n := 2; ok; n++ {
			id = fmt.Sprintf("%s (%d)", strings.TrimSuffix(id, fmt.Sprintf(" (%d)", n-1)), n)
			_, ok = v.byID[id]
		}
	}
	if !ok {
		w = &written{id: id, head: h}
		v.all = append(v.all, w)
		v.byID[id] = w
	}
	w.blocks = append(w.blocks, b)
	if h.Copy > 0 {
		v.byID[h.ID()] = w
	}
}

// apart takes copies for blocks of their own where the other version has them written
// out under the same names.
func (v *version) apart(other *version) {
	var all []*written
	for _, w := range v.all {
		out := 0
		for _, b := range w.blocks {
			if o, ok := other.byID[schema.HeaderOf(b).ID()]; ok && o.head.Copy == 0 {
				out++
			}
		}
		if w.head.Copy == 0 || other.byID[w.id] != nil || 2*out <= len(w.blocks) {
			all = append(all, w)
			continue
		}
		for _, b := range w.blocks {
			h := schema.HeaderOf(b)
			x := &written{id: h.ID(), blocks: []schema.Block{b}, head: h}
			v.byID[x.id] = x
			v.users[x.id] = v.users[w.id]
			all = append(all, x)
		}
		delete(v.byID, w.id)
	}
	v.all = all
	v.at = map[*source.Piece][]*written{}
	for i, w := range v.all {
		v.order[w] = i
		v.at[w.head.Node.Piece()] = append(v.at[w.head.Node.Piece()], w)
	}
}

// usedStock lists the blocks of stock that the plan uses, through whatever other
// blocks of stock.
func usedStock(p *schema.Plan) map[schema.Block]bool {
	seen := map[schema.Block]bool{}
	var visit func(b schema.Block)
	visit = func(b schema.Block) {
		h := schema.HeaderOf(b)
		if seen[b] || h.Home == schema.InCatalogue {
			return
		}
		seen[b] = true
		if h.Like != nil {
			visit(h.Like)
		}
		for _, a := range resolved.Attrs(b) {
			for _, t := range targets(a.Value) {
				visit(t)
			}
		}
	}
	for _, b := range p.Blocks {
		visit(b)
	}
	for _, b := range p.Policies { // a policy is used without being named
		visit(b)
	}
	if p.Marking != nil {
		visit(p.Marking)
	}
	return seen
}

// targets lists the blocks that a value refers to.
func targets(v any) []schema.Block {
	var out []schema.Block
	switch v := v.(type) {
	case *schema.Point:
		if v != nil {
			out = append(out, v.Block())
		}
	case []*schema.Run:
		for _, r := range v {
			out = append(out, r)
		}
	case []schema.RunRef:
		for _, r := range v {
			out = append(out, r.Run)
		}
	case []schema.Block:
		out = append(out, v...)
	case schema.Block:
		out = append(out, v)
	}
	return out
}

// join records that two written blocks are one.
func (m *matching) join(b, h *written) {
	m.is[b.id], m.was[h.id] = h.id, b.id
	if b.head.Copy == 0 && h.head.Copy == 0 {
		return
	}
	numbered := map[string]string{}
	for _, x := range h.blocks {
		numbered[schema.HeaderOf(x).Numbers()] = schema.HeaderOf(x).ID()
	}
	for _, x := range b.blocks {
		if is, ok := numbered[schema.HeaderOf(x).Numbers()]; ok {
			was := schema.HeaderOf(x).ID()
			m.is[was], m.was[is] = is, was
		}
	}
}

func (m *matching) counterpart(h *written) *written {
	if id, ok := m.was[h.id]; ok {
		return m.base.byID[id]
	}
	return nil
}

// rename gives an address of base its name in head.
func (m *matching) rename(id string) string {
	if is, ok := m.is[id]; ok {
		return is
	}
	return id
}

// renameBack gives an address of head its name in base.
func (m *matching) renameBack(id string) string {
	if was, ok := m.was[id]; ok {
		return was
	}
	return id
}

// owner is the written block that a place lies in; nil for the catalogue.
func (v *version) owner(at source.Span) *written {
	for _, w := range v.at[at.Piece] {
		if n := w.head.Node; at.Start >= n.Whole.Start && at.End <= n.Whole.End {
			return w
		}
	}
	return nil
}

// maker is the written block that makes another one; nil for one that is written itself.
func (v *version) maker(w *written) *written {
	n := w.head.MadeBy()
	if n == nil {
		return nil
	}
	name := n.Name()
	if in := w.head.Assembly(); in != "" {
		name = strings.TrimPrefix(in, "assembly.") + "-" + name
	}
	return v.byID[n.Type+"."+name]
}

// group cuts the number off a copy's name: "run.shelf" of "run.shelf-3".
func (v *version) group(id string) (written string, copies int) {
	if w, ok := v.byID[id]; ok {
		return w.id, len(w.blocks)
	}
	return id, 1
}

// address matches a block's address or a place that begins with one.
var address = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\b[a-z]+(?:\.[\w-]+)+(?:\["?[\w .]+"?\])?`) })

// renamed puts the addresses of head into a text that names those of base.
func (m *matching) renamed(text string) string {
	return address().ReplaceAllStringFunc(text, func(found string) string {
		for id := found; ; {
			if is, ok := m.is[id]; ok {
				return is + found[len(id):]
			}
			i := strings.LastIndexAny(id, ".[")
			if i < 0 {
				return found
			}
			id = id[:i]
		}
	})
}
