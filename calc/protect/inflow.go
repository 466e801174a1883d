package protect

// inflow is a current that arrives somewhere, and what it is made of.
type inflow struct {
	amps float64
}

func (in *inflow) from() []int    { return nil }
func (in *inflow) through() []int { return nil }
