package protect

import "slices"

// inflow is a current that can arrive somewhere, and what it is made of. It
// never changes once made, so that one inflow can be part of many; nil is no
// current. What it is made of is worked out only when asked for, because the
// answers of all conductors together can be far longer than the grid.
type inflow struct {
	amps    float64
	sources []int     // that feed in here, bounded by their own limits
	parts   []*inflow // that arrive from elsewhere

	// bound says what bounds the parts to less than their sum: fuses, and the
	// parts that are spent in full. Nil if they arrive unbounded.
	bound func() (fuses []int, spent []*inflow)
}

// current is the amps of an inflow that may be nil.
func (in *inflow) current() float64 {
	if in == nil {
		return 0
	}
	return in.amps
}

// join adds two inflows.
func join(a, b *inflow) *inflow {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return &inflow{amps: a.amps + b.amps, parts: []*inflow{a, b}}
}

// joinOthers adds up inflows: all of them, and for each the others.
func joinOthers(each []*inflow) (all *inflow, others []*inflow) {
	others = make([]*inflow, len(each))
	for k, in := range each {
		others[k] = all // those before
		all = join(all, in)
	}
	var after *inflow
	for k := len(each) - 1; k >= 0; k-- {
		others[k] = join(others[k], after)
		after = join(each[k], after)
	}
	return all, others
}

// fused is what a fuse lets pass of an inflow; a rating of 0 is no fuse.
func fused(in *inflow, rating float64, conductor int) *inflow {
	if in == nil || rating == 0 || in.amps < rating {
		return in
	}
	return &inflow{amps: rating, parts: []*inflow{in}, bound: func() ([]int, []*inflow) {
		return []int{conductor}, nil
	}}
}

// greater returns the larger of two inflows, the first if they are equal.
func greater(a, b *inflow) *inflow {
	if b.current() > a.current() {
		return b
	}
	return a
}

// from returns the sources behind an inflow, rising.
func (in *inflow) from() []int {
	var all []int
	var visit func(*inflow)
	visit = func(in *inflow) {
		all = append(all, in.sources...)
		for _, p := range in.parts {
			visit(p)
		}
	}
	if in != nil {
		visit(in)
	}
	return ordered(all)
}

// through returns the conductors whose fuses bound an inflow, rising.
func (in *inflow) through() []int {
	var all []int
	var visit func(*inflow)
	visit = func(in *inflow) {
		spent := in.parts
		if in.bound != nil {
			var fuses []int
			fuses, spent = in.bound()
			all = append(all, fuses...)
		}
		for _, p := range spent {
			visit(p)
		}
	}
	if in != nil {
		visit(in)
	}
	return ordered(all)
}

func ordered(indexes []int) []int {
	slices.Sort(indexes)
	return slices.Compact(indexes)
}
