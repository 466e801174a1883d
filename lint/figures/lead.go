package figures

import (
	"math"

	"ohmstead/calc/circuit"
	"ohmstead/calc/fuse"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

// lead works out a lead's length, resistance and ampacity.
func (f *Figures) lead(l *schema.Lead, out *Lead) {
	*out = Lead{Lead: l, Device: f.device(l), plus: -1, minus: -1}
	w := l.Wire.V
	if !l.From.Known() || !l.To.Known() || !l.Wire.Known() || w == nil || !w.Gauge.Known() ||
		!l.Carries.Known() || !l.Parallel.Known() || l.Length.Bad || l.Holder.Bad {
		return
	}
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt.Run != nil {
			if run := f.runs[pt.Run]; run == nil || !run.OK {
				return
			}
		}
	}
	if l.Length.Set {
		out.Length = l.Length.V.SI
	} else {
		d, why := f.between(l.From.V, l.To.V)
		if why != "" {
			out.Why = "no length is given, and " + why
		}
		if !(d > 0) {
			return
		}
		out.Length, out.Estimated = f.estimate(d), true
	}
	kind := f.kind(w)
	out.Gauge = kind.gauge
	if kind.err != nil {
		out.Why = kind.err.Error()
		return
	}
	out.Ohms = wire.Side(kind.ohms, out.Length, contact(l.From.V)+contact(l.To.V), l.Parallel.V)
	var err error
	out.Together = f.bundles(l)
	out.Shared, err = wire.GroupingFactor(out.Together)
	if err != nil {
		out.Why = err.Error()
		return
	}
	together := out.Shared * float64(l.Parallel.V)
	out.heat = kind.heat / (together * together) * wire.Side(kind.ohms, out.Length, 0, l.Parallel.V) / out.Ohms
	out.most = kind.most * together
	out.Ampacity = kind.ampacity * out.Shared * float64(l.Parallel.V)
	if h := l.Holder.V; h != nil && (!h.Kind.Known() || !h.Resistance.Known()) {
		return
	}
	if out.Fused() {
		out.FuseOhms = out.Device.Ohms(l.Fuse.V.SI)
		if h := l.Holder.V; h != nil {
			out.FuseOhms += h.Resistance.V.SI
		}
	}
	out.OK = true
}

// Fused reports whether the lead's plus side has a fuse whose rating is known.
func (l *Lead) Fused() bool { return l.Fuse.Set && !l.Fuse.Bad && l.Plus() }

// RailLimit is what the copper of the runs at the lead's ends may carry, A; infinite where none says it.
func (l *Lead) RailLimit() float64 {
	most := math.Inf(1)
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt.Run != nil && pt.Run.Strip.V != nil && pt.Run.Strip.V.RailCurrent.Set {
			most = math.Min(most, pt.Run.Strip.V.RailCurrent.V.SI)
		}
	}
	return most
}

// fitted is what the kind of a fuse hangs on.
type fitted struct {
	holder *schema.Holder
	amps   float64
}

// device is the kind of a lead's fuse at the plan's ambient temperature: that
// which its holder takes, else the commonest that comes in its rating. It is worked out once for all leads alike.
func (f *Figures) device(l *schema.Lead) *fuse.Kind {
	key := fitted{l.Holder.V, l.Fuse.V.SI}
	k := f.devices[key]
	if k == nil {
		k = new(fuse.Kind)
		*k = fuse.Likely(key.amps)
		if h := key.holder; h != nil {
			if named, ok := fuse.Named(h.Kind.V); ok {
				*k = named
			}
		}
		*k = k.At(f.Plan.Ambient())
		f.devices[key] = k
	}
	return k
}

// kind is a kind of wire at the plan's ambient temperature.
type kind struct {
	gauge    wire.Gauge
	ohms     float64 // ohm/m
	ampacity float64 // A, of one conductor that lies alone
	heat     float64 // 1/A2, share of ohms that its current adds
	most     float64 // A, beyond which it adds no more
	err      error
}

// kind works a kind of wire out, once for all leads of it.
func (f *Figures) kind(w *schema.Wire) *kind {
	k := f.kinds[w]
	if k == nil {
		k = &kind{gauge: wire.Of(w.Gauge.V)}
		if k.ohms, k.err = wire.Resistance(k.gauge, w.Stranded.V, f.Plan.Ambient()); k.err == nil {
			k.ampacity, k.err = f.Ampacity(w)
		}
		if k.err == nil {
			k.heat, k.most = f.heat(w)
		}
		f.kinds[w] = k
	}
	return k
}

// contact is the resistance of a joint's contact where a conductor of a lead
// ends in one.
func contact(pt *schema.Point) float64 {
	if pt.Joint != nil && pt.Joint.Resistance.Known() {
		return pt.Joint.Resistance.V.SI
	}
	return 0
}

// Ampacity of one conductor of a wire that lies alone, A: the wire's own word or the
// conservative table, each corrected for warm air.
func (f *Figures) Ampacity(w *schema.Wire) (float64, error) {
	if w.Ampacity.Set && !w.Ampacity.Bad {
		factor, err := wire.StatedFactor(f.Plan.Ambient(), w.Stands())
		return w.Ampacity.V.SI * factor, err
	}
	return f.TableAmpacity(wire.Of(w.Gauge.V), w)
}

// heat is what the current of a conductor that lies alone does to its resistance.
func (f *Figures) heat(w *schema.Wire) (share, most float64) {
	if w.Ampacity.Set && !w.Ampacity.Bad {
		return wire.Heat(wire.StatedWarming(w.Ampacity.V.SI, w.Stands()), f.Plan.Ambient())
	}
	warming, err := wire.TableWarming(wire.Of(w.Gauge.V))
	if err != nil {
		return 0, 0 // the lead has no ampacity either
	}
	return wire.Heat(warming, f.Plan.Ambient())
}

// side is the plus or the minus side of the lead as a wire of a circuit. Its copper warms up, its fuse and its
// contacts do not.
func (l *Lead) side(plus bool, a, b int) circuit.Wire {
	ohms := l.Ohms
	if plus {
		ohms += l.FuseOhms
	}
	return circuit.Wire{A: a, B: b, Ohms: max(ohms, circuit.MinOhms), Heat: l.heat * l.Ohms / ohms, Most: l.most}
}

// TableAmpacity is what the table allows a conductor of a size at the plan's
// ambient temperature; w says what its insulation stands.
func (f *Figures) TableAmpacity(g wire.Gauge, w *schema.Wire) (float64, error) {
	return wire.Ampacity(g, f.Plan.Ambient(), w.Stands())
}

// estimate is the length of wire for two places a distance in m apart: with the
// policy's slack, and at least its tail at each end.
func (f *Figures) estimate(distance float64) float64 {
	limits := f.Plan.Limits()
	return distance + math.Max(distance*limits.Slack, 2*limits.Tail)
}

// Apart is the straight distance between two places on one surface, m. It is
// false where that is not known.
func (f *Figures) Apart(a, b schema.Value[*schema.Point]) (float64, bool) {
	if !a.Known() || !b.Known() {
		return 0, false
	}
	return f.distance(a.V, b.V)
}

// distance between two points on one surface, m.
func (f *Figures) distance(a, b *schema.Point) (float64, bool) {
	d, why := f.between(a, b)
	return d, why == ""
}

// between is the distance between two points, m, or why it is not known.
func (f *Figures) between(a, b *schema.Point) (metres float64, why string) {
	sa, ax, ay, ok1 := f.position(a)
	sb, bx, by, ok2 := f.position(b)
	if ok1 && ok2 && sa != sb { // along the surfaces, folded out
		for _, x := range f.frames[sa] {
			if x.Surface == sb {
				sb, bx, by = sa, bx+x.X, by+x.Y
			}
		}
	}
	d := math.Hypot(ax-bx, ay-by)
	switch {
	case placeBad(a) || placeBad(b):
		return 0, ""
	case !ok1 || !ok2:
		return 0, "the places of its two ends are not both known"
	case sa != sb:
		return 0, "its two ends lie on different surfaces"
	case !(d > 0):
		return 0, "its two ends have the same place"
	}
	return d, ""
}

// placeBad tells that a place is written and cannot be used, which is a finding
// of its own.
func placeBad(pt *schema.Point) bool {
	switch {
	case pt.Supply != nil:
		return pt.Supply.On.Bad || pt.Supply.Place.Bad
	case pt.Joint != nil:
		return pt.Joint.On.Bad || pt.Joint.Place.Bad
	case pt.Controller != nil:
		return pt.Controller.On.Bad || pt.Controller.Place.Bad
	case pt.Run != nil:
		return pt.Run.On.Bad
	}
	return false
}

func (f *Figures) position(pt *schema.Point) (on *schema.Surface, x, y float64, ok bool) {
	at := func(s schema.Value[*schema.Surface], xy schema.Value[schema.XY]) (*schema.Surface, float64, float64, bool) {
		return s.V, xy.V.X, xy.V.Y, s.Known() && xy.Known()
	}
	switch {
	case pt.Supply != nil:
		return at(pt.Supply.On, pt.Supply.Place)
	case pt.Joint != nil:
		return at(pt.Joint.On, pt.Joint.Place)
	case pt.Controller != nil:
		return at(pt.Controller.On, pt.Controller.Place)
	case pt.Run != nil:
		run := f.runs[pt.Run]
		if run == nil || !run.OK {
			return nil, 0, 0, false
		}
		x, y, ok := run.XY(run.Snap(pt).At)
		return pt.Run.On.V, x, y, ok
	}
	return nil, 0, 0, false
}
