package figures

import "ohmstead/calc/circuit"

// Dark solves the island with every pixel dark and gives the current of each
// of its outputs, A, in the order of its supplies; negative where an output is
// fed backwards.
func (is *Island) Dark() ([]float64, bool) {
	if is.Circuit == nil || is.Err != nil {
		return nil, false
	}
	n, err := circuit.Prepare(is.Circuit)
	if err != nil {
		return nil, false
	}
	sol, err := n.Solve(make(circuit.Drive, len(is.Runs)))
	if err != nil {
		return nil, false
	}
	return sol.SourceAmps, true
}
