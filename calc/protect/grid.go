// Package protect finds how much current a fault can drive through each
// conductor before some fuse or supply limit surely acts. All currents are in
// A.
package protect

import (
	"fmt"
	"math"
)

// Side is the side of the circuit that a conductor belongs to.
type Side int

const (
	Plus Side = iota
	Minus
)

// Source is one output of a supply. Limit is the greatest current that it can
// go on feeding into a fault.
type Source struct {
	Plus, Minus int // nodes
	Limit       float64
}

// Conductor joins two nodes of one side. Fuse is the rating of the fuse at its
// A end, or 0 if there is none; it counts on the plus side only, because a
// fuse in a return leaves the fault connected to the plus.
type Conductor struct {
	A, B     int // nodes
	Side     Side
	Ampacity float64
	Fuse     float64
}

// Load is a place where current can pass from plus to minus, by design or by
// fault: a pad, a strip, a controller, a joint of a pair.
type Load struct {
	Plus, Minus int // nodes
}

// Grid is a network of conductors between numbered nodes, 0 to Nodes-1. The
// plus and the minus side are separate: a conductor meets only those of its
// own side.
type Grid struct {
	Nodes      int
	Sources    []Source
	Conductors []Conductor
	Loads      []Load
}

// mostAmps bounds limits and fuses: far above any supply, and low enough that
// sums keep their digits.
const mostAmps = 1e6

// Check returns an error that names the first value out of range: a node that
// does not exist, a limit or fuse outside 0 to 1e6 A, or an
// ampacity that is negative. An ampacity that is not known may be infinite.
func (g Grid) Check() error {
	if g.Nodes < 0 {
		return fmt.Errorf("protect: a grid cannot have %d nodes", g.Nodes)
	}
	node := func(what string, i, n int) error {
		if n < 0 || n >= g.Nodes {
			return fmt.Errorf("protect: %s %d refers to node %d; there are %d", what, i, n, g.Nodes)
		}
		return nil
	}
	current := func(what string, i int, quantity string, amps, limit float64) error {
		if !(amps >= 0 && amps <= limit) {
			return fmt.Errorf("protect: %s %d has %s of %g A; the range is 0 to %g A", what, i, quantity, amps, limit)
		}
		return nil
	}
	for i, s := range g.Sources {
		if err := firstError(node("source", i, s.Plus), node("source", i, s.Minus), current("source", i, "a limit", s.Limit, mostAmps)); err != nil {
			return err
		}
	}
	for i, c := range g.Conductors {
		if c.Side != Plus && c.Side != Minus {
			return fmt.Errorf("protect: conductor %d has side %d; it must be plus or minus", i, c.Side)
		}
		if err := firstError(node("conductor", i, c.A), node("conductor", i, c.B),
			current("conductor", i, "a fuse", c.Fuse, mostAmps), current("conductor", i, "an ampacity", c.Ampacity, math.Inf(1))); err != nil {
			return err
		}
	}
	for i, l := range g.Loads {
		if err := firstError(node("load", i, l.Plus), node("load", i, l.Minus)); err != nil {
			return err
		}
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
