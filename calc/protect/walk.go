package protect

// Exposure is the greatest current that a fault can drive through a conductor
// before some fuse or supply limit surely acts.
type Exposure struct {
	Amps float64
	// Enters is what can enter a plus conductor at its A end, past its own
	// fuse, and at its B end; of a minus conductor both are Amps.
	Enters [2]float64
	in     *inflow
}

// exposed is the exposure of a plus conductor that two inflows enter at its ends.
func exposed(a, b *inflow) Exposure {
	in := greater(a, b)
	return Exposure{in.current(), [2]float64{a.current(), b.current()}, in}
}

// returning is the exposure of a minus conductor.
func returning(in *inflow) Exposure {
	return Exposure{in.current(), [2]float64{in.current(), in.current()}, in}
}

// From returns the indexes of the sources that can feed the fault, rising.
func (e Exposure) From() []int { return e.in.from() }

// Through returns the indexes of the conductors whose fuses bound the current,
// rising. It is empty if only supply limits do.
func (e Exposure) Through() []int { return e.in.through() }

// Over reports whether the exposure of a conductor exceeds its ampacity.
func (e Exposure) Over(c Conductor) bool { return e.Amps > c.Ampacity*(1+1e-9) }

// Walk returns the exposure of each conductor of the grid, in its order. It
// fails if the grid does not pass Check.
//
// Plus conductor: a fault anywhere in it is fed from both its ends. The
// exposure is the greater of the two currents that can arrive there, each the
// greatest flow from all sources, within their limits, through the fuses of the
// other plus conductors. Its own fuse, at its A end, bounds what enters at A
// only. So two fused leads that feed a thin third add up, a lead in a ring is
// judged from both its ends, and a run that is fed at both ends sees each fuse
// between the feeds but their sum on a tail beyond them.
//
// Minus conductor: if removing it cuts its side in two, all that can return
// through it counts, so three fused leads that share a return add up there. In
// a ring of returns the worst single path counts: from a source through a load
// and back through the conductor, with the least fuse or supply limit on it.
// Both ways only sources and loads that return on this side of the grid count.
//
// A plan without rings costs time in proportion to its plus conductors, and for
// each minus conductor a look at the loads behind it and the fuses that feed
// them. Where plus conductors form rings, each of them costs a search of those
// that share rings with it, so a block of n ringed conductors costs n*n steps,
// more if nearly all of them are fused. The benchmarks hold 5,000 conductors of
// each kind.
func Walk(g Grid) ([]Exposure, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	exposures := make([]Exposure, len(g.Conductors))
	walkPlus(g, exposures)
	walkMinus(g, exposures)
	return exposures, nil
}
