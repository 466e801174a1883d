package figures

import (
	"context"
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/supply"
	"ohmstead/schema"
)

// cases lays out every case and the bound over every pattern, and finds in the memo what is known of them.
func (f *Figures) cases(memo *Memo) {
	f.Cases = []*Case{{Name: schema.Full}, {Name: schema.Held, Held: true}}
	for _, c := range f.Plan.Cases {
		if !c.Broken {
			f.Cases = append(f.Cases, &Case{Name: c.Name, Own: c, Held: c.Held.V})
		}
	}
	for _, c := range f.Cases {
		c.asked = map[asking]asked{}
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

	var d digest
	for _, is := range f.Islands {
		if is.split != nil {
			is.prepare(f, memo, &d)
			is.exposures = memo.exposures.entry(d.grid(&is.Grid))
		}
	}
	f.filled = filled{
		leads: make([]bool, len(f.Leads)), runs: make([]bool, len(f.Runs)), controllers: make([]bool, len(f.Controllers)),
		supplies: make([]bool, len(f.Plan.Supplies)), joints: make([]bool, len(f.Plan.Joints)),
	}
}

// solve works all parts out, several at a time. Those that share what is worked out are one thing to do, and so is what
// may come loose in a part, after its own: of two that wait for one another only one works.
func (f *Figures) solve(ctx context.Context) error {
	var todo []func(context.Context) error
	seen := map[*kept[*circuit.Bound]][]*part{}
	for _, is := range f.Islands {
		if is.split == nil {
			continue
		}
		if !is.exposures.done.Load() {
			todo = append(todo, is.walk) // takes longest
		}
		for i, p := range is.parts {
			if p.known() && (p.loose == nil || p.loose.done.Load()) {
				continue
			}
			if like := func(q *part) bool { return p.loose == q.loose && slices.Equal(p.solutions, q.solutions) }; slices.ContainsFunc(seen[p.bound], like) {
				continue
			}
			seen[p.bound] = append(seen[p.bound], p)
			todo = append(todo, func(ctx context.Context) error {
				if err := p.work(ctx); err != nil {
					return err
				}
				if p.loose != nil {
					is.loosened(i)
				}
				return nil
			})
		}
	}
	return together(ctx, len(todo), func(i int) error { return todo[i](ctx) })
}

// asking is what the shares of a run hang on within a case.
type asking struct {
	strip *schema.Strip
	lit   bool
	scale float64 // by which a ceiling holds them
}

// asked is what a case asks of a pixel.
type asked struct {
	shares  []float64 // of each channel
	nominal float64   // A, where voltage is ample
}

// of is what the case asks of a run's pixels once a ceiling has scaled it, worked out once for all runs alike.
func (c *Case) of(r *Run, scale float64) asked {
	key := asking{r.Strip.V, c.Own == nil || !c.Own.Runs.Set || slices.Contains(c.Own.Runs.V, r.Run), scale}
	if key == c.last.asking && c.last.shares != nil {
		return c.last.asked
	}
	a, ok := c.asked[key]
	if ok {
		c.last.asking, c.last.asked = key, a
		return a
	}
	a.shares = make([]float64, len(r.Law.Channels))
	if key.lit {
		for i, l := range r.Strip.V.Channels.V {
			a.shares[i] = scale
			if c.Own != nil {
				a.shares[i] *= c.Own.Share(string(l))
			}
		}
	}
	a.nominal = r.Law.Nominal(a.shares)
	c.asked[key] = a
	return a
}

// shares is what a case asks of each channel of a run, its ceiling applied.
func (f *Figures) shares(c *Case, r *Run) []float64 {
	scale := 1.0
	if c.Held && r.Port != nil {
		if ctl := f.controllers[r.Port.Controller]; ctl != nil {
			scale = c.Controllers[ctl.place].Scale
		}
	}
	return c.of(r, scale).shares
}

// control works out each controller's estimate and scale in a case: the
// firmware counts nominal currents without any drop.
func (f *Figures) control(c *Case) {
	c.Controllers = make([]ControllerCase, len(f.Controllers))
	for i, ctl := range f.Controllers {
		want := 0.0
		for _, r := range ctl.Runs {
			if r.OK {
				want += float64(r.Pixels) * c.of(r, 1).nominal
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

func positions[T comparable](xs []T) map[T]int {
	out := make(map[T]int, len(xs))
	for i, x := range xs {
		out[x] = i
	}
	return out
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
