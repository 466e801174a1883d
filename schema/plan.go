package schema

import (
	"slices"
	"sort"
	"strings"

	"ohmstead/schema/source"
)

// Plan is what a directory of plan files says: typed blocks, each value with
// its place, and the problems of the text. It is complete as far as the text
// makes sense, and it is never changed after Decode returns.
type Plan struct {
	Dir        string         // slash-separated, relative to the workspace root
	Files      []*source.File // the plan's own, by path
	StockFiles []*source.File
	StockDirs  []string // directories that the plan depends on, by path

	Head     *PlanHead // nil when there is none
	Policies []*Policy // the plan's own first
	Marking  *Marking  // nil when there is none

	// The plan's own blocks in the order of the text. Parts that come from
	// stock are reached through the blocks that use them.
	Strips      []*Strip
	Diffusers   []*Diffuser
	Wires       []*Wire
	Fixings     []*Fixing
	Surfaces    []*Surface
	Supplies    []*Supply
	Boards      []*Board
	Controllers []*Controller
	Joints      []*Joint
	Holders     []*Holder
	Consumables []*Consumable
	Runs        []*Run
	Leads       []*Lead
	Signals     []*Signal
	Assemblies  []*Assembly
	Orders      []*Order
	Universes   []*Universes
	Cases       []*Case
	Readings    []*Reading

	Blocks   []Block // every block of the plan itself, of every type
	Stock    []Block // the parts of its stock directories
	Lets     []*LetValue
	Problems []*Problem

	named  map[string]Block // "strip.arch"
	lets   map[string]*LetValue
	scope  *scope
	places func() map[*source.Piece]place
	inLets []Use // the references that named values hold
}

// LetValue is a named value of a let block.
type LetValue struct {
	*Assign
	Home Home
}

// Use is a reference in the text: the step At names Target or Let.
type Use struct {
	At     source.Span
	Target Block     // nil for a let
	Let    *LetValue // nil for a block
}

type place struct {
	file   *source.File
	offset int
}

// Limits are the policy's figures: shares of one, and Tail in m.
type Limits struct{ Drop, Load, Slack, Spare, Tail float64 }

// Limits gives the figures that hold for the plan: its own policy's, else its
// stock's, else the declared defaults.
func (p *Plan) Limits() Limits {
	figure := func(name string, get func(*Policy) Value[Quantity]) float64 {
		for _, pol := range p.Policies {
			if v := get(pol); v.Set && !v.Bad {
				return v.V.SI
			}
		}
		return defaultOf(policyType.must(name)).(Quantity).SI
	}
	return Limits{
		Drop:  figure("drop", func(p *Policy) Value[Quantity] { return p.Drop }),
		Load:  figure("load", func(p *Policy) Value[Quantity] { return p.Load }),
		Slack: figure("slack", func(p *Policy) Value[Quantity] { return p.Slack }),
		Spare: figure("spare", func(p *Policy) Value[Quantity] { return p.Spare }),
		Tail:  figure("tail", func(p *Policy) Value[Quantity] { return p.Tail }),
	}
}

// Ambient is the plan's air temperature in degrees Celsius: as written, else
// the declared default.
func (p *Plan) Ambient() float64 {
	if p.Head != nil && p.Head.Ambient.Known() {
		return p.Head.Ambient.V.SI
	}
	return defaultOf(planType.must("ambient")).(Quantity).SI
}

// Title is what to call the plan: its title, else its name, else its directory.
func (p *Plan) Title() string {
	switch {
	case p.Head == nil:
		return p.Dir
	case p.Head.Title.Known() && p.Head.Title.V != "":
		return p.Head.Title.V
	}
	return p.Head.Name
}

// Name is the name in the plan block, or "" without one.
func (p *Plan) Name() string {
	if p.Head == nil {
		return ""
	}
	return p.Head.Name
}

// Find looks a block up by its address, such as "strip.arch" or "catalog.awg_16".
func (p *Plan) Find(id string) (Block, bool) {
	if name, ok := strings.CutPrefix(id, "catalog."); ok {
		return Catalogue().entry(name)
	}
	b, ok := p.named[id]
	return b, ok
}

// Taken reports whether a block of a type, or its copies, have a name.
func (p *Plan) Taken(typeName, name string) bool {
	return slices.ContainsFunc(p.Blocks, func(b Block) bool {
		h := b.header()
		return h.Type.Name == typeName && (h.Name == name || h.Base() == name)
	})
}

// Let looks a named value up.
func (p *Plan) Let(name string) (*LetValue, bool) {
	v, ok := p.lets[name]
	return v, ok
}

// Locate gives the file of a span and its byte offsets there. It is false for
// a span of another plan or of the catalogue.
func (p *Plan) Locate(at source.Span) (f *source.File, start, end int, ok bool) {
	if at.Piece == nil {
		return nil, 0, 0, false
	}
	for _, fs := range [][]*source.File{p.Files, p.StockFiles} {
		for _, f := range fs {
			if i, ok := f.Near(at.Piece); ok {
				return f, f.Offset(i) + at.Start, f.Offset(i) + at.End, true
			}
		}
	}
	pl, ok := p.places()[at.Piece]
	return pl.file, pl.offset + at.Start, pl.offset + at.End, ok
}

// index lists the places of all pieces, for those that have moved far.
func (p *Plan) index() map[*source.Piece]place {
	places := map[*source.Piece]place{}
	for _, fs := range [][]*source.File{p.Files, p.StockFiles} {
		for _, f := range fs {
			for i, pc := range f.Pieces {
				places[pc] = place{f, f.Offset(i)}
			}
		}
	}
	return places
}

// Uses visits every resolved reference written in the plan's or stock's files.
func (p *Plan) Uses(yield func(Use) bool) {
	for _, u := range p.inLets {
		if !yield(u) {
			return
		}
	}
	for _, bs := range [][]Block{p.Stock, p.Blocks} {
		for _, b := range bs {
			if rec := b.header().rec; rec != nil {
				for _, u := range rec.uses {
					if !yield(u) {
						return
					}
				}
			}
		}
	}
}

// sortProblems puts the problems in the order of the text.
func (p *Plan) sortProblems() {
	type key struct {
		path string
		at   int
	}
	keys := map[*Problem]key{}
	for _, pr := range p.Problems {
		if f, start, _, ok := p.Locate(pr.At); ok {
			keys[pr] = key{f.Text.Path(), start}
		}
	}
	sort.SliceStable(p.Problems, func(i, j int) bool {
		a, b := keys[p.Problems[i]], keys[p.Problems[j]]
		if a.path != b.path {
			return a.path < b.path
		}
		return a.at < b.at
	})
}

// keep files a block of the plan under its type.
func (p *Plan) keep(b Block) {
	switch b := b.(type) {
	case *PlanHead:
		if p.Head == nil {
			p.Head = b
		}
	case *Policy:
		p.Policies = append(p.Policies, b)
	case *Marking:
		if p.Marking == nil {
			p.Marking = b
		}
	}
	if b.header().Home != InPlan {
		p.Stock = append(p.Stock, b)
		return
	}
	p.Blocks = append(p.Blocks, b)
	switch b := b.(type) {
	case *Strip:
		p.Strips = append(p.Strips, b)
	case *Diffuser:
		p.Diffusers = append(p.Diffusers, b)
	case *Wire:
		p.Wires = append(p.Wires, b)
	case *Fixing:
		p.Fixings = append(p.Fixings, b)
	case *Surface:
		p.Surfaces = append(p.Surfaces, b)
	case *Supply:
		p.Supplies = append(p.Supplies, b)
	case *Board:
		p.Boards = append(p.Boards, b)
	case *Controller:
		p.Controllers = append(p.Controllers, b)
	case *Joint:
		p.Joints = append(p.Joints, b)
	case *Holder:
		p.Holders = append(p.Holders, b)
	case *Consumable:
		p.Consumables = append(p.Consumables, b)
	case *Run:
		p.Runs = append(p.Runs, b)
	case *Lead:
		p.Leads = append(p.Leads, b)
	case *Signal:
		p.Signals = append(p.Signals, b)
	case *Assembly:
		p.Assemblies = append(p.Assemblies, b)
	case *Order:
		p.Orders = append(p.Orders, b)
	case *Universes:
		p.Universes = append(p.Universes, b)
	case *Case:
		p.Cases = append(p.Cases, b)
	case *Reading:
		p.Readings = append(p.Readings, b)
	}
}
