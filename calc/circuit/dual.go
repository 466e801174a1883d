package circuit

import "math"

// dualBound bounds what any pattern can take from the voltage of each pixel of a group between two
// taps, at the prices of an ampere that were right for the last pixel tried: any price gives a bound.
//
// What pixels elsewhere take is convex in the share w of end b, so that it lies below the line from the
// first to the last pixel of the group.
type dualBound struct {
	p           *group
	strip       *Strip
	price       float64 // of the group's own knapsack; +Inf where it is empty
	most        float64
	rowA, rowB  [2]float64 // of the group itself
	first, last float64    // V, taken by pixels elsewhere, and what the budgets cost
}

func (f *field) dual(i int32, s *Strip, r *rows) dualBound {
	p := &f.groups[i]
	o := dualBound{p: p, strip: s, price: f.knapsacks[p.knapsack].price(), most: p.stretch.most}
	at := func(w float64) (volts float64) {
		f.mix(r, w)
		f.each(func(q *group, _ int, s *stretch) {
			if q != p {
				volts += s.worth(f.knapsacks[q.knapsack].price())
			}
		})
		f.eachLot(func(k int, s *stretch) { volts += s.worth(f.knapsacks[k].price()) })
		return volts
	}
	o.first, o.last = at(p.wA), at(p.wB)
	for j, g := range r.groups {
		if g == i {
			o.rowA, o.rowB = r.at[j][0], r.at[j][1]
		}
	}
	for i := range f.knapsacks {
		if t := f.knapsacks[i].price(); t > 0 && !math.IsInf(t, 1) {
			o.first += t * f.knapsacks[i].amps
			o.last += t * f.knapsacks[i].amps
		}
	}
	return o
}

// loss returns the bound for pixel k, V.
func (o *dualBound) loss(k int) float64 {
	w := o.p.weight(k)
	own, rest := o.p.part(k, o.strip, stretch{
		o.rowA[0] + w*(o.rowB[0]-o.rowA[0]), o.rowA[1] + w*(o.rowB[1]-o.rowA[1]), o.p.n, o.most,
	})
	between := (w - o.p.wA) / (o.p.wB - o.p.wA)
	return o.first + between*(o.last-o.first) + own.worth(o.price) + rest.worth(o.price)
}

// price returns what an ampere of the knapsack was worth at the last fill; +Inf if the knapsack is empty.
func (p *knapsack) price() float64 {
	if p.amps > 0 && math.IsInf(p.threshold, 1) {
		return 0 // nothing was to be had for it
	}
	return p.threshold
}

// worth returns the sum over the pixels of most*max(0, factor-t).
func (s *stretch) worth(t float64) float64 {
	line := s.falling(1)
	g, _ := line.above(t)
	return g
}
