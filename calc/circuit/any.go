package circuit

import "errors"

// Budget is a ceiling over the strips that one controller drives: the sum over their pixels of
// (current - idle) may not exceed Amps. Amps is +Inf where there is no ceiling.
type Budget struct {
	Amps   float64
	Strips []int
}

// Bound holds extremes over all patterns that the budgets allow.
type Bound struct {
	Wires     []float64 // greatest |A| of each wire
	WireLit   [][]int   // strips that the pattern behind it lights
	Sources   []float64 // greatest |A| of each source
	SourceLit [][]int
	Strips    []StripBound
}

// StripBound is the least voltage that a pixel of a strip may see.
type StripBound struct {
	Powered  bool
	MinVolts float64
	MinPixel int
	Lit      []int // strips that the pattern behind it lights
}

// Any bounds what any pattern within the budgets can do. A strip in no budget is unlimited.
func Any(c *Circuit, budgets []Budget) (*Bound, error) {
	n, err := Prepare(c)
	if err != nil {
		return nil, err
	}
	return n.Any(budgets)
}

// Any is as the function Any, on a prepared network.
func (n *Network) Any(budgets []Budget) (*Bound, error) { return nil, errors.New("circuit: not yet") }

// WirePattern returns a pattern that takes wire w to its bound.
func (b *Bound) WirePattern(w int) Drive { return nil }

// SourcePattern returns a pattern that takes source s to its bound.
func (b *Bound) SourcePattern(s int) Drive { return nil }

// StripPattern returns a pattern that takes the worst pixel of strip s to its bound.
func (b *Bound) StripPattern(s int) Drive { return nil }
