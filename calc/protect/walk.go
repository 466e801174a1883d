package protect

// Exposure is the greatest current that a fault can drive through a conductor
// before some fuse or supply limit surely acts.
type Exposure struct {
	Amps float64
	in   *inflow
}

// From returns the indexes of the sources that can feed the fault, rising.
func (e Exposure) From() []int { return e.in.from() }

// Through returns the indexes of the conductors whose fuses bound the current,
// rising. It is empty if only supply limits do.
func (e Exposure) Through() []int { return e.in.through() }

// Over reports whether the exposure of a conductor exceeds its ampacity.
func (e Exposure) Over(c Conductor) bool { return e.Amps > c.Ampacity*(1+1e-9) }

// Walk returns the exposure of each conductor of the grid. It fails if the grid
// does not pass Check.
func Walk(g Grid) ([]Exposure, error) {
	if err := g.Check(); err != nil {
		return nil, err
	}
	return make([]Exposure, len(g.Conductors)), nil
}
