// Package shopping works out what has to be bought for a plan: strip by the
// reel, diffusers by the piece, wire by the reel or the metre, and what is
// counted. It does no I/O.
package shopping

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/cutting"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// List is what a plan needs and what of it is to be bought.
type List struct {
	Lines    []Line
	Totals   []schema.Quantity // what is bought costs, one for each currency, by its code
	Unpriced int               // lines that buy something of which no price is known
	Missing  []string          // what could not be counted, and why
}

// Line is one part on the list.
type Line struct {
	Part string       // the block's address, or what the part is: "fuse 7.5 A"
	Kind string       // "strip", "diffuser", "end cap", "wire", "fixing", "supply", …
	Use  schema.Block // nil for what has no block of its own
	Need float64      // m on the wall, or pieces, spare not counted
	Have float64      // m in the drawer
	Long bool         // Need and Have are lengths
	Unit string       // what one bought unit is: "reel of 5 m", "pack of 10", "m", "piece"
	Buy  int          // units
	Each *schema.Quantity
	Cut  *Cut // of parts that are cut from a reel or piece
}

// Cut says which piece is cut from which reel.
type Cut struct {
	For  []string // what each piece of the job is for
	Job  cutting.Job
	Plan cutting.Plan
}

// Cost is the price of what is bought; ok is false where no price is known.
func (l Line) Cost() (q schema.Quantity, ok bool) {
	if l.Each == nil {
		return q, false
	}
	return l.Each.With(l.Each.SI * float64(l.Buy)), true
}

// sawKerf is what a saw takes at each cut of a rigid channel, m (common
// practice, no source: a fine blade with room to dress the edge).
const sawKerf = 0.003

// Of lists what the plan needs. The policy's spare is added to what is cut or
// used up: strip, diffusers, wire and fixings. Counted parts are bought as
// counted.
func Of(f *figures.Figures) List {
	b := &builder{f: f, spare: f.Plan.Limits().Spare, lengths: map[string]*stretch{}, counts: map[string]*Line{}, sitting: map[*schema.Holder]int{}}
	for _, r := range f.Runs {
		b.run(r)
	}
	for _, l := range f.Leads {
		b.lead(l)
	}
	for _, s := range f.Plan.Signals {
		b.signal(s)
	}
	for _, s := range f.Plan.Supplies {
		b.count("supply", part(s), s, 1, price(s.Price))
	}
	for _, c := range f.Plan.Controllers {
		b.controller(c)
	}
	for _, j := range f.Plan.Joints {
		b.joint(j)
	}
	return b.list()
}

// kinds puts the list in the order of a shopping trip.
var kinds = []string{"strip", "diffuser", "end cap", "fixing", "supply", "controller", "level shifter", "wire", "joint", "holder", "fuse", "capacitor", "resistor"}

type builder struct {
	f       *figures.Figures
	spare   float64
	lengths map[string]*stretch // by part
	counts  map[string]*Line
	sitting map[*schema.Holder]int // fuses in it
	missing []string
}

// stretch gathers the pieces of a part that is cut to length.
type stretch struct {
	line   Line
	pieces []float64
	uses   []string
	reel   float64 // m, 0 where not known
	kerf   float64
	unit   string // "reel", "piece"
}

func (b *builder) lacks(format string, args ...any) {
	why := fmt.Sprintf(format, args...)
	if !slices.Contains(b.missing, why) {
		b.missing = append(b.missing, why)
	}
}

// length adds a piece of a part that is sold by length. A piece longer than a
// reel is made of several.
func (b *builder) length(kind string, blk schema.Block, m float64, use string, unit string, reel, have schema.Value[schema.Quantity], each *schema.Quantity) *stretch {
	id := schema.HeaderOf(blk).ID()
	s := b.lengths[id]
	if s == nil {
		s = &stretch{line: Line{Part: id, Kind: kind, Use: blk, Long: true, Each: each}, unit: unit}
		if reel.Known() {
			s.reel = reel.V.SI
		}
		if have.Known() {
			s.line.Have = have.V.SI
		}
		b.lengths[id] = s
	}
	s.line.Need += m
	for s.reel > 0 && m > s.reel*(1+1e-9) {
		s.pieces, s.uses = append(s.pieces, s.reel), append(s.uses, use)
		m -= s.reel
	}
	if m > 1e-9 {
		s.pieces, s.uses = append(s.pieces, m), append(s.uses, use)
	}
	return s
}

// count adds n pieces of a part that is counted. Parts of one address and one
// price make one line.
func (b *builder) count(kind, id string, blk schema.Block, n int, each *schema.Quantity) {
	if n <= 0 {
		return
	}
	key := kind + "\x00" + id
	if each != nil {
		key += "\x00" + each.Exact()
	}
	l := b.counts[key]
	if l == nil {
		l = &Line{Part: id, Kind: kind, Use: blk, Unit: "piece", Each: each}
		b.counts[key] = l
	}
	l.Need += float64(n)
	l.Buy += n
}

func (b *builder) run(r *figures.Run) {
	if !r.OK {
		b.lacks("%s: its length is not known", r.ID())
		return
	}
	s := r.Strip.V
	b.length("strip", s, r.StripLength(), r.ID(), "reel", s.Reel, s.Have, price(s.Price))
	if d := r.Diffuser.V; d != nil && r.Diffuser.Known() {
		st := b.length("diffuser", d, r.Length, r.ID(), "piece", d.Piece, d.Have, price(d.Price))
		if d.Kind.V == "channel" {
			st.kerf = sawKerf
		}
		if d.Caps.Known() {
			b.count("end cap", "end cap for "+schema.HeaderOf(d).ID(), d, d.Caps.V, price(d.CapPrice))
		}
	}
	if x := r.Fixing.V; x != nil && r.Fixing.Known() {
		b.fixing(r, x)
	}
	if r.Capacitor.Set && !r.Capacitor.Bad {
		b.count("capacitor", "capacitor "+quantity.Show(quantity.Capacitance, r.Capacitor.V.SI), nil, 1, nil)
	}
}

// fixing counts what holds a run: one at each end and no two farther apart than
// its spacing, and enough of them for the weight.
func (b *builder) fixing(r *figures.Run, x *schema.Fixing) {
	n := 0
	if x.Spacing.Known() {
		n = ceil(r.Length/x.Spacing.V.SI) + 1
	}
	if d := r.Diffuser.V; d != nil && d.Weight.Known() && x.Holds.Known() {
		n = max(n, ceil(r.Length*d.Weight.V.SI/x.Holds.V.SI))
	}
	id := schema.HeaderOf(x).ID()
	if n == 0 {
		b.lacks("%s: neither spacing nor what one holds is known", id)
		return
	}
	l := b.counts[id]
	if l == nil {
		l = &Line{Part: id, Kind: "fixing", Use: x, Unit: "piece", Each: price(x.Price)}
		if x.Pack.V > 1 {
			l.Unit = "pack of " + fmt.Sprint(x.Pack.V)
		}
		b.counts[id] = l
	}
	l.Need += float64(n)
	l.Buy = ceil(l.Need * (1 + b.spare) / float64(max(x.Pack.V, 1)))
}

func (b *builder) lead(l *figures.Lead) {
	if !l.OK {
		b.lacks("%s: its length is not known", l.ID())
		return
	}
	w := l.Wire.V
	conductors := l.Parallel.V
	if l.Plus() && l.Minus() {
		conductors *= 2
	}
	cores := max(w.Cores.V, 1)
	for range ceil(float64(conductors) / float64(cores)) {
		b.length("wire", w, l.Length, l.ID(), "reel", w.Reel, w.Have, price(w.Price))
	}
	if l.Fused() {
		b.fuse(l)
	}
}

// fuse counts a lead's fuse, by kind and rating, and what it sits in: a holder of
// its own, or a way of a block.
func (b *builder) fuse(l *figures.Lead) {
	b.count("fuse", l.Device.Name+" fuse "+quantity.Show(quantity.Current, l.Fuse.V.SI), nil, 1, nil)
	h := l.Holder.V
	if h == nil || h.Kind.V == "resettable" { // soldered in
		return
	}
	b.sitting[h]++
	if !h.Ways.Set || h.Ways.Bad || (b.sitting[h]-1)%h.Ways.V == 0 {
		b.count("holder", part(h), h, 1, price(h.Price))
	}
}

func (b *builder) signal(s *schema.Signal) {
	if s.Resistor.Set && !s.Resistor.Bad && s.Resistor.V.SI > 0 {
		b.count("resistor", "resistor "+quantity.Show(quantity.Resistance, s.Resistor.V.SI), nil, 1, nil)
	}
	w := s.Wire.V
	switch {
	case s.Within.Set && (w == nil || s.Within.V != nil && s.Within.V.Wire.V == w):
		return // a core of the lead's cable
	case w == nil || !s.Wire.Known():
		b.lacks("%s: no wire is given", s.ID())
	case !s.Length.Set || s.Length.Bad:
		b.lacks("%s: its length is not known", s.ID())
	default:
		b.length("wire", w, s.Length.V.SI, s.ID(), "reel", w.Reel, w.Have, price(w.Price))
	}
}

func (b *builder) controller(c *schema.Controller) {
	id := part(c)
	if c.Board.V != nil && c.Like == nil {
		id = schema.HeaderOf(c.Board.V).ID()
	}
	b.count("controller", id, c, 1, price(c.Price))
	if c.Buffer.Set && !c.Buffer.Bad {
		b.count("level shifter", "level shifter to "+quantity.Show(quantity.Voltage, c.Buffer.V.SI), nil, 1, nil)
	}
	if c.SeriesResistor.Set && !c.SeriesResistor.Bad && c.SeriesResistor.V.SI > 0 {
		b.count("resistor", "resistor "+quantity.Show(quantity.Resistance, c.SeriesResistor.V.SI), nil, len(c.Ports), nil)
	}
}

// joint counts the pieces of a joint, which stands for plus and minus: one for
// each, but a plug carries both, and solder is not bought by the joint.
func (b *builder) joint(j *schema.Joint) {
	switch j.Kind.V {
	case "solder":
	case "plug":
		b.count("joint", part(j), j, 1, price(j.Price))
	default:
		b.count("joint", part(j), j, 2, price(j.Price))
	}
}

// part is the address under which a thing that is a part and its place at once
// is bought: the entry of the catalogue or of stock that it is like, else its own.
func part(blk schema.Block) string {
	for {
		h := schema.HeaderOf(blk)
		if h.Like == nil || h.Home != schema.InPlan {
			return h.ID()
		}
		blk = h.Like
	}
}

func (b *builder) list() List {
	var out List
	for _, id := range slices.Sorted(maps.Keys(b.lengths)) {
		out.Lines = append(out.Lines, b.bought(b.lengths[id]))
	}
	for _, l := range b.counts {
		out.Lines = append(out.Lines, *l)
	}
	out.Missing = b.missing
	slices.SortFunc(out.Lines, func(a, c Line) int {
		if d := slices.Index(kinds, a.Kind) - slices.Index(kinds, c.Kind); d != 0 {
			return d
		}
		if d := strings.Compare(a.Part, c.Part); d != 0 {
			return d
		}
		return strings.Compare(shown(a.Each), shown(c.Each))
	})
	for _, l := range out.Lines {
		if l.Buy == 0 {
			continue
		}
		if cost, ok := l.Cost(); ok {
			out.Totals = add(out.Totals, cost)
		} else {
			out.Unpriced++
		}
	}
	return out
}

// bought says how many reels, pieces or metres to buy of a part that is cut.
func (b *builder) bought(s *stretch) Line {
	l := s.line
	want := l.Need * (1 + b.spare)
	if s.reel <= 0 { // sold by the metre; a price is that of a reel, of which nothing is known
		l.Unit, l.Each = "m", nil
		l.Buy = ceil(math.Max(0, want-l.Have))
		return l
	}
	l.Unit = s.unit + " of " + quantity.Show(quantity.Length, s.reel)
	job := cutting.Job{Pieces: s.pieces, Reel: s.reel, Kerf: s.kerf}
	if l.Have > 0 {
		job.Leftovers = []float64{l.Have}
	}
	plan, err := cutting.Solve(job)
	if err != nil {
		b.lacks("%s: %v", l.Part, err)
		l.Buy = ceil(math.Max(0, want-l.Have) / s.reel)
		return l
	}
	l.Cut = &Cut{For: s.uses, Job: job, Plan: plan}
	l.Buy = max(plan.NewReels, ceil(math.Max(0, want-l.Have)/s.reel)) // offcuts serve as the spare
	return l
}

func add(totals []schema.Quantity, q schema.Quantity) []schema.Quantity {
	for i, t := range totals {
		if t.Unit.Symbol == q.Unit.Symbol {
			totals[i] = t.With(t.SI + q.SI)
			return totals
		}
	}
	totals = append(totals, q)
	slices.SortFunc(totals, func(a, b schema.Quantity) int { return strings.Compare(a.Unit.Symbol, b.Unit.Symbol) })
	return totals
}

func price(v schema.Value[schema.Quantity]) *schema.Quantity {
	if !v.Set || v.Bad {
		return nil
	}
	return &v.V
}

func shown(q *schema.Quantity) string {
	if q == nil {
		return ""
	}
	return q.Exact()
}

// ceil is the whole number not below v, rounding aside.
func ceil(v float64) int { return int(math.Ceil(v - 1e-9)) }
