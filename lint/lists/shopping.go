package lists

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/cutting"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Purchase is what a plan needs and what of it is to be bought.
type Purchase struct {
	Items    []Item
	Totals   []schema.Quantity // what is bought costs, one for each currency, by its code
	Unpriced int               // items that buy something of which no price is known
	Missing  []string          // what could not be counted, and why
	Habit    quantity.Habit

	SpareShare float64 // what is bought more than needed of what is cut or used up
}

// Item is one line of the shopping list.
type Item struct {
	Part   string       // the block's address, or what the part is: "blade fuse 7.5 A"
	Kind   string       // "strip", "diffuser", "end cap", "wire", "fixing", "supply", …
	What   string       // what to ask for in a shop
	Color  string       // of wire: each colour is an item of its own
	Use    schema.Block // nil for what has no block of its own
	Need   float64      // m on the wall, or pieces, spare not counted
	Others float64      // the same of the other plans that share the drawer
	Have   float64      // the same in the drawer
	Long   bool         // Need, Others and Have are lengths
	Unit   string       // what one bought unit is: "reel of 5 m", "pack of 10", "m", "piece"
	Buy    int          // units, for all plans that share the drawer
	Spare  int          // of Buy, those that the policy's spare adds
	Each   *schema.Quantity
	Cut    *Cut // of parts that are cut to length

	drawer string // where the text says what lies in it; empty where it does not
	pack   int
}

// Cut says which piece is cut from which reel, or, where it is not known how long one is, only what is cut.
type Cut struct {
	For []Piece // what each piece of the job is for
	Job cutting.Job
	Bar string // "reel", "piece"; empty where no job could be planned
}

// Piece is one piece to cut.
type Piece struct {
	Label     string
	Block     schema.Block
	Length    float64 // m
	Estimated bool
	Of        string // the other plan that it is for; empty where it is this one
}

// Name is the part with its colour.
func (x Item) Name() string {
	if x.Color == "" {
		return x.Part
	}
	return x.Part + " " + x.Color
}

// Cost is the price of what is bought; ok is false where no price is known.
func (x Item) Cost() (q schema.Quantity, ok bool) {
	if x.Each == nil {
		return q, false
	}
	return x.Each.With(x.Each.SI * float64(x.Buy)), true
}

// sawKerf is what a saw takes at each cut of a rigid channel, m (common
// practice, no source: a fine blade with room to dress the edge).
const sawKerf = 0.003

// Shop lists what the plan needs. The policy's spare is added to what is cut or
// used up: strip, diffusers, wire, fixings, consumables. Counted parts are bought
// as counted. Where other plans take from a drawer of this one, their needs of it
// are met too.
func Shop(f *figures.Figures, others ...*figures.Figures) Purchase {
	b := counted(f)
	for _, o := range others {
		b.share(counted(o))
	}
	return b.list()
}

func counted(f *figures.Figures) *builder {
	b := &builder{f: f, spare: f.Plan.Limits().Spare, lengths: map[string]*stretch{}, counts: map[string]*Item{}, sitting: map[*schema.Holder]int{}, largest: map[string]float64{}}
	for _, r := range f.Runs {
		b.run(r)
	}
	w := wired(f)
	b.wires(w)
	for _, l := range f.Leads {
		if l.OK && l.Fused() {
			b.fuse(l)
		}
	}
	for _, s := range f.Plan.Signals {
		if s.Resistor.Known() && s.Resistor.V.SI > 0 {
			b.count("resistor", say("what.resistor", "value", quantity.Show(quantity.Resistance, s.Resistor.V.SI)), nil, 1, nil)
		}
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
	for _, c := range f.Plan.Consumables {
		b.consumable(c, w)
	}
	return b
}

// kinds puts the list in the order of a shopping trip.
var kinds = []string{"strip", "diffuser", "end cap", "fixing", "supply", "controller", "step-down converter", "level shifter", "wire", "joint", "jumper bar", "holder", "fuse", "capacitor", "resistor", "consumable"}

type builder struct {
	f       *figures.Figures
	spare   float64
	lengths map[string]*stretch // by part and colour
	counts  map[string]*Item
	sitting map[*schema.Holder]int // fuses in it
	largest map[string]float64     // A, of the fuses of a kind whose holder is not given
	missing []string
}

// stretch gathers the pieces of a part that is cut to length.
type stretch struct {
	item   Item
	pieces []Piece
	reel   float64 // m, 0 where not known
	sold   string  // "reel of 5 m"
	kerf   float64
	unit   string // "reel", "piece"
}

func (b *builder) lacks(why string) {
	if !slices.Contains(b.missing, why) {
		b.missing = append(b.missing, why)
	}
}

// goods is a part that is sold by length.
type goods struct {
	kind, color string
	block       schema.Block
	unit        string
	reel, have  schema.Value[schema.Quantity]
	each        *schema.Quantity
}

// length adds a piece of a part that is sold by length. A piece longer than a
// reel is made of several.
func (b *builder) length(g goods, p Piece) *stretch {
	id := schema.HeaderOf(g.block).ID()
	key := id + "\x00" + g.color
	s := b.lengths[key]
	if s == nil {
		s = &stretch{item: Item{Part: id, Kind: g.kind, Color: g.color, Use: g.block, Long: true, Each: g.each}, unit: g.unit}
		if g.reel.Known() {
			s.reel = g.reel.V.SI
			s.sold = say("unit."+g.unit+".of", "length", b.f.Habit.Quantity(g.reel.V))
		}
		if g.have.Known() {
			s.item.Have, s.item.drawer = g.have.V.SI, b.written(g.have.At)
		}
		b.lengths[key] = s
	}
	s.item.Need += p.Length
	s.cut(p)
	return s
}

func (s *stretch) cut(p Piece) {
	m, part := p.Length, 0
	for s.reel > 0 && m > s.reel*(1+1e-9) {
		part++
		s.pieces = append(s.pieces, Piece{say("cutting.part.of", "piece", p.Label, "n", strconv.Itoa(part)), p.Block, s.reel, p.Estimated, p.Of})
		m -= s.reel
	}
	if m > 1e-9 {
		if p.Length = m; part > 0 {
			p.Label = say("cutting.part.of", "piece", p.Label, "n", strconv.Itoa(part+1))
		}
		s.pieces = append(s.pieces, p)
	}
}

// written is where the text says what lies in a drawer: plans that read the same words share it.
func (b *builder) written(at source.Span) string {
	f, start, _, ok := b.f.Plan.Locate(at)
	if !ok {
		return ""
	}
	return f.Text.Path() + ":" + strconv.Itoa(start)
}

// count adds n pieces of a part that is counted. Parts of one address and one
// price make one line.
func (b *builder) count(kind, id string, blk schema.Block, n int, each *schema.Quantity) *Item {
	key := kind + "\x00" + id
	if each != nil {
		key += "\x00" + each.Exact()
	}
	x := b.counts[key]
	if x == nil {
		x = &Item{Part: id, Kind: kind, Use: blk, Unit: say("unit.piece"), Each: each, pack: 1}
		b.counts[key] = x
	}
	x.Need += float64(n)
	return x
}

// packed says that it is sold in packs of n, with spare ones.
func (x *Item) packed(n int) {
	if x.pack = max(n, 1); n > 1 {
		x.Unit = say("unit.pack", "n", strconv.Itoa(n))
	}
}

func (b *builder) run(r *figures.Run) {
	if !r.OK {
		b.lacks(say("lacks.length", "of", r.ID()))
		return
	}
	s := r.Strip.V
	b.length(goods{"strip", "", s, "reel", s.Reel, s.Have, price(s.Price)}, Piece{Label: r.ID(), Block: r.Run, Length: r.StripLength()})
	if d := r.Diffuser.V; d != nil && r.Diffuser.Known() {
		st := b.length(goods{"diffuser", "", d, "piece", d.Piece, d.Have, price(d.Price)}, Piece{Label: r.ID(), Block: r.Run, Length: r.Length})
		if d.Kind.V == "channel" {
			st.kerf = sawKerf
		}
		if d.Caps.Known() && d.Caps.V > 0 {
			b.count("end cap", say("what.cap", "of", schema.HeaderOf(d).ID()), d, d.Caps.V, price(d.CapPrice))
		}
	}
	if x := r.Fixing.V; x != nil && r.Fixing.Known() {
		b.fixing(r, x)
	}
	if r.Capacitor.Set && !r.Capacitor.Bad {
		b.count("capacitor", say("what.capacitor", "value", quantity.Show(quantity.Capacitance, r.Capacitor.V.SI)), nil, 1, nil)
	}
}

// fixing counts what holds a run: those that are drawn, and enough of them for
// the weight; a tape goes along all of it.
func (b *builder) fixing(r *figures.Run, x *schema.Fixing) {
	if x.Kind.V == "adhesive" && !x.Spacing.Set && !x.Holds.Set {
		b.length(goods{"fixing", "", x, "reel", schema.Value[schema.Quantity]{}, schema.Value[schema.Quantity]{}, nil}, Piece{Label: r.ID(), Block: r.Run, Length: r.Length})
		return
	}
	n := len(r.Fixings())
	if d := r.Diffuser.V; d != nil && d.Weight.Known() && x.Holds.Known() {
		n = max(n, ceil(r.Length*d.Weight.V.SI/x.Holds.V.SI))
	}
	id := schema.HeaderOf(x).ID()
	if n == 0 {
		b.lacks(say("lacks.spacing", "part", id))
		return
	}
	b.count("fixing", id, x, n, price(x.Price)).packed(x.Pack.V)
}

// wires adds each piece of wire, by its colour. What lies in the drawer has no colour unless the wire says one.
func (b *builder) wires(w *wiring) {
	colors := map[*schema.Wire]map[string]bool{}
	pieces := w.pieces()
	for _, p := range pieces {
		if colors[p.wire] == nil {
			colors[p.wire] = map[string]bool{}
		}
		colors[p.wire][p.color] = true
	}
	for _, p := range pieces {
		have := p.wire.Have
		if len(colors[p.wire]) > 1 {
			if have.Known() && have.V.SI > 0 {
				b.lacks(say("lacks.color", "wire", schema.HeaderOf(p.wire).ID(), "length", have.V.String()))
			}
			have = schema.Value[schema.Quantity]{}
		}
		b.length(goods{"wire", p.color, p.wire, "reel", p.wire.Reel, have, price(p.wire.Price)}, Piece{Label: p.label, Block: p.of, Length: p.length, Estimated: p.estimated})
	}
	for _, why := range w.lacks {
		b.lacks(why)
	}
}

// fuse counts a lead's fuse, by kind and rating, and what it sits in: a holder of
// its own, or a way of a block. Where no holder is given there is one in the line.
func (b *builder) fuse(l *figures.Lead) {
	kind := l.Device.Name
	b.count("fuse", say("what.fuse", "kind", kind, "value", quantity.Show(quantity.Current, l.Fuse.V.SI)), nil, 1, nil)
	h := l.Holder.V
	switch {
	case kind == "resettable": // soldered in
	case h == nil:
		b.largest[kind] = math.Max(b.largest[kind], l.Fuse.V.SI)
		x := b.count("holder", say("what.inline", "kind", kind), nil, 1, nil)
		x.What = say("what.inline.largest", "kind", kind, "value", quantity.Show(quantity.Current, b.largest[kind]))
	default:
		b.sitting[h]++
		if !h.Ways.Set || h.Ways.Bad || (b.sitting[h]-1)%h.Ways.V == 0 {
			b.count("holder", part(h), h, 1, price(h.Price))
		}
	}
}

func (b *builder) controller(c *schema.Controller) {
	id := part(c)
	if c.Board.V != nil && c.Like == nil {
		id = schema.HeaderOf(c.Board.V).ID()
	}
	b.count("controller", id, c, 1, price(c.Price))
	if from, to := Converter(c); from != "" {
		b.count("step-down converter", say("what.converter", "from", from, "to", to, "controller", c.ID()), nil, 1, nil)
	}
	if c.Buffer.Set && !c.Buffer.Bad {
		b.count("level shifter", say("what.shifter", "value", quantity.Show(quantity.Voltage, c.Buffer.V.SI)), nil, 1, nil)
	}
	if c.SeriesResistor.Set && !c.SeriesResistor.Bad && c.SeriesResistor.V.SI > 0 && len(c.Ports) > 0 {
		b.count("resistor", say("what.resistor", "value", quantity.Show(quantity.Resistance, c.SeriesResistor.V.SI)), nil, len(c.Ports), nil)
	}
}

// joint counts the pieces of a joint, which stands for plus and minus: one for
// each, but a plug carries both, and solder is not bought by the joint. A strip of
// screw terminals joins two conductors at a pole; more take a jumper bar over its poles.
func (b *builder) joint(j *schema.Joint) {
	switch j.Kind.V {
	case "solder":
	case "plug":
		b.count("joint", part(j), j, 1, price(j.Price))
	default:
		b.count("joint", part(j), j, 2, price(j.Price))
		if j.Kind.V == "screw" && j.Ways.Known() && j.Ways.V > 2 {
			b.count("jumper bar", say("what.jumper", "n", strconv.Itoa(j.Ways.V), "of", part(j)), nil, 2, nil)
		}
	}
}

// consumable counts one that the plan's blocks use up.
func (b *builder) consumable(c *schema.Consumable, w *wiring) {
	if c.Broken || !c.For.Known() {
		return
	}
	use := func(blk schema.Block, label string, along float64, known bool) {
		times := 1.0
		if c.Every.Known() {
			if !known {
				b.lacks(say("lacks.length.for", "part", c.ID(), "of", label))
				return
			}
			times = along / c.Every.V.SI
		}
		if c.Length.Known() {
			b.length(goods{"consumable", "", c, "reel", c.Reel, c.Have, price(c.Price)}, Piece{Label: label, Block: blk, Length: times * c.Length.V.SI})
			return
		}
		n := 1
		if c.Count.Known() {
			n = c.Count.V
		}
		x := b.count("consumable", c.ID(), c, ceil(times)*n, price(c.Price))
		x.packed(c.Pack.V)
		if c.HavePieces.Known() {
			x.Have, x.drawer = float64(c.HavePieces.V), b.written(c.HavePieces.At)
		}
	}
	wanted := func(x *schema.Wire) bool { return !c.Wire.Set || c.Wire.V == x }
	switch c.For.V {
	case schema.ForPlan:
		use(c, c.ID(), 0, false)
	case schema.ForRun:
		for _, r := range b.f.Runs {
			use(r.Run, r.ID(), r.Length, r.OK)
		}
	case schema.ForJoint:
		for _, j := range b.f.Plan.Joints {
			use(j, j.ID(), 0, false)
		}
	case schema.ForLead:
		for _, l := range b.f.Leads {
			if wanted(l.Wire.V) {
				use(l.Lead, l.ID(), l.Length, l.OK)
			}
		}
	case schema.ForSignal:
		for _, s := range b.f.Plan.Signals {
			if wanted(s.Wire.V) {
				length, _, ok := b.f.SignalLength(s)
				use(s, s.ID(), length, ok)
			}
		}
	case schema.ForEnd:
		for _, x := range w.all {
			if wanted(x.wire) {
				use(x.of, say("consumable.from", "conductor", x.label()), 0, false)
				use(x.of, say("consumable.to", "conductor", x.label()), 0, false)
			}
		}
	}
}

// share adds what another plan takes from the drawers of this one.
func (b *builder) share(o *builder) {
	title := o.f.Plan.Name()
	for _, s := range b.lengths {
		for _, x := range o.lengths {
			if s.item.drawer == "" || x.item.drawer != s.item.drawer || x.item.Color != s.item.Color {
				continue
			}
			s.item.Others += x.item.Need
			for _, p := range x.pieces {
				p.Of = title
				s.cut(p)
			}
		}
	}
	for _, x := range b.counts {
		for _, y := range o.counts {
			if x.drawer != "" && y.drawer == x.drawer {
				x.Others += y.Need
			}
		}
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

func (b *builder) list() Purchase {
	out := Purchase{Habit: b.f.Habit, SpareShare: b.spare}
	for _, key := range slices.Sorted(maps.Keys(b.lengths)) {
		out.Items = append(out.Items, b.cut(b.lengths[key]))
	}
	for _, x := range b.counts {
		share := 0.0
		if x.Kind == "fixing" || x.Kind == "consumable" {
			share = b.spare
		}
		x.buy(share, float64(x.pack), 0)
		out.Items = append(out.Items, *x)
	}
	out.Missing = b.missing
	slices.SortFunc(out.Items, func(a, c Item) int {
		if d := slices.Index(kinds, a.Kind) - slices.Index(kinds, c.Kind); d != 0 {
			return d
		}
		return cmp.Or(natural(a.Name(), c.Name()), strings.Compare(a.Name(), c.Name()), strings.Compare(exact(a.Each), exact(c.Each)))
	})
	for i, x := range out.Items {
		if x.What == "" {
			out.Items[i].What = describe(x, b.f.Habit)
		}
		if x.Buy == 0 {
			continue
		}
		if cost, ok := x.Cost(); ok {
			out.Totals = add(out.Totals, cost)
		} else {
			out.Unpriced++
		}
	}
	return out
}

// cut says how many reels, pieces or metres to buy of a part that is cut.
func (b *builder) cut(s *stretch) Item {
	x := s.item
	x.Cut = &Cut{For: s.pieces}
	if s.reel <= 0 { // sold by the metre; a price is that of a reel, of which nothing is known
		x.Unit, x.Each = "m", nil
		by := 1.0
		if b.f.Habit == quantity.Imperial {
			ft := quantity.UnitNamed(quantity.Length, "ft")
			x.Unit, by = ft.Symbol, ft.Factor
		}
		x.buy(b.spare, by, 0)
		return x
	}
	x.Unit = s.sold
	job := cutting.Job{Reel: s.reel, Kerf: s.kerf}
	for _, p := range s.pieces {
		job.Pieces = append(job.Pieces, p.Length)
	}
	if x.Have > 0 {
		job.Leftovers = []float64{x.Have}
	}
	plan, err := cutting.Fewest(job)
	if err != nil {
		b.lacks(say("lacks.cut", "part", x.Name(), "why", quantity.ErrorIn(err, b.f.Habit)))
		x.buy(b.spare, s.reel, 0)
		return x
	}
	x.Cut.Job, x.Cut.Bar = job, s.unit
	x.buy(b.spare, s.reel, plan.NewReels) // offcuts serve as the spare
	return x
}

// buy says how many units of a size to buy, least or more, with a share more than is needed.
func (x *Item) buy(share, unit float64, least int) {
	units := func(more float64) int {
		return max(least, ceil(math.Max(0, (x.Need+x.Others)*(1+more)-x.Have)/unit))
	}
	x.Buy = units(share)
	x.Spare = x.Buy - units(0)
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

func exact(q *schema.Quantity) string {
	if q == nil {
		return ""
	}
	return q.Exact()
}

// ceil is the whole number not below v, rounding aside.
func ceil(v float64) int { return int(math.Ceil(v - 1e-9)) }

// longestFirst is the pieces in the order in which they are cut.
func longestFirst(pieces []Piece) []Piece {
	return slices.SortedStableFunc(slices.Values(pieces), func(a, b Piece) int { return cmp.Compare(b.Length, a.Length) })
}

// natural compares names as people sort them: "fuse 3 A" before "fuse 10 A".
func natural(a, b string) int {
	const digits = "0123456789"
	number := func(s string) (n float64, rest string) {
		rest = strings.TrimLeft(s, digits)
		if rest == s {
			return -1, s
		}
		if part, ok := strings.CutPrefix(rest, "."); ok {
			rest = strings.TrimLeft(part, digits)
		}
		n, _ = strconv.ParseFloat(s[:len(s)-len(rest)], 64) // digits, and a point at most
		return n, rest
	}
	for i := range min(len(a), len(b)) {
		x, ra := number(a[i:])
		y, rb := number(b[i:])
		switch {
		case x >= 0 && y >= 0 && x != y:
			return cmp.Compare(x, y)
		case x >= 0 && y >= 0 && len(ra) != len(a)-i:
			return natural(ra, rb)
		case a[i] != b[i]:
			return cmp.Compare(a[i], b[i])
		}
	}
	return cmp.Compare(len(a), len(b))
}
