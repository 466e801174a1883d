package figures

import "ohmstead/calc/circuit"

// Dark solves the island with every pixel dark and gives the current of each
// of its outputs, A, in the order of its supplies; negative where an output is
// fed backwards.
func (is *Island) Dark() ([]float64, bool) {
	if is.split == nil || is.Err != nil {
		return nil, false
	}
	out := make([]float64, len(is.Circuit.Sources))
	for _, p := range is.parts {
		if !p.Live {
			continue
		}
		sol, err := p.network.value.Solve(make(circuit.Drive, len(p.Strips)))
		if err != nil {
			return nil, false
		}
		for i, s := range p.Sources {
			out[s] += sol.SourceAmps[i]
		}
	}
	return out, true
}
