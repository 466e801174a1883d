package circuit

import "errors"

// Solve finds all voltages and currents of c. It returns an *InputError for a value out
// of range, a *ConflictError for ideal sources that contradict each other, and a
// *NotSettledError where no solution to 1e-9 V was reached.
func Solve(c *Circuit) (*Solution, error) {
	n, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return n.Solve(nil)
}

// Network is a circuit made ready: its topology is analysed once, and each drive case is
// then solved at little cost. It is safe for concurrent use.
type Network struct{}

// Prepare checks c and analyses it. Later changes to c do not reach the network.
func Prepare(c *Circuit) (*Network, error) { return nil, errors.New("circuit: not yet") }

// Drive says how the strips of a circuit are lit, one entry for each strip.
type Drive []StripDrive

// StripDrive is the drive of one strip: as Share and Each of Strip.
type StripDrive struct {
	Share []float64
	Each  [][]float64
}

// Solve solves one drive case; nil is the one that the circuit came with.
func (n *Network) Solve(d Drive) (*Solution, error) { return nil, errors.New("circuit: not yet") }
