package figures

import (
	"math"

	"ohmstead/calc/circuit"
	"ohmstead/schema"
)

// Dark solves the island with every pixel dark and gives the current of each
// of its outputs, A, in the order of its supplies; negative where an output is
// fed backwards.
func (is *Island) Dark() ([]float64, bool) {
	sol, ok := is.probe(make(circuit.Drive, len(is.Runs)))
	if !ok {
		return nil, false
	}
	return sol.SourceAmps, true
}

func (is *Island) probe(d circuit.Drive) (*circuit.Solution, bool) {
	if is.Circuit == nil || is.Err != nil {
		return nil, false
	}
	n, err := circuit.Prepare(is.Circuit)
	if err != nil {
		return nil, false
	}
	sol, err := n.Solve(d)
	return sol, err == nil
}

// Expect is what a meter is expected to show at a place in a case: the
// voltage between plus and minus there, V, and at a supply the current of that
// output, A (NaN elsewhere). It is false where the place has no power or could
// not be worked out.
func (f *Figures) Expect(pt *schema.Point, own *schema.Case) (volts, amps float64, ok bool) {
	var c *Case
	for _, x := range f.Cases {
		if x.Own == own && (own != nil || x.Name == Full) {
			c = x
		}
	}
	if c == nil {
		return 0, 0, false
	}
	switch {
	case pt.Supply != nil:
		for _, s := range c.Supplies {
			if s.Supply == pt.Supply && s.OK && pt.Output <= len(s.Each) {
				return s.Volts, s.Each[pt.Output-1], true
			}
		}
	case pt.Joint != nil:
		for _, j := range c.Joints {
			if j.Joint == pt.Joint && j.OK {
				return j.Volts, math.NaN(), true
			}
		}
	case pt.Run != nil:
		r := f.runs[pt.Run]
		if r == nil || r.Island == nil {
			return 0, 0, false
		}
		sol, ok := r.Island.probe(f.drive(r.Island, c))
		if !ok || !sol.Strips[r.strip].Powered {
			return 0, 0, false
		}
		return sol.Strips[r.strip].PadVolts(r.Snap(pt).At), math.NaN(), true
	}
	return 0, 0, false
}
