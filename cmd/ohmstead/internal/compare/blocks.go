package compare

import (
	"slices"
	"strings"

	"ohmstead/schema"
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
	BlockDoubled What = "doubled" // written twice; which one is meant nobody knows
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
	t := &teller{matching: m, byID: map[string]*Block{}, lets: map[string]*Block{}, follows: map[string]bool{}}
	for _, w := range m.base.all {
		if _, ok := m.is[w.id]; !ok && !m.isPiece(w, true) && !inStock(w, m.head.Plan) {
			t.come(BlockRemoved, w, m.base)
		}
	}
	for _, h := range m.head.all {
		if _, ok := m.was[h.id]; !ok && !m.isPiece(h, false) && !inStock(h, m.base.Plan) {
			t.come(BlockAdded, h, m.head)
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
	t.tellMade()
	for _, b := range t.byID {
		if b.What == BlockRenamed || len(b.Attrs) > 0 {
			t.out = append(t.out, *b)
		}
	}
	for _, b := range t.lets {
		t.out = append(t.out, *b)
	}
	for id := range m.head.twice {
		if w, ok := m.head.byID[id]; ok && !m.base.twice[m.renameBack(id)] {
			t.out = append(t.out, t.entry(BlockDoubled, w, m.head))
		}
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
	if w.head.Home == schema.InStock && len(other.Blocks) == 0 {
		return true // of a plan that is new or gone the stock is neither
	}
	b, ok := other.Find(w.id)
	return ok && w.head.Home == schema.InStock && schema.HeaderOf(b).Home == schema.InStock
}

// weights puts what decides about the wall before what follows from it.
var weights = []string{"plan", "let", "policy", "usual", "assembly", "chain", "feed", "supply", "controller", "board", "strip", "run", "diffuser", "fixing", "wire", "lead", "joint", "signal", "order", "universes", "case", "surface", "reading", "marking"}

func weight(b Block) int {
	first := map[What]int{BlockDoubled: 0, BlockSplit: 0, BlockJoined: 0, BlockChanged: 1, BlockRenamed: 2, BlockAdded: 3, BlockRemoved: 4}
	if b.protects() {
		return -1
	}
	return first[b.What]*len(weights) + slices.Index(weights, b.Type)
}

// protective are the attributes that say what a fault may drive through what.
var protective = []string{"fuse", "gauge", "ampacity", "overload", "parallel", "rail_current", "rating", "limited", "carries"}

// protects reports whether a change is one of what protects copper.
func (b Block) protects() bool {
	return slices.ContainsFunc(b.Attrs, func(a Attr) bool { return slices.Contains(protective, a.Name) }) && b.What != BlockAdded && b.What != BlockRemoved
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
