package sizing

import (
	"math"
	"strconv"
	"strings"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// size is a size that a lead may be made of, with its fuse.
type size struct {
	gauge    wire.Gauge
	wire     *schema.Wire // of the plan; nil for one that is to be written
	ampacity float64      // A, of the lead
	fuse     float64      // A; 0 for none
}

// together lists the leads of one text: copies, and those of assemblies that are like one another.
func together(f *figures.Figures, l *figures.Lead) []*figures.Lead {
	var out []*figures.Lead
	for _, o := range f.Leads {
		if o.Node == l.Node {
			out = append(out, o)
		}
	}
	return out
}

// LoadOf is the greatest current of a lead and of those that share its text, A.
func LoadOf(f *figures.Figures, l *figures.Lead) float64 {
	most := 0.0
	for _, o := range together(f, l) {
		if w := f.WorstLead(o); w.OK {
			most = math.Max(most, w.Value)
		}
	}
	return most
}

// gauges lists the sizes from that of a lead on that a lead may have: its own wire, the
// other wires of the plan, and the sizes that are commonly sold.
func gauges(f *figures.Figures, l *figures.Lead, thinner bool) []size {
	own := l.Wire.V
	out := []size{{gauge: l.Gauge, wire: own, ampacity: l.Ampacity}}
	var all []wire.Gauge
	for _, g := range wire.Standard(l.Gauge.AWG) {
		if thinner && g.Area() < l.Gauge.Area()*(1-1e-6) || g.Area() > l.Gauge.Area()*(1+1e-6) {
			all = append(all, g)
		}
	}
	for _, g := range all {
		w := WireLike(f.Plan, own, g)
		amps := ampacityOf(f, w, own, g) * l.Shared * float64(max(l.Parallel.V, 1))
		if amps > 0 && Takes(l, g.Area()) {
			out = append(out, size{gauge: g, wire: w, ampacity: amps})
		}
	}
	return out
}

// WireLike is the plan's wire of a size, if it has one.
func WireLike(p *schema.Plan, own *schema.Wire, g wire.Gauge) *schema.Wire {
	for _, w := range p.Wires {
		if w.Gauge.Known() && math.Abs(w.Gauge.V.SI-g.Area()) <= 1e-6*g.Area() && !w.Broken && w.Cores.V == own.Cores.V && w.Home != schema.InCatalogue {
			return w
		}
	}
	return nil
}

// ampacityOf is what one conductor of a wire may carry; w is nil for a new one
// like own.
func ampacityOf(f *figures.Figures, w, own *schema.Wire, g wire.Gauge) float64 {
	amps, err := f.TableAmpacity(g, own)
	if w != nil {
		amps, err = f.Ampacity(w)
	}
	if err != nil {
		return 0
	}
	return amps
}

// Takes reports whether the joints at a lead's ends take a cross-section.
func Takes(l *figures.Lead, area float64) bool {
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt.Joint != nil && !figures.Clamps(pt.Joint, area) {
			return false
		}
	}
	return true
}

// FusesFor lists the standard ratings of a kind of fuse that carry a load in A, that of a lead and those that share its
// text, and protect its wire, smallest first: also all that nothing else guards behind it, or at least the copper of the
// runs that it feeds, if any does both.
func FusesFor(f *figures.Figures, l *figures.Lead, kind *fuse.Kind, load float64) []float64 {
	if !f.WorstLead(l).OK || !l.Plus() {
		return nil
	}
	for _, most := range []float64{f.Behind(l), l.RailLimit()} {
		if both := kind.Window(load, min(l.Ampacity, most)); len(both) > 0 {
			return both
		}
	}
	return kind.Window(load, l.Ampacity)
}

// Thinnest is the thinnest size above a lead's own that is sold, that the joints at its ends take, and of which it may
// carry enough.
func Thinnest(f *figures.Figures, l *figures.Lead, enough func(ampacity float64) bool) (wire.Gauge, bool) {
	for _, s := range gauges(f, l, false)[1:] {
		if enough(s.ampacity) {
			return s.gauge, true
		}
	}
	return wire.Gauge{}, false
}

// fits lists the sizes, of an ampacity of at least so many amperes, and fuses with
// which a lead carries its load and is protected, the thinnest first; of a size that which keeps the fuse, then the
// others, those that protect the strip behind first.
func fits(f *figures.Figures, l *figures.Lead, load, least float64, fused bool) []size {
	var out []size
	for _, s := range gauges(f, l, false) {
		if s.ampacity < max(load, least)*(1-1e-9) {
			continue
		}
		if !fused || !l.Plus() {
			out = append(out, s)
			continue
		}
		if l.Fuse.Set && l.Device.Carries(l.Fuse.V.SI, load) && l.Device.Protects(l.Fuse.V.SI, s.ampacity) {
			keep := s
			keep.fuse = l.Fuse.V.SI
			out = append(out, keep)
		}
		window := l.Device.Window(load, s.ampacity)
		for _, strip := range []bool{true, false} {
			for _, a := range window {
				if l.Device.Protects(a, l.RailLimit()) == strip && !(l.Fuse.Set && a == l.Fuse.V.SI) {
					with := s
					with.fuse = a
					out = append(out, with)
				}
			}
		}
	}
	return out
}

// apply writes a size of a lead.
func (d *Draft) apply(l *figures.Lead, s size) bool {
	if math.Abs(s.gauge.Area()-l.Gauge.Area()) > 1e-6*l.Gauge.Area() {
		id, ok := d.wire(l, s)
		if !ok || !d.set(l.ID(), "wire", id) {
			return false
		}
	}
	switch {
	case s.fuse > 0 && !(l.Fuse.Set && l.Fuse.V.SI == s.fuse):
		return d.set(l.ID(), "fuse", strconv.Quote(amps(s.fuse)))
	}
	return true
}

func amps(a float64) string { return quantity.Of(quantity.Current, a).Exact() }

// wire names the wire of a size, with the block that says it where there is
// none.
func (d *Draft) wire(l *figures.Lead, s size) (string, bool) {
	if s.wire != nil {
		return s.wire.ID(), true
	}
	q, err := quantity.ParseFor(quantity.Gauge, s.gauge.String())
	if err != nil {
		return "", false
	}
	for _, a := range d.news {
		if a.kind == "wire" && a.value("gauge") == strconv.Quote(q.String()) {
			return a.id(), true
		}
	}
	old := l.Wire.V
	id, below := old.ID(), old.ID()
	if old.Home != schema.InPlan {
		below = l.ID()
	}
	name := strings.TrimPrefix(id, "wire.")
	if a := d.added(id); a != nil && a.value("like") != "" { // a size thicker than one that is new already
		id = a.value("like")
		name = strings.TrimPrefix(id, "wire.")
	}
	name = strings.TrimPrefix(name, "catalog.")
	called := WireName(name, q)
	bySize := !strings.HasPrefix(called, name)
	name = d.free("wire", called)
	a := &addition{kind: "wire", name: name, says: [][2]string{{"like", id}, {"gauge", strconv.Quote(q.String())}}}
	if old.Ampacity.Set || bySize && len(old.Node.Assigns)+len(old.Node.Blocks) == 1 { // of another size nobody has said anything
		a.says = [][2]string{{"gauge", strconv.Quote(q.String())}}
		if !old.Stranded.V {
			a.set("stranded", "false")
		}
	}
	if !d.add(a, below) {
		return "", false
	}
	return a.id(), true
}

// WireName is what a wire of another size is called: after one that is called by its size, awg-20 after awg-12, else with
// the size behind the name.
func WireName(old string, gauge schema.Quantity) string {
	size := strings.NewReplacer(" ", "", "/", "-", ".", "-").Replace(gauge.String())
	if number, ok := strings.CutPrefix(strings.ReplaceAll(old, "_", "-"), "awg-"); ok && strings.Trim(number, "0123456789") == "" {
		if size, ok = strings.CutSuffix(size, "AWG"); ok {
			return "awg-" + size
		}
	}
	return old + "-" + size
}

// OfGauge are the edits that make a lead of a wire of another size: one of the plan, else
// a new one like its own.
func OfGauge(f *figures.Figures, l *figures.Lead, g wire.Gauge) []schema.Edit {
	d := newDraft(f.Plan)
	d.apply(l, size{gauge: g, wire: WireLike(f.Plan, l.Wire.V, g)})
	return d.Edits()
}
