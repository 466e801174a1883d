package limits

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Knob is a value of a plan that a maker may choose and that physics reads.
type Knob struct {
	ID    string // of the block, or of the text that several copies or made blocks share
	Attr  string // as it is written; "brightness" of the plan for all its ceilings
	Today Value

	blocks []string // ids of all blocks that share the value
	value  func(n int) Value
	steps  func(sign int) int // how many are looked at one way
	stride func(n int) int    // the widest from n steps on
	edits  func(Value) []schema.Edit
	means  func(Value) string // what is written for it, where that is something else; may be nil
}

// Value is one that a knob may have.
type Value struct {
	SI   float64 // of a gauge m2
	Text string  // as it is written in a plan, without quotes
}

// of reports whether somebody who names a block or an attribute of it means the knob.
func (k *Knob) of(at string) bool {
	return slices.ContainsFunc(append([]string{k.ID}, k.blocks...), func(id string) bool { return at == id || at == id+"."+k.Attr })
}

// Block is the id of the first block that has the value.
func (k *Knob) Block() string { return k.blocks[0] }

// Says reports whether a block has the value.
func (k *Knob) Says(id string) bool { return slices.Contains(k.blocks, id) }

// The steps that makers use, in SI units (common practice, no source): a centimetre or an
// inch on a tape, from 10 m on a decimetre or half a foot; a tenth of an ampere, below one
// a hundredth; whole degrees, per cent and copies.
const (
	tape, farTape   = 0.01, 0.1
	inches, farFeet = 0.0254, 6 * 0.0254
	amps, fewAmps   = 0.1, 0.01
	longTape        = 10 // m, from where on a length is measured in farTape
)

// How far is looked: so many times today's value, and so many metres, amperes or copies at
// the least; a run up to so many pixels.
const (
	scanTimes     = 10
	leastScan     = 10
	mostRunPixels = 20_000
)

// rounding is what the division of two lengths may be off, in steps.
const rounding = 1e-6

// maker of knobs.
type maker struct {
	plan  *schema.Plan
	fig   *figures.Figures
	knobs []*Knob
	known map[any]*Knob // by the place of the value, or by block and attribute
}

func knobsOf(plan *schema.Plan, fig *figures.Figures) []*Knob {
	m := &maker{plan: plan, fig: fig, known: map[any]*Knob{}}
	if h := plan.Head; h != nil {
		m.measure(h, "ambient", h.Ambient, plan.Ambient(), scanTimes)
	}
	m.brightness()
	for _, c := range plan.Cases {
		m.measure(c, "level", c.Level, 1, scanTimes)
	}
	for _, s := range plan.Supplies {
		m.measure(s, "rating", s.Rating, s.Rating.V.SI, scanTimes)
	}
	for _, c := range fig.Controllers {
		if c.Full > 0 {
			m.measure(c.Controller, "ceiling", c.Ceiling, math.Ceil(c.Full/amps-rounding)*amps, c.Full) // none is as one of all that they take
		}
	}
	fed := fig.Connectivity()
	for _, r := range fig.Runs {
		if len(fed.Plus(r.Run)) > 0 && len(fed.Minus(r.Run)) > 0 { // else no voltage bounds it, and a limit would say that any length will do
			m.run(r)
		}
	}
	for _, l := range fig.Leads {
		if to := l.To.V.Block(); !l.OK || len(fed.Plus(to)) == 0 && len(fed.Minus(to)) == 0 {
			continue
		}
		m.measure(l.Lead, "length", l.Lead.Length, l.Length, scanTimes)
		m.wire(l)
		m.fuse(l)
	}
	for _, s := range plan.Signals {
		m.measure(s, "length", s.Length, s.Length.V.SI, scanTimes)
	}
	m.times()
	return m.knobs
}

// add files a knob, or a further block that shares its value. made makes it where it is
// the first of its value.
func (m *maker) add(b schema.Block, attr string, made func(*Knob) bool) {
	h := schema.HeaderOf(b)
	if h.Home != schema.InPlan || h.Broken || h.Node == nil {
		return
	}
	a, said := h.Assign(attr)
	var key any = [2]any{h.Node, attr}
	if said {
		key = a.Val.At
	}
	if k := m.known[key]; k != nil {
		if k.blocks = append(k.blocks, h.ID()); h.Node.Maker == nil {
			k.ID = h.Type.Name + "." + h.Base()
		}
		return
	}
	k := &Knob{ID: h.ID(), Attr: attr, blocks: []string{h.ID()}}
	if h.Node.Maker != nil {
		if !said { // all that its maker makes lack it: there is no place to write it for one
			return
		}
		if within(a.Val.At, h.Node.Maker.Whole) {
			k.ID = h.Node.Maker.Type + "." + h.Node.Maker.Label()
		}
	}
	k.edits = func(v Value) []schema.Edit { return []schema.Edit{schema.SetAttr(h, attr, strconv.Quote(v.Text))} }
	if made(k) {
		m.known[key] = k
		m.knobs = append(m.knobs, k)
	}
}

func within(at, in source.Span) bool {
	return at.Piece == in.Piece && at.Start >= in.Start && at.End <= in.End
}

// even makes the values of a knob even steps of a unit, from near today's on.
func (k *Knob) even(unit quantity.Unit, d quantity.Dimension, step, least, most float64) {
	today := quantity.InUnit(k.Today.SI, unit) / step
	up, down := math.Floor(today+rounding), math.Ceil(today-rounding)
	k.value = func(n int) Value {
		at := up
		if n < 0 {
			at = down
		}
		text := quantity.Number((at+float64(n))*step, 9)
		if unit.Symbol == "" {
			return Value{(at + float64(n)) * step, text}
		}
		q, err := quantity.ParseFor(d, text+" "+unit.Symbol)
		if err != nil {
			panic("limits: " + err.Error()) // its own number in a unit of the table
		}
		return Value{q.SI, written(q)}
	}
	k.steps = func(sign int) int {
		if sign < 0 {
			return max(0, int(down-math.Ceil(quantity.InUnit(least, unit)/step-rounding)))
		}
		return max(0, int(math.Floor(quantity.InUnit(most, unit)/step+rounding)-up))
	}
	k.stride = func(n int) int { return int(math.Abs(quantity.InUnit(k.value(n).SI, unit)) / step / 10) }
}

// table makes the values of a knob those of a table, in rising order.
func (k *Knob) table(values []Value) {
	at := func(n int) int { // of n steps from today's
		if n > 0 {
			return slices.IndexFunc(values, func(v Value) bool { return v.SI > k.Today.SI*(1+rounding) }) + n - 1
		}
		i := slices.IndexFunc(values, func(v Value) bool { return v.SI >= k.Today.SI*(1-rounding) })
		if i < 0 {
			i = len(values)
		}
		return i + n
	}
	k.value = func(n int) Value { return values[at(n)] }
	k.steps = func(sign int) int {
		if sign < 0 {
			return at(0)
		}
		if first := at(1); first >= 0 {
			return len(values) - first
		}
		return 0
	}
	k.stride = func(int) int { return 1 }
}

// measure is a quantity that a block has. It is looked far times
// as far, of a ceiling up to far amperes; as is what counts today where nothing is written.
func (m *maker) measure(b schema.Block, attr string, v schema.Value[schema.Quantity], as, far float64) {
	t := schema.HeaderOf(b).Type
	declared, ok := t.Attr(attr)
	if !ok || v.Bad || !(as > 0) && declared.Dim != quantity.Temperature {
		return
	}
	m.add(b, attr, func(k *Knob) bool {
		is := quantity.Of(declared.Dim, as)
		if v.Set {
			is, as = v.V, v.V.SI
		}
		unit, step := stepOf(is, m.fig.Habit)
		k.Today = Value{as, is.Exact()}
		if !v.Set {
			k.Today.Text = m.fig.Habit.Show(declared.Dim, as)
			if attr == "ceiling" {
				k.Today.Text = "none"
			}
		}
		least, most := declared.Least, declared.Most
		if declared.Above {
			least += quantity.Of(declared.Dim, 0).SI + step*factor(unit)
		}
		switch {
		case attr == "ceiling":
			most = math.Max(as, far)
		case declared.Dim == quantity.Length || declared.Dim == quantity.Current:
			most = min(most, max(as*far, leastScan))
		}
		k.even(unit, declared.Dim, step, least, most)
		return true
	})
}

// written is a quantity as a maker would write it: a length in metres from 1 m on, else in
// centimetres, or in inches.
func written(q schema.Quantity) string {
	if q.Dim() == quantity.Length && !q.Unit.Imperial() {
		unit := "m"
		if q.SI < 1 {
			unit = "cm"
		}
		q.Unit = quantity.UnitNamed(quantity.Length, unit)
	}
	return q.Exact()
}

func factor(u quantity.Unit) float64 {
	if u.Factor == 0 {
		return 1
	}
	return u.Factor
}

// stepOf is the unit that a quantity is changed in, and a step in it.
func stepOf(q schema.Quantity, habit quantity.Habit) (quantity.Unit, float64) {
	u := q.Unit
	step := 1.0
	switch q.Dim() {
	case quantity.Length:
		fine, far := tape, farTape
		if u.Imperial() || habit == quantity.Imperial && u.Symbol == "m" {
			u, fine, far = quantity.UnitNamed(quantity.Length, "in"), inches, farFeet
		}
		if step = fine / u.Factor; q.SI >= longTape {
			step = far / u.Factor
		}
	case quantity.Current:
		if step = amps / u.Factor; q.SI < 1 {
			step = fewAmps / u.Factor
		}
	}
	return u, math.Round(step*1e9) / 1e9
}

// run is the length of a run whose shape does not matter, from cut to cut of its strip;
// where the plan counts its pixels their number goes with it.
func (m *maker) run(r *figures.Run) {
	if !r.OK || r.Length <= 0 || r.Counted.Interval() <= 0 {
		return
	}
	cut, per := r.Counted.Interval(), r.Counted.PerInterval()
	attr := "length"
	if !r.Run.Length.Set {
		if attr = "pixels"; r.Drawing() != nil || r.Through.Set || r.Beside.Set {
			return // its length follows from its drawing
		}
	}
	m.add(r.Run, attr, func(k *Knob) bool {
		unit := quantity.UnitNamed(quantity.Length, "m")
		k.Today = Value{r.Length, strconv.Itoa(r.Pixels)}
		if attr == "length" {
			k.Today.Text = r.Run.Length.V.Exact()
			if unit = r.Run.Length.V.Unit; unit.Imperial() {
				unit = quantity.UnitNamed(quantity.Length, "in")
			}
		}
		up, down := math.Floor(r.Length/cut+rounding), math.Ceil(r.Length/cut-rounding)
		count := func(n int) int {
			if n < 0 {
				return int(down) + n
			}
			return int(up) + n
		}
		k.value = func(n int) Value {
			si := math.Ceil(float64(count(n))*cut*1e3-rounding) / 1e3 // to the millimetre, so that the last pad lies on it
			if attr == "pixels" {
				return Value{si, strconv.Itoa(count(n) * per)}
			}
			return Value{si, written(quantity.Quantity{SI: si, Unit: unit})}
		}
		k.steps = func(sign int) int {
			if sign < 0 {
				return max(0, int(down)-1)
			}
			most := math.Min(math.Max(scanTimes*r.Length, leastScan)/cut, float64(mostRunPixels/per))
			return max(0, int(most)-int(up))
		}
		k.stride = func(n int) int { return count(n) / 10 }
		_, counted := r.Run.Assign("pixels")
		k.edits = func(v Value) []schema.Edit {
			text := strconv.Quote(v.Text)
			if attr == "pixels" {
				text = v.Text
			}
			out := []schema.Edit{schema.SetAttr(&r.Run.Header, attr, text)}
			if attr == "length" && (counted || r.Run.Pixels.Set) {
				out = append(out, schema.SetAttr(&r.Run.Header, "pixels", strconv.Itoa(int(math.Floor(v.SI/cut+rounding))*per)))
			}
			return out
		}
		return true
	})
}

// wire is the gauge of a lead: its wire becomes one that is like it, of another size.
func (m *maker) wire(l *figures.Lead) {
	m.add(l.Lead, "wire", func(k *Knob) bool {
		k.Today = Value{l.Gauge.Area(), l.Gauge.String()}
		var sizes []Value
		of := map[string]wire.Gauge{}
		for _, g := range wire.Standard(l.Gauge.AWG) {
			sizes = append(sizes, Value{g.Area(), g.String()})
			of[g.String()] = g
		}
		k.table(sizes)
		k.edits = func(v Value) []schema.Edit { return sizing.OfGauge(m.fig, l, of[v.Text]) }
		return true
	})
}

// fuse is the rating of a fuse that a lead has, among those that its kind comes in.
func (m *maker) fuse(l *figures.Lead) {
	if !l.Fused() {
		return
	}
	m.add(l.Lead, "fuse", func(k *Knob) bool {
		k.Today = Value{l.Fuse.V.SI, l.Fuse.V.Exact()}
		var sizes []Value
		for _, a := range l.Device.Ratings {
			sizes = append(sizes, Value{a, quantity.Of(quantity.Current, a).Exact()})
		}
		k.table(sizes)
		return true
	})
}

// brightness is what share of their full current all ceilings leave the pixels.
func (m *maker) brightness() {
	var lit []*figures.Controller
	today := 1.0
	for _, c := range m.fig.Controllers {
		if !(c.Full > c.Idle) {
			continue
		}
		if h := c.Controller.Header; h.Home != schema.InPlan || h.Broken || c.Ceiling.Bad {
			return
		}
		if lit = append(lit, c); c.Ceiling.Set {
			today = math.Min(today, (c.Ceiling.V.SI-c.Idle)/(c.Full-c.Idle))
		}
	}
	if len(lit) == 0 || today <= 0 {
		return
	}
	k := &Knob{ID: "plan", Attr: "brightness", Today: Value{today, quantity.Show(quantity.Share, today)}, blocks: []string{"plan"}}
	percent := quantity.UnitNamed(quantity.Share, "%")
	k.even(percent, quantity.Share, 1, 0.01, 1)
	k.edits = func(v Value) (out []schema.Edit) {
		for _, c := range lit {
			out = append(out, schema.SetAttr(&c.Controller.Header, "ceiling", strconv.Quote(CeilingFor(c, v.SI))))
		}
		return out
	}
	k.means = func(v Value) string {
		var out []string
		for _, c := range lit {
			out = append(out, "ceiling "+CeilingFor(c, v.SI)+" of "+c.ID())
		}
		return strings.Join(out, ", ")
	}
	m.knobs = append(m.knobs, k)
}

// Means says what is written for a value of it, where that is something else: the ceilings
// of a brightness; else "".
func (k *Knob) Means(v Value) string {
	if k.means == nil {
		return ""
	}
	return k.means(v)
}

// CeilingFor is the ceiling with which the pixels of a controller have a share of what
// they take lit in full, rounded down to a hundredth of an ampere.
func CeilingFor(c *figures.Controller, share float64) string {
	a := c.Idle + share*(c.Full-c.Idle)
	return quantity.Of(quantity.Current, math.Max(fewAmps, math.Floor(a/fewAmps+rounding)*fewAmps)).Exact()
}

// times is how many copies there are. What is copied as often, or once more or less, belongs
// together (treads, the leads between them, a tap for each): it is changed together.
func (m *maker) times() {
	type copied struct {
		h *schema.Header
		n int
	}
	var families [][]copied
	for _, b := range m.plan.Blocks {
		h, v := schema.HeaderOf(b), timesOf(b)
		if h.Home != schema.InPlan || h.Broken || h.Node == nil || h.Node.Maker != nil || !v.Set || v.Bad {
			continue
		}
		if i := slices.IndexFunc(families, func(f []copied) bool {
			return slices.ContainsFunc(f, func(c copied) bool { return max(v.V-c.n, c.n-v.V) <= 1 })
		}); i < 0 {
			families = append(families, []copied{{h, v.V}})
		} else if !slices.ContainsFunc(families[i], func(c copied) bool { return c.h.Node == h.Node }) {
			families[i] = append(families[i], copied{h, v.V})
		}
	}
	for _, f := range families {
		first := f[0]
		if i := slices.IndexFunc(f, func(c copied) bool { return c.h.Type.Name == "run" || c.h.Type.Name == "assembly" }); i >= 0 {
			first = f[i]
		}
		k := &Knob{ID: first.h.Type.Name + "." + first.h.Base(), Attr: "times", Today: Value{float64(first.n), strconv.Itoa(first.n)}}
		for _, c := range f {
			k.blocks = append(k.blocks, c.h.ID(), c.h.Type.Name+"."+c.h.Base())
		}
		k.even(quantity.Unit{}, quantity.None, 1, 1, float64(max(first.n*scanTimes, leastScan)))
		each := func(v Value, c copied) string { return strconv.Itoa(max(1, c.n+int(math.Round(v.SI))-first.n)) }
		k.edits = func(v Value) (out []schema.Edit) {
			for _, c := range f {
				out = append(out, schema.SetAttr(c.h, "times", each(v, c)))
			}
			return out
		}
		if len(f) > 1 {
			k.means = func(v Value) string {
				var out []string
				for _, c := range f {
					out = append(out, "times "+each(v, c)+" of "+c.h.Type.Name+"."+c.h.Base())
				}
				return strings.Join(out, ", ")
			}
		}
		m.knobs = append(m.knobs, k)
	}
}

func timesOf(b schema.Block) schema.Value[int] {
	switch b := b.(type) {
	case *schema.Assembly:
		return b.Times
	case *schema.Run:
		return b.Times
	case *schema.Joint:
		return b.Times
	case *schema.Lead:
		return b.Times
	case *schema.Signal:
		return b.Times
	}
	return schema.Value[int]{}
}
