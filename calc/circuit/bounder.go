package circuit

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"
)

// bounder is a network whose pixels are current sinks.
type bounder struct {
	*Network
	*darkness
	fields    []field    // of each island
	lamps     []bool     // working room of lit, by strip
	knapsacks []knapsack // as the budgets fill them
	budget    []int      // of each strip: its knapsack
	least     []float64  // working room of leastOf, by pixel of a group
}

// bounders is their working room, handed on from network to network.
var bounders = sync.Pool{New: func() any { return new(bounder) }}

// darkness is a network with all pixels dark, each drawing its idle current whatever the voltage.
type darkness struct {
	idle     *Solution  // nil of a network that only voltages are asked of
	states   []state    // of each island
	dark     []load     // of each strip, then of each sink
	caps     []float64  // of each strip: full current of a pixel less its idle current, A
	outlines []*outline // of each island
	index    [][]int32  // of each powered strip: its groups in the outline of its island
	home     []int32    // of each powered strip: its island
	err      error
}

func (n *Network) newDarkness() *darkness {
	d := &darkness{
		dark: slices.Clone(n.loads), caps: make([]float64, len(n.c.Strips)), states: make([]state, len(n.islands)),
		index: make([][]int32, len(n.c.Strips)), home: make([]int32, len(n.c.Strips)),
	}
	for i := range n.c.Strips {
		if law := n.c.Strips[i].Law; i > 0 && law == n.c.Strips[i-1].Law {
			d.dark[i], d.caps[i] = d.dark[i-1], d.caps[i-1]
		} else {
			d.dark[i], d.caps[i] = newLoad(law, StripDrive{}), law.span()
		}
	}
	for i := range d.dark {
		d.dark[i].top = math.Inf(-1)
	}
	for i := range n.islands {
		if len(n.islands[i].anchors) > 0 {
			return &darkness{err: &UnboundedError{n.bridge(int32(i))}}
		}
		d.states[i].x, _ = n.full(nil, &n.islands[i], d.dark) // nothing is warm in a bound
	}
	d.idle = n.solution(d.dark, d.states)
	for i := range n.islands {
		o := n.outline(int32(i), d)
		d.outlines = append(d.outlines, o)
		for g := range o.groups {
			s := o.groups[g].strip
			d.index[s] = append(d.index[s], int32(g))
			d.home[s] = int32(i)
		}
	}
	return d
}

// warmer is the darkness of the same network with other resistances in some islands.
func (d *darkness) warmer(n *Network, changed []bool) *darkness {
	if d.err != nil {
		return d
	}
	w := *d
	w.idle, w.states, w.outlines = nil, slices.Clone(d.states), slices.Clone(d.outlines)
	for i := range n.islands {
		if changed[i] {
			w.states[i].x, _ = n.full(nil, &n.islands[i], w.dark)
			w.outlines[i] = d.outlines[i].again(&n.islands[i], &w, w.states[i].x)
		}
	}
	return &w
}

// newBounder makes one; who has no more use for it releases it.
func newBounder(n *Network, budgets []Budget) (*bounder, error) {
	if err := checkBudgets(n.c, budgets); err != nil {
		return nil, err
	}
	dark := n.darkness()
	if dark.err != nil {
		return nil, dark.err
	}
	d := bounders.Get().(*bounder)
	d.Network, d.darkness = n, dark
	d.knapsacks = append(d.knapsacks[:0], make([]knapsack, len(budgets)+1)...)
	d.budget = d.budget[:0]
	for range n.c.Strips {
		d.budget = append(d.budget, len(budgets))
	}
	d.knapsacks[len(budgets)].amps = math.Inf(1)
	for i, b := range budgets {
		d.knapsacks[i].amps = b.Amps
		for _, s := range b.Strips {
			d.budget[s] = i
		}
	}
	d.lamps = sized(d.lamps, len(n.c.Strips))
	for len(d.fields) < len(n.islands) {
		d.fields = append(d.fields, field{})
	}
	for i, o := range d.outlines {
		d.fields[i].reset(o, d.knapsacks, d.budget, d.lamps)
	}
	return d, nil
}

// release gives the working room to the next one.
func (d *bounder) release() {
	for i := range d.fields {
		d.fields[i].clear()
	}
	d.Network, d.darkness = nil, nil
	bounders.Put(d)
}

// sized returns n zeroes, in the memory of s if that is enough.
func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// bridge names a load between two parts of an island.
func (n *Network) bridge(island int32) string {
	for i := range n.islands[island].segments {
		g := &n.islands[island].segments[i]
		e := &g.a
		if e.loose() {
			e = &g.b
		}
		if !e.loose() && n.spots[e.plusPoint].part != n.spots[e.minusPoint].part {
			return fmt.Sprintf("Strips[%d]", g.strip)
		}
	}
	for _, dr := range n.islands[island].drains {
		if n.spots[dr.plusPoint].part != n.spots[dr.minusPoint].part {
			if dr.strip >= 0 {
				return fmt.Sprintf("Strips[%d]", dr.strip)
			}
			return fmt.Sprintf("Sinks[%d]", dr.k)
		}
	}
	return "a load"
}

// wire returns the field of the current of a wire, nil for a wire without power.
func (d *bounder) wire(w int) *field {
	from := d.spots[d.c.Wires[w].A]
	if from.island < 0 {
		return nil
	}
	to := d.spots[d.c.Wires[w].B]
	f := &d.fields[from.island]
	f.between(from.unknown, to.unknown, 1/d.c.Wires[w].Ohms)
	return f
}

// source returns the field of the current of a source: the voltages that its own share of 1 V causes
// everywhere with all other sources at 0 V.
func (d *bounder) source(s int) *field {
	f := &d.fields[d.spots[d.c.Sources[s].Plus].island]
	weights := d.sources.weights(s)
	rise := func(p int32) float64 {
		if t := d.sources.terminal[p]; t >= 0 {
			return weights[t]
		}
		return 0
	}
	f.adjoint.reset(1)
	flow := func(from, to int32, amps float64) {
		if amps != 0 {
			f.adjoint.feed(0, from, -amps)
			f.adjoint.feed(0, to, amps)
		}
	}
	for i := range f.branches {
		b := &f.branches[i]
		flow(b.a, b.b, b.siemens*(rise(b.aPoint)-rise(b.bPoint)))
	}
	for i := range f.segments {
		g := &f.segments[i]
		if g.through > 0 {
			flow(g.a.plus, g.b.plus, 2*g.through*(rise(g.a.plusPoint)-rise(g.b.plusPoint)))
			flow(g.a.minus, g.b.minus, 2*g.through*(rise(g.a.minusPoint)-rise(g.b.minusPoint)))
		}
	}
	f.spread(rise)
	for i := range f.groups { // the terminals rise themselves
		p := &f.groups[i]
		first, last := p.line(func(e *end) float64 { return rise(e.plusPoint) - rise(e.minusPoint) })
		if first != 0 || last != 0 {
			s := f.activate(int32(i))
			s.first += first
			s.last += last
		}
	}
	return f
}

// pixel returns the field of the voltage that a pixel loses.
func (d *bounder) pixel(strip, k int) *field {
	f := &d.fields[d.home[strip]]
	for _, i := range d.index[strip] {
		if p := &f.groups[i]; k >= p.first && k < p.first+p.n {
			f.pixel(i, k, &d.c.Strips[strip], f.rows(p))
			break
		}
	}
	return f
}

// lowest returns the bound of the voltage on a strip.
func (d *bounder) lowest(strip int) StripBound {
	if !d.powered[strip] {
		return StripBound{}
	}
	b := StripBound{Powered: true, MinVolts: math.Inf(1)}
	for _, i := range d.index[strip] {
		d.leastOf(strip, i, &b)
	}
	return b
}

// leastOf lowers b to the bound of the voltage on a group. Towards a loose end voltages fall and
// factors grow, so that the last pixel is the worst. Between two taps the pixels are tried in the
// order of a cheap bound, see dualBound, until it rules out the rest.
func (d *bounder) leastOf(strip int, i int32, b *StripBound) {
	f := &d.fields[d.home[strip]]
	p := &f.groups[i]
	s := &d.c.Strips[strip]
	r := f.rows(p)
	lower := false
	try := func(k int) {
		f.pixel(i, k, s, r)
		if v := p.idle.at(k-p.first) - f.fill(1); v < b.MinVolts-1e-9 || v < b.MinVolts+1e-9 && k < b.MinPixel {
			b.MinVolts, b.MinPixel, lower = v, k, true
		}
	}
	switch {
	case p.a.loose():
		try(p.first)
	case p.b.loose() || p.n == 1:
		try(p.first + p.n - 1)
	default:
		d.least = sized(d.least, p.n) // what is known of each pixel; +Inf once it is tried
		least := d.least
		for j := range least {
			least[j] = math.Inf(-1)
		}
		for {
			o := f.dual(i, s, r)
			worst := -1
			for j := range least {
				if least[j] <= b.MinVolts+1e-9 {
					least[j] = max(least[j], p.idle.at(j)-o.loss(p.first+j))
				}
				if least[j] <= b.MinVolts+1e-9 && (worst < 0 || least[j] < least[worst]) {
					worst = j
				}
			}
			if worst < 0 {
				break
			}
			try(p.first + worst)
			least[worst] = math.Inf(1)
		}
	}
	if lower {
		f.pixel(i, b.MinPixel, s, r)
		b.Lit = f.lit(1)
	}
}

// pattern returns the pattern behind the greatest sum of sign*factor.
func (d *bounder) pattern(f *field, sign float64) Drive {
	type pixel struct {
		strip, k int
		factor   float64
	}
	byBudget := make([][]pixel, len(f.knapsacks))
	noise := f.noise()
	add := func(p *group, first int, s *stretch) {
		for j := range s.n {
			factor := s.first
			if s.n > 1 {
				factor += (s.last - s.first) * float64(j) / float64(s.n-1)
			}
			if factor *= sign; factor > noise {
				byBudget[p.knapsack] = append(byBudget[p.knapsack], pixel{p.strip, first + j, factor})
			}
		}
	}
	f.expand()
	f.each(add)
	drive := make(Drive, len(d.c.Strips))
	for i, pixels := range byBudget {
		left := f.knapsacks[i].amps
		sort.SliceStable(pixels, func(a, b int) bool { return pixels[a].factor > pixels[b].factor })
		for _, p := range pixels {
			if left <= 0 || d.caps[p.strip] == 0 {
				continue
			}
			level := min(1, left/d.caps[p.strip])
			left -= d.caps[p.strip]
			s := &d.c.Strips[p.strip]
			if drive[p.strip].Each == nil {
				drive[p.strip].Each = make([][]float64, s.Pixels)
			}
			share := make([]float64, len(s.Law.Channels))
			for c := range share {
				share[c] = level
			}
			drive[p.strip].Each[p.k] = share
		}
	}
	return drive
}
