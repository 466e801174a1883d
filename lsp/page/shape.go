package page

import (
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// shapeKinds are the kinds of pieces that shape makes.
var shapeKinds = []string{"head", "places", "frame", "run", "thing", "lead", "order"}

// shape is everything but what has to be solved.
func shape(f *figures.Figures, jumps bool) map[string]any {
	s := &shaper{f: f, out: map[string]any{}, places: map[string]Place{}, frames: map[string]*frame{}}
	none := []string{} // for a list that is empty, which is none in JSON otherwise
	s.head = head{Jumps: jumps, Broken: !f.Complete, Cases: none, Frames: none, Runs: none, Things: none, Leads: none, Orders: none}
	if p := f.Plan.Head; p != nil {
		s.head.Name, s.head.Title = p.Name, p.Title.V
		s.place("plan", p)
	}
	for i, c := range f.Cases {
		s.head.Cases = append(s.head.Cases, c.Name)
		if c.Held && c.Own == nil && slices.ContainsFunc(f.Plan.Controllers, func(c *schema.Controller) bool { return c.Ceiling.Known() }) {
			s.head.Opens = i // what people will see, as in the sheets
		}
		if c.Own != nil {
			s.place("case."+c.Name, c.Own)
		}
	}
	for _, x := range f.Plan.Surfaces {
		s.surface(x)
	}
	s.runs()
	s.things()
	for _, l := range f.Leads {
		s.lead(l)
	}
	s.orders()
	for id, x := range s.frames {
		if x.Box == nil {
			x.Box = &[4]int{}
		}
		s.out["frame/"+id] = x
	}
	s.out["head"], s.out["places"] = s.head, s.places
	return s.out
}

type shaper struct {
	f      *figures.Figures
	head   head
	out    map[string]any
	places map[string]Place
	frames map[string]*frame
}

// place notes where a block is written.
func (s *shaper) place(id string, b schema.Block) {
	if at, ok := placeOf(s.f.Plan, schema.HeaderOf(b).Head()); ok {
		s.places[id] = at
	}
}

// placeOf is the line of a place; false for one in the catalogue.
func placeOf(p *schema.Plan, at source.Span) (Place, bool) {
	f, start, _, ok := p.Locate(at)
	if !ok {
		return Place{}, false
	}
	return Place{f.Text.Path(), f.Text.OffsetPosition(start, source.UTF8).Line + 1}, true
}

func (s *shaper) frame(id string) *frame {
	x := s.frames[id]
	if x == nil {
		x = &frame{}
		s.frames[id] = x
		s.head.Frames = append(s.head.Frames, id)
	}
	return x
}

// hold makes a frame large enough for a place.
func (fr *frame) hold(x, y int) {
	if fr.Box == nil {
		fr.Box = &[4]int{x, y, x, y}
	}
	b := fr.Box
	*b = [4]int{min(b[0], x), min(b[1], y), max(b[2], x), max(b[3], y)}
}

func (s *shaper) surface(x *schema.Surface) {
	s.place(x.ID(), x)
	if !x.Width.Known() || !x.Height.Known() {
		return
	}
	fr := s.frame(x.ID())
	fr.hold(0, 0)
	fr.hold(tenths(x.Width.V.SI), tenths(x.Height.V.SI))
	fr.Size = [2]string{s.length(x.Width.V.SI), s.length(x.Height.V.SI)}
	for _, k := range x.Keepouts {
		if k.From.Known() && k.To.Known() {
			a, b := k.From.V, k.To.V
			fr.Keepouts = append(fr.Keepouts, keepout{
				Box: [4]int{tenths(min(a.X, b.X)), tenths(min(a.Y, b.Y)), tenths(max(a.X, b.X)), tenths(max(a.Y, b.Y))}, Why: k.Why.V,
			})
		}
	}
}

func (s *shaper) length(m float64) string { return s.f.Habit.Show(quantity.Length, m) }

// frameOf is the id of the frame that something on a surface stands in.
func (s *shaper) frameOf(on schema.Value[*schema.Surface]) string {
	if on.Known() && on.V != nil && s.frames[on.V.ID()] != nil {
		return on.V.ID()
	}
	return free
}

// rows lays runs of which only a length is known one below the other, in as many
// columns as make the whole about as wide as a screen is.
type rows struct{ columns, each, next, wide int }

// The rows' gaps, in tenths of a millimetre.
const (
	rowGap    = 1500
	columnGap = 4000
)

func (s *shaper) rows() rows {
	var out rows
	n := 0
	for _, r := range s.f.Runs {
		if r.OK && r.Path == nil {
			n, out.wide = n+1, max(out.wide, tenths(r.StripLength()))
		}
	}
	out.columns = max(1, int(math.Round(math.Sqrt(1.6*rowGap*float64(n)/float64(out.wide+columnGap)))))
	out.each = max(1, (n+out.columns-1)/out.columns)
	return out
}

// place is where the next row begins.
func (r *rows) place() (x, y int) {
	x, y = r.next/r.each*(r.wide+columnGap), -(r.next%r.each)*rowGap
	r.next++
	return x, y
}

func (s *shaper) runs() {
	total, metres := 0, 0.0
	rows := s.rows()
	for _, r := range s.f.Runs {
		s.place(r.ID(), r.Run)
		if !r.OK {
			continue
		}
		total, metres = total+r.Pixels, metres+r.Length
		x := run{
			Pixels: r.Pixels, Pitch: r.Pitch, Nominal: r.Volts, Need: r.Strip.V.MinVoltage.V.SI,
			Length: s.length(r.Length), Strip: r.Strip.V.ID(), First: r.First, Line: make([]int, 0, 4*r.Pixels+2),
		}
		at := func(m float64) (int, int) {
			x, y, _ := r.Path.At(m)
			return tenths(x), tenths(y)
		}
		if x.Frame = s.frameOf(r.On); r.Path == nil {
			x.Frame = bare
			left, down := rows.place()
			at = func(m float64) (int, int) { return left + tenths(m), down }
		}
		fr := s.frame(x.Frame)
		for k := range 2*r.Pixels + 1 {
			px, py := at(float64(k) / 2 * r.Pitch)
			x.Line = append(x.Line, px, py)
			fr.hold(px, py)
		}
		if r.Port != nil {
			x.Port = r.Port.ID()
		}
		s.head.Runs = append(s.head.Runs, r.ID())
		s.out["run/"+r.ID()] = x
	}
	s.head.Sum = quantity.Count(total, "pixel") + ", " + s.length(metres)
}

func (s *shaper) things() {
	for _, x := range s.f.Plan.Supplies {
		s.thing("supply", x, x.On, x.Place)
	}
	for _, x := range s.f.Plan.Joints {
		s.thing("joint", x, x.On, x.Place)
	}
	for _, x := range s.f.Plan.Controllers {
		s.thing("controller", x, x.On, x.Place)
	}
}

func (s *shaper) thing(kind string, b schema.Block, on schema.Value[*schema.Surface], at schema.Value[schema.XY]) {
	id := schema.HeaderOf(b).ID()
	s.place(id, b)
	x := thing{Kind: kind}
	if at.Known() {
		x.Frame, x.At = s.frameOf(on), []int{tenths(at.V.X), tenths(at.V.Y)}
		s.frame(x.Frame).hold(x.At[0], x.At[1])
	}
	s.head.Things = append(s.head.Things, id)
	s.out["thing/"+id] = x
}

func (s *shaper) lead(l *figures.Lead) {
	s.place(l.ID(), l.Lead)
	if !l.From.Known() || !l.To.Known() {
		return
	}
	x := lead{From: l.From.V.String(), To: l.To.V.String(), Length: s.length(l.Length), Estimated: l.Estimated}
	if l.Wire.Known() && l.Wire.V != nil {
		x.Wire = l.Wire.V.ID()
	}
	if l.Fused() {
		x.Fuse = s.f.Habit.Quantity(l.Fuse.V)
	}
	from, ax, ay, ok := s.at(l.From.V)
	to, bx, by, also := s.at(l.To.V)
	if ok && also && from == to {
		x.Ends = &ends{from, [4]int{ax, ay, bx, by}}
	}
	s.head.Leads = append(s.head.Leads, l.ID())
	s.out["lead/"+l.ID()] = x
}

// at is where a point of the wiring lies, if that is known.
func (s *shaper) at(pt *schema.Point) (frame string, x, y int, ok bool) {
	if pt.Run == nil {
		t, _ := s.out["thing/"+schema.HeaderOf(pt.Block()).ID()].(thing)
		if t.At == nil {
			return "", 0, 0, false
		}
		return t.Frame, t.At[0], t.At[1], true
	}
	r, known := s.f.Run(pt.Run)
	if !known || !r.OK {
		return "", 0, 0, false
	}
	on := s.out["run/"+r.ID()].(run)
	k := int(math.Round(2 * r.Snap(pt).At / r.Pitch))
	k = 2 * min(max(k, 0), 2*r.Pixels)
	return on.Frame, on.Line[k], on.Line[k+1], true
}

// orders are those of the plan, and of each data output.
func (s *shaper) orders() {
	for _, o := range s.f.Orders {
		s.place(o.ID(), o.Order)
		x := order{Pixels: o.Pixels}
		for _, sp := range o.Spans {
			x.Spans = append(x.Spans, span{sp.Run.ID(), sp.Count, sp.FromEnd})
		}
		s.order(o.ID(), x)
	}
	for _, p := range s.f.Ports {
		s.place(p.ID(), p.Port)
		x := order{Pixels: p.Pixels, Port: true}
		for _, r := range p.Runs {
			x.Spans = append(x.Spans, span{r.ID(), r.Pixels, r.DataEnters.V == "end"})
		}
		s.order(p.ID(), x)
	}
}

func (s *shaper) order(id string, x order) {
	if len(x.Spans) > 0 {
		s.head.Orders = append(s.head.Orders, id)
		s.out["order/"+id] = x
	}
}

// tenths is a length in m as tenths of a millimetre.
func tenths(m float64) int { return rounded(m * 1e4) }

// milli is a voltage or current in thousandths.
func milli(v float64) int { return rounded(v * 1e3) }

// rounded rounds, and keeps what is no number from getting to where none can be.
func rounded(v float64) int {
	if math.IsNaN(v) {
		return 0
	}
	return int(math.Round(min(max(v, -1e9), 1e9)))
}
