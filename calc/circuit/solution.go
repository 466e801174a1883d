package circuit

// Solution holds what Solve found. Potentials are relative to the minus of the
// first source of each island (a part of the network that shares currents).
//
// A node that no source can drive a current through is not powered. It takes the
// potential of what its pixels hang from, so that nothing across them reads as a
// voltage, and 0 where there is nothing.
type Solution struct {
	Volts      []float64 // potential of each node, V
	Powered    []bool    // for each node
	SourceAmps []float64 // delivered, positive out of Plus; negative is back-fed
	WireAmps   []float64 // from A to B
	SinkAmps   []float64
	Strips     []StripSolution
	Iterations int // most that an island took
}

// StripSolution is the part of a Solution that belongs to one strip. In a strip that is
// not powered all values are 0.
type StripSolution struct {
	Powered  bool
	Volts    []float64 // between the rails at each pixel, V
	Amps     []float64 // of each pixel, A
	RailAmps float64   // greatest current in either rail, A
	RailAt   float64   // where it flows, m from the start
	rails    rails
}

type rails struct{}

// PadVolts returns the voltage between plus and minus at a distance from the start, m.
// Distances outside the strip count as its ends.
func (s *StripSolution) PadVolts(at float64) float64 {
	plus, minus := s.Pad(at)
	return plus - minus
}

// Pad returns the potentials of both rails at a distance from the start, m.
func (s *StripSolution) Pad(at float64) (plus, minus float64) { return 0, 0 }
