package figures

import (
	"context"
	"math"
	"runtime"

	"golang.org/x/sync/errgroup"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
	"ohmstead/calc/supply"
	"ohmstead/schema"
)

// solve works out every case, and the bound over every pattern.
func (f *Figures) solve(ctx context.Context, memo *Memo) error {
	f.Cases = []*Case{{Name: schema.Full}, {Name: schema.Held, Held: true}}
	for _, c := range f.Plan.Cases {
		if !c.Broken {
			f.Cases = append(f.Cases, &Case{Name: c.Name, Own: c, Held: c.Held.V})
		}
	}
	for _, c := range f.Cases {
		c.Supplies = make([]SupplyCase, len(f.Plan.Supplies))
		for i, s := range f.Plan.Supplies {
			c.Supplies[i].Supply = s
		}
		c.Joints = make([]JointCase, len(f.Plan.Joints))
		for i, j := range f.Plan.Joints {
			c.Joints[i].Joint = j
		}
		c.Leads = make([]LeadCase, len(f.Leads))
		c.Runs = make([]RunCase, len(f.Runs))
		f.control(c)
	}
	f.Any = Any{Leads: make([]AnyLead, len(f.Leads)), Runs: make([]AnyRun, len(f.Runs)), Supplies: make([]AnySupply, len(f.Plan.Supplies))}

	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	results := make([]*solved, len(f.Islands))
	for i, is := range f.Islands {
		if is.Circuit == nil {
			continue
		}
		drives := make([]circuit.Drive, len(f.Cases))
		for k, c := range f.Cases {
			drives[k] = f.drive(is, c)
		}
		budgets := f.budgets(is)
		s := memo.entry(key(is.Circuit, &is.Grid, drives, budgets))
		results[i] = s
		work.Go(func() error { return s.work(ctx, is, drives, budgets) })
	}
	if err := work.Wait(); err != nil {
		return err
	}
	index := f.indexes()
	for i, is := range f.Islands {
		if s := results[i]; s != nil {
			f.collect(is, s, index)
		}
	}
	return nil
}

// work solves one island in every case, unless that is done already. Its error is
// that of the context: an island that cannot be solved keeps its own.
func (s *solved) work(ctx context.Context, is *Island, drives []circuit.Drive, budgets []circuit.Budget) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.done || ctx.Err() != nil {
		return ctx.Err()
	}
	s.err = nil
	s.cases = make([]*circuit.Solution, len(drives))
	s.errs = make([]error, len(drives))
	s.exposure, _ = protect.Walk(is.Grid) // a grid that fails its check has no exposures: nothing is claimed
	n, err := circuit.Prepare(is.Circuit)
	if err != nil {
		s.err, s.done = err, true
		return nil
	}
	for k, d := range drives {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		s.cases[k], s.errs[k] = n.Solve(d)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if b, err := n.Any(budgets); err == nil {
		s.any = b
	}
	s.done = true
	return nil
}

// drive lights the island's strips for a case.
func (f *Figures) drive(is *Island, c *Case) circuit.Drive {
	out := make(circuit.Drive, len(is.Runs))
	for _, r := range is.Runs {
		out[r.strip].Share = f.shares(c, r)
	}
	return out
}

// shares is what a case asks of each channel of a run, its ceiling applied.
func (f *Figures) shares(c *Case, r *Run) []float64 {
	scale := 1.0
	if c.Held && r.Port != nil {
		for i, ctl := range f.Controllers {
			if ctl.Controller == r.Port.Controller {
				scale = c.Controllers[i].Scale
			}
		}
	}
	asked := asked(c.Own, r)
	for i := range asked {
		asked[i] *= scale
	}
	return asked
}

// asked is what a case asks of each channel of a run before any ceiling; own
// is nil for the built-in cases.
func asked(own *schema.Case, r *Run) []float64 {
	out := make([]float64, len(r.Law.Channels))
	if own != nil && own.Runs.Set {
		lit := false
		for _, x := range own.Runs.V {
			lit = lit || x == r.Run
		}
		if !lit {
			return out
		}
	}
	for i, l := range r.Strip.V.Channels.V {
		out[i] = 1
		if own != nil {
			out[i] = own.Share(string(l))
		}
	}
	return out
}

// control works out each controller's estimate and scale in a case: the
// firmware counts nominal currents without any drop.
func (f *Figures) control(c *Case) {
	c.Controllers = make([]ControllerCase, len(f.Controllers))
	for i, ctl := range f.Controllers {
		want := 0.0
		for _, r := range ctl.Runs {
			if r.OK {
				want += float64(r.Pixels) * r.Law.Nominal(asked(c.Own, r))
			}
		}
		cc := ControllerCase{Estimate: want, Scale: 1}
		if c.Held && ctl.Ceiling.Set && !ctl.Ceiling.Bad && want > ctl.Ceiling.V.SI {
			lit := want - ctl.Idle
			cc.Scale = 0
			if lit > 0 {
				cc.Scale = math.Min(1, math.Max(0, (ctl.Ceiling.V.SI-ctl.Idle)/lit))
			}
			cc.Estimate = ctl.Idle + cc.Scale*lit
		}
		c.Controllers[i] = cc
	}
}

// budgets turns the ceilings into budgets for the island's strips. A ceiling
// bounds the sum over all that the controller drives: all of it may go here.
func (f *Figures) budgets(is *Island) []circuit.Budget {
	var out []circuit.Budget
	for _, ctl := range f.Controllers {
		if !ctl.Ceiling.Set || ctl.Ceiling.Bad {
			continue
		}
		b := circuit.Budget{Amps: math.Max(0, ctl.Ceiling.V.SI-ctl.Idle)}
		for _, r := range ctl.Runs {
			if r.Island == is && r.OK {
				b.Strips = append(b.Strips, r.strip)
			}
		}
		if len(b.Strips) > 0 {
			out = append(out, b)
		}
	}
	return out
}

// indexes finds a block's place in the lists of figures.
type indexes struct {
	leads    map[*Lead]int
	runs     map[*Run]int
	control  map[*Controller]int
	supplies map[*schema.Supply]int
	joints   map[*schema.Joint]int
}

func (f *Figures) indexes() indexes {
	return indexes{positions(f.Leads), positions(f.Runs), positions(f.Controllers), positions(f.Plan.Supplies), positions(f.Plan.Joints)}
}

func positions[T comparable](xs []T) map[T]int {
	out := make(map[T]int, len(xs))
	for i, x := range xs {
		out[x] = i
	}
	return out
}

// collect spreads an island's solutions over the plan's lists.
func (f *Figures) collect(is *Island, s *solved, index indexes) {
	if s.err != nil {
		is.Err = s.err
		return
	}
	for k, c := range f.Cases {
		if s.errs[k] != nil {
			is.Err = s.errs[k]
			continue
		}
		f.collectCase(is, c, s.cases[k], index)
	}
	if is.guardsKnown() {
		is.protection(f, s.exposure)
	}
	if s.any == nil {
		return
	}
	lit := func(strips []int) []*Run {
		var out []*Run
		for _, i := range strips {
			out = append(out, is.Runs[i])
		}
		return out
	}
	for _, l := range is.Leads {
		a := AnyLead{OK: true}
		for _, w := range []int{l.plus, l.minus} {
			if w >= 0 && s.any.Wires[w] >= a.Amps {
				a.Amps, a.Lit = s.any.Wires[w], lit(s.any.WireLit[w])
			}
		}
		f.Any.Leads[index.leads[l]] = a
	}
	for _, r := range is.Runs {
		if b := s.any.Strips[r.strip]; b.Powered {
			f.Any.Runs[index.runs[r]] = AnyRun{
				OK: true, MinVolts: b.MinVolts, MinPixel: b.MinPixel, Lit: lit(b.Lit),
				RailAmps: b.RailAmps, RailAt: b.RailAt, RailLit: lit(b.RailLit),
			}
		}
	}
	src := 0
	for _, sup := range is.Supplies {
		a := AnySupply{OK: true}
		for range sup.Outputs.V {
			a.Amps = math.Max(a.Amps, s.any.Sources[src])
			src++
		}
		f.Any.Supplies[index.supplies[sup]] = a
	}
}

func (f *Figures) collectCase(is *Island, c *Case, sol *circuit.Solution, index indexes) {
	volts := func(n [2]int) (float64, bool) { return sol.Between(n[0], n[1]) }
	src := 0
	for _, s := range is.Supplies {
		sc := SupplyCase{Supply: s, OK: true, Volts: s.Volts()}
		for range s.Outputs.V {
			a := sol.SourceAmps[src]
			sc.Each = append(sc.Each, a)
			sc.Amps += a
			src++
		}
		if s.Rating.Known() {
			rating := s.Rating.V.SI * f.Derated(s)
			for _, a := range sc.Each {
				sc.Load = math.Max(sc.Load, math.Abs(a)/rating)
			}
		}
		c.Supplies[index.supplies[s]] = sc
	}
	into := map[*schema.Joint][2]float64{}           // A that enters its plus and its minus side
	enter := func(l *Lead, side int, amps float64) { // amps flow from from to to
		for i, pt := range []*schema.Point{l.To.V, l.From.V} {
			if in := amps * []float64{1, -1}[i]; pt.Joint != nil && in > 0 {
				sum := into[pt.Joint]
				sum[side] += in
				into[pt.Joint] = sum
			}
		}
	}
	for _, l := range is.Leads {
		lc := LeadCase{OK: true}
		if l.minus >= 0 {
			lc.Back = -sol.WireAmps[l.minus]
			lc.Amps = lc.Back
			lc.Drop += math.Abs(lc.Back) * l.Ohms
			lc.Watts += lc.Back * lc.Back * l.Ohms
			enter(l, 1, -lc.Back)
		}
		if l.plus >= 0 {
			lc.Amps = sol.WireAmps[l.plus]
			lc.Drop += math.Abs(lc.Amps) * l.Ohms
			lc.Watts += lc.Amps * lc.Amps * l.Ohms
			enter(l, 0, lc.Amps)
		}
		c.Leads[index.leads[l]] = lc
	}
	for _, j := range is.Joints {
		v, ok := volts(is.nodes[j.ID()])
		c.Joints[index.joints[j]] = JointCase{Joint: j, OK: ok, Volts: v, Amps: math.Max(into[j][0], into[j][1])}
	}
	for _, ctl := range is.Control {
		i := index.control[ctl]
		c.Controllers[i].Volts, c.Controllers[i].OK = volts(is.nodes[ctl.ID()])
	}
	for _, r := range is.Runs {
		st := &sol.Strips[r.strip]
		if !st.Powered {
			continue
		}
		rc := RunCase{OK: true, solved: st, Amps: st.Amps, Watts: st.Watts, MinVolts: st.MinVolts, MinPixel: st.MinPixel, RailAmps: st.RailAmps, RailAt: st.RailAt,
			StartVolts: st.PadVolts(0), EndVolts: st.PadVolts(r.Reach())}
		c.Runs[index.runs[r]] = rc
	}
}

// guardsKnown reports whether every fuse and supply limit of the island could be
// read. If not, nothing is claimed of what faults can drive through it.
func (is *Island) guardsKnown() bool {
	for _, l := range is.Leads {
		if l.Fuse.Bad {
			return false
		}
	}
	for _, s := range is.Supplies {
		if !s.Rating.Known() || !s.Overload.Known() || !s.Limited.Known() {
			return false
		}
	}
	return true
}

// Derated is the share of a supply's rating that is left at the plan's ambient
// temperature.
func (f *Figures) Derated(s *schema.Supply) float64 {
	if !s.DerateFrom.Set || s.DerateFrom.Bad || !s.Derate.Set || s.Derate.Bad {
		return 1
	}
	share, err := supply.Share(f.Plan.Ambient(), s.DerateFrom.V.SI, s.Derate.V.SI)
	if err != nil {
		return 1
	}
	return math.Max(share, 0.01) // a supply at its end still has a load to speak of
}
