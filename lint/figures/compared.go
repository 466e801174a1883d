package figures

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// Readings compares the plan's readings with what was worked out, each in its
// case; those for which nothing was worked out are left out. Where the same
// network was read nearer to its supply too, only the voltage lost from there
// counts. The nearest such reading does, so that a fault shows at the first place
// behind it; where nothing differs up to there, the one that this agrees with least.
func (f *Figures) Readings() []Reading {
	c := f.reckon()
	for at, list := range c.of {
		c.spread(at, list...)
	}
	c.compare()
	return slices.DeleteFunc(c.all, func(r Reading) bool { return c.failed[r.network()] })
}

// Differing is those of the readings that differ, at once where none does: what a plan that is right leaves open takes
// long to work out, and is worked out only of readings that lie further off than the meter accounts for.
func (f *Figures) Differing() []Reading {
	c := f.reckon()
	c.compare()
	return slices.DeleteFunc(c.all, func(r Reading) bool { return c.failed[r.network()] || !r.Differs() })
}

// compared is the plan's readings beside what was worked out.
type compared struct {
	f      *Figures
	all    []Reading
	of     map[network][]*Reading
	failed map[network]bool // nobody knows what the plan leaves open there
}

// network is one in a case.
type network struct {
	island *Island
	in     *Case
}

func (r *Reading) network() network { return network{r.On, r.Case} }

func (f *Figures) reckon() *compared {
	c := &compared{f: f, all: make([]Reading, 0, len(f.Plan.Readings)), of: map[network][]*Reading{}, failed: map[network]bool{}}
	for _, r := range f.Plan.Readings {
		if x, ok := f.reckoned(r); ok {
			x.Share, x.Still = f.meterError(r)
			c.all = append(c.all, x)
			at := x.network()
			c.of[at] = append(c.of[at], &c.all[len(c.all)-1])
		}
	}
	return c
}

// spread works out what moves some readings of a network.
func (c *compared) spread(at network, list ...*Reading) {
	probes := make([]Probes, len(list))
	for i, r := range list {
		probes[i] = r.Probes
	}
	_, s, err := c.f.SpreadOf(at.island, at.in, probes)
	for i, r := range list {
		if r.spread = true; err == nil {
			r.moves = s[i]
		} else {
			c.failed[at] = true
		}
	}
}

// compare says of each reading what it should be and how far it may lie off that, see [compared.behind].
func (c *compared) compare() {
	for at, list := range c.of {
		var falling []*Reading    // voltages, but for such as are lost along a lead
		var alone []*Reading      // the others
		var far map[*Reading]bool // those further off than the meter accounts for, and those nearest to them
		look := func(r, x *Reading) {
			want, leave := r.metered(x)
			if r.off(want) <= leave {
				return
			}
			if far == nil {
				far = map[*Reading]bool{}
			}
			if far[r] = true; x != nil {
				far[x] = true
			}
		}
		for _, r := range list {
			if r.Probes.Reads == Volts && r.Place.V.Lead == nil {
				falling = append(falling, r)
			} else {
				alone = append(alone, r)
				look(r, nil)
			}
		}
		slices.SortStableFunc(falling, func(a, b *Reading) int { return cmp.Compare(b.worked, a.worked) })
		above := make([]int, len(falling)) // of each: how many of them lie above it
		nearest := make([]*Reading, len(falling))
		for i, r := range falling {
			if above[i] = i; i > 0 && falling[i-1].worked == r.worked {
				above[i] = above[i-1]
			}
			if above[i] > 0 {
				nearest[i] = falling[above[i]-1]
			}
			look(r, nearest[i])
		}
		maps.DeleteFunc(far, func(r *Reading, _ bool) bool { return r.spread })
		if len(far) > 0 { // several at a time, as a keystroke waits for this longest of all
			c.spread(at, slices.Collect(maps.Keys(far))...)
		}
		for _, r := range alone {
			r.Want, r.Leave = c.behind(r, nil)
		}
		first := len(falling) // that differs
		for i, r := range falling {
			if x := nearest[i]; x != nil {
				r.From = x.Reading
			}
			r.Want, r.Leave = c.behind(r, nearest[i])
			if !r.Differs() && above[i] <= first {
				for _, x := range falling[:above[i]] {
					if want, leave := c.behind(r, x); r.off(want)*r.Leave > r.off(r.Want)*leave {
						r.Want, r.Leave, r.From = want, leave, x.Reading
					}
				}
			}
			if first == len(falling) && r.Differs() {
				first = i
			}
		}
	}
}

// behind is what should be read behind another place, nil for none, given what was read there, and how far a healthy meter
// and a plan that is right may lie off it: +Inf where the meter accounts for the difference by itself and nobody has
// asked what the plan leaves open.
func (c *compared) behind(r, x *Reading) (want, leave float64) {
	want, leave = r.metered(x)
	known := r.spread && (x == nil || x.spread)
	if !known && r.off(want) <= leave {
		return want, math.Inf(1)
	}
	for _, y := range []*Reading{r, x} {
		if y != nil && !y.spread {
			c.spread(y.network(), y)
		}
	}
	if x == nil {
		return want, leave + leaves(r.moves, nil)
	}
	return want, leave + leaves(r.moves, x.moves)
}

// metered is what should be read, and how far the meter alone may lie off it. It is one meter, so its share of the reading falls out of a difference.
func (r *Reading) metered(x *Reading) (want, leave float64) {
	if x == nil {
		return r.worked, r.Still + r.Share*math.Abs(r.worked)
	}
	drop := x.worked - r.worked
	return x.Got - drop, r.Still + x.Still + r.Share*drop
}
