package figures

import (
	"context"
	"errors"
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
	"ohmstead/schema"
)

// filled says of which blocks the figures of every case and of the bound over
// every pattern are in their places.
type filled struct{ leads, runs, controllers, supplies, joints []bool }

// first reports whether a block is not yet in its place, and notes that it is.
func first(done []bool, i int) bool {
	was := done[i]
	done[i] = true
	return !was
}

// Need sees to it that the figures of a block are there in every case, and
// those of the bound and the protection. It solves no more than the parts that
// they depend on.
func (f *Figures) Need(b schema.Block) {
	if f.complete.Load() {
		return
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	switch b := b.(type) {
	case *schema.Lead:
		if l := f.leads[b]; l != nil && l.Island != nil && l.Island.split != nil {
			f.fillLead(l.Island, l)
			f.protect(l.Island)
		}
	case *schema.Run:
		if r := f.runs[b]; r != nil && r.Island != nil && r.Island.split != nil {
			f.fillRun(r.Island, r)
			f.protect(r.Island)
		}
	case *schema.Controller:
		if c := f.controllers[b]; c != nil && c.Island != nil && c.Island.split != nil {
			f.fillController(c.Island, c)
		}
	case *schema.Supply:
		if is := f.wired[b]; is != nil && is.split != nil {
			f.fillSupply(is, b)
		}
	case *schema.Joint:
		if is := f.wired[b]; is != nil && is.split != nil {
			f.fillJoint(is, b)
		}
	}
}

// Partial reports whether the currents and voltages of a block are not there since
// something that they depend on cannot be read.
func (f *Figures) Partial(b schema.Block) bool {
	var is *Island
	switch b := b.(type) {
	case *schema.Supply, *schema.Joint:
		is = f.wired[b]
	case *schema.Lead:
		if l := f.leads[b]; l != nil {
			is = l.Island
		}
	case *schema.Run:
		if r := f.runs[b]; r != nil {
			is = r.Island
		}
	case *schema.Controller:
		if c := f.controllers[b]; c != nil {
			is = c.Island
		}
	default:
		return false
	}
	if is != nil {
		return errors.Is(is.Err, ErrPartial)
	}
	return slices.ContainsFunc(f.Leads, func(l *Lead) bool { return l.From.Bad || l.To.Bad }) // it may hang on that
}

// Solve works out what nobody has needed yet, several parts at a time. Its only
// error is that of a context that ends.
func (f *Figures) Solve(ctx context.Context) error {
	if err := f.solve(ctx); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.complete.Load() {
		return nil
	}
	for _, is := range f.Islands {
		if is.split == nil {
			continue
		}
		for _, p := range is.parts {
			for _, s := range p.solutions {
				if s.err != nil {
					is.Err = s.err
				}
			}
		}
		for _, s := range is.Supplies {
			f.fillSupply(is, s)
		}
		for _, l := range is.Leads {
			f.fillLead(is, l)
		}
		for _, j := range is.Joints {
			f.fillJoint(is, j)
		}
		for _, c := range is.Control {
			f.fillController(is, c)
		}
		for _, r := range is.Runs {
			f.fillRun(is, r)
		}
		f.protect(is)
	}
	f.complete.Store(true)
	return nil
}

func (f *Figures) fillLead(is *Island, l *Lead) {
	if !first(f.filled.leads, l.place) {
		return
	}
	for k, c := range f.Cases {
		if f.withheld(c) {
			continue
		}
		lc := LeadCase{OK: true}
		carry := func(wire int, side circuit.Wire) (amps float64) {
			amps, ok := is.wireAmps(wire, k)
			lc.OK = lc.OK && ok
			ohms := side.At(amps)
			lc.Drop += math.Abs(amps) * ohms
			lc.Watts += amps * amps * ohms
			return amps
		}
		if l.minus >= 0 {
			lc.Back = -carry(l.minus, l.side(false, 0, 0))
			lc.Amps = lc.Back
		}
		if l.plus >= 0 {
			lc.Amps = carry(l.plus, l.side(true, 0, 0))
		}
		if lc.OK {
			c.Leads[l.place] = lc
		}
	}
	if f.unheld {
		return
	}
	a := AnyLead{OK: true}
	for _, w := range []int{l.plus, l.minus} {
		if w < 0 {
			continue
		}
		amps, spill, lit, ok := is.anyWire(w)
		a.Spill = max(a.Spill, spill)
		if a.OK = a.OK && ok; ok && amps >= a.Amps {
			a.Amps, a.Lit = amps, lit
		}
		if w == l.plus {
			a.Plus, a.PlusLit = amps, lit
		}
	}
	if a.OK {
		f.Any.Leads[l.place] = a
	}
}

func (f *Figures) fillRun(is *Island, r *Run) {
	if !first(f.filled.runs, r.place) {
		return
	}
	for k, c := range f.Cases {
		if st := is.strip(r, k); st != nil && !f.withheld(c) {
			c.Runs[r.place] = runCase(r, st)
		}
	}
	at := is.split.Strips[r.strip]
	p := is.solved(at.Part)
	if !p.Live || p.bound.err != nil || f.unheld {
		return
	}
	if b := p.bound.value.Strips[at.Index]; b.Powered {
		f.Any.Runs[r.place] = AnyRun{
			OK: true, MinVolts: b.MinVolts, MinPixel: b.MinPixel, Lit: is.runsOf(p, b.Lit),
			RailAmps: b.RailAmps, RailAt: b.RailAt, RailLit: is.runsOf(p, b.RailLit), Spill: b.Spill,
		}
	}
}

func runCase(r *Run, st *circuit.StripSolution) RunCase {
	return RunCase{OK: true, solved: st, Amps: st.Amps, Watts: st.Watts + st.RailWatts, MinVolts: st.MinVolts, MinPixel: st.MinPixel,
		RailAmps: st.RailAmps, RailAt: st.RailAt, StartVolts: st.PadVolts(0), EndVolts: st.PadVolts(r.StripLength())}
}

func (f *Figures) fillSupply(is *Island, s *schema.Supply) {
	at := f.supplies[s]
	if !first(f.filled.supplies, at) {
		return
	}
	for k, c := range f.Cases {
		if f.withheld(c) {
			continue
		}
		sc := SupplyCase{Supply: s, OK: true, Volts: s.Volts(), Load: math.NaN()}
		is.outputs(s, func(source int) {
			amps, ok := is.sourceAmps(source, k)
			sc.OK = sc.OK && ok
			sc.Each = append(sc.Each, amps)
			sc.Amps += amps
		})
		if s.Rating.Known() {
			rating := s.Rating.V.SI * f.Derated(s)
			sc.Load = 0
			for _, a := range sc.Each {
				sc.Load = math.Max(sc.Load, math.Abs(a)/rating)
			}
		}
		if sc.OK {
			c.Supplies[at] = sc
		}
	}
	if f.unheld {
		return
	}
	a := AnySupply{OK: true}
	is.outputs(s, func(source int) {
		amps, spill, ok := is.anySource(source, f.ceilings)
		a.OK = a.OK && ok
		a.Spill = max(a.Spill, spill)
		a.Amps = math.Max(a.Amps, amps)
	})
	if a.OK {
		f.Any.Supplies[at] = a
	}
}

// fillJoint: what a joint passes on is the most that its leads bring to one
// side of it.
func (f *Figures) fillJoint(is *Island, j *schema.Joint) {
	at := f.joints[j]
	if !first(f.filled.joints, at) {
		return
	}
	for k, c := range f.Cases {
		if f.withheld(c) {
			continue
		}
		amps := is.passes(j, func(wire int) float64 {
			amps, _ := is.wireAmps(wire, k)
			return amps
		})
		v, ok := is.between(is.nodes[blockPlace(j)], k)
		c.Joints[at] = JointCase{Joint: j, OK: ok, Volts: v, Amps: amps}
	}
}

// passes is the most that enters one side of a joint, A, from the currents of wires from from to to.
func (is *Island) passes(j *schema.Joint, amps func(wire int) float64) float64 {
	var into [2]float64 // its plus and its minus side
	for _, l := range is.meet[j] {
		for side, wire := range []int{l.plus, l.minus} {
			if wire < 0 {
				continue
			}
			amps := amps(wire)
			if l.To.V.Joint == j {
				into[side] += math.Max(amps, 0)
			}
			if l.From.V.Joint == j {
				into[side] += math.Max(-amps, 0)
			}
		}
	}
	return math.Max(into[0], into[1])
}

func (f *Figures) fillController(is *Island, ctl *Controller) {
	if !first(f.filled.controllers, ctl.place) {
		return
	}
	for k, c := range f.Cases {
		cc := &c.Controllers[ctl.place]
		cc.Volts, cc.OK = is.between(is.nodes[blockPlace(ctl.Controller)], k)
	}
}

// protect puts the exposures of an island in their places.
func (f *Figures) protect(is *Island) {
	if is.protected {
		return
	}
	is.protected = true
	_ = is.walk(context.Background()) // that does not end
	if is.guardsKnown() {
		is.protection(is.exposures.value)
		is.touched()
	}
}

// walk finds the island's exposures. A grid that fails its check has none:
// nothing is claimed.
func (is *Island) walk(ctx context.Context) error {
	return is.exposures.get(ctx, func() ([]protect.Exposure, error) { return protect.Walk(is.Grid) })
}
