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

// Check returns an error that names the first value out of range: a node that
// does not exist, or a limit, fuse or ampacity that is negative or not finite.
func (g Grid) Check() error {
	node := func(what string, i, n int) error {
		if n < 0 || n >= g.Nodes {
			return fmt.Errorf("protect: %s %d refers to node %d; there are %d", what, i, n, g.Nodes)
		}
		return nil
	}
	current := func(what string, i int, quantity string, amps float64) error {
		if !(amps >= 0) || math.IsInf(amps, 0) {
			return fmt.Errorf("protect: %s %d has a %s of %g A; it must be finite and not negative", what, i, quantity, amps)
		}
		return nil
	}
	for i, s := range g.Sources {
		if err := firstError(node("source", i, s.Plus), node("source", i, s.Minus), current("source", i, "limit", s.Limit)); err != nil {
			return err
		}
	}
	for i, c := range g.Conductors {
		if c.Side != Plus && c.Side != Minus {
			return fmt.Errorf("protect: conductor %d has side %d; it must be plus or minus", i, c.Side)
		}
		if err := firstError(node("conductor", i, c.A), node("conductor", i, c.B),
			current("conductor", i, "fuse", c.Fuse), current("conductor", i, "ampacity", c.Ampacity)); err != nil {
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
