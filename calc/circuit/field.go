package circuit

import (
	"math"
	"slices"
)

// field holds transfer factors in one island: how much of a quantity each ampere of each pixel makes.
// Between two taps they lie on a straight line. Groups that are not active have none.
type field struct {
	*island
	adjoint   *adjoint // of the rails and the wires alone
	groups    []group
	groupOf   []int32    // of each segment, -1 for none
	at        [][]int32  // of each unknown: the groups with an end there
	knapsacks []knapsack // of each budget, then that of the strips without one
	active    []int32    // groups
	marks     []bool     // of the active ones
	rest      stretch    // what a kink cuts off the stretch of parted
	parted    *group     // its line has a kink at a pixel
	rows      [2]row     // the last two, as neighbouring groups share a tap
	recent    int        // the one asked for last
	lamps     []bool     // working room of lit, by strip of the network
}

// group is the pixels of a strip between two taps, or the pixel right at a tap.
type group struct {
	strip, first, n int
	a, b            end
	wA, wB          float64 // share of end b in the first and in the last pixel; the rest is that of end a
	from, to        float64 // m
	idle            profile // with all pixels dark
	knapsack        int
	stretch         stretch // its factors, while it is active
}

func newField(is *island, lamps []bool) field {
	return field{
		island: is, adjoint: newAdjoint(is.copper()), lamps: lamps,
		groupOf: make([]int32, len(is.segments)), at: make([][]int32, is.unknowns+1),
	}
}

// add adds a group and returns its number.
func (f *field) add(p group) int32 {
	i := int32(len(f.groups))
	f.groups = append(f.groups, p)
	f.marks = append(f.marks, false)
	for _, v := range []int32{p.a.plus, p.a.minus, p.b.plus, p.b.minus} {
		if int(v) < f.unknowns && (len(f.at[v]) == 0 || f.at[v][len(f.at[v])-1] != i) {
			f.at[v] = append(f.at[v], i)
		}
	}
	return i
}

// none takes all factors back.
func (f *field) none() {
	if f.parted != nil {
		f.parted.stretch.n = f.parted.n
		f.parted = nil
	}
	for _, i := range f.active {
		f.marks[i] = false
	}
	f.active = f.active[:0]
}

// activate returns the factors of a group, 0 at first.
func (f *field) activate(i int32) *stretch {
	s := &f.groups[i].stretch
	if !f.marks[i] {
		f.marks[i] = true
		f.active = append(f.active, i)
		s.first, s.last = 0, 0
	}
	return s
}

// reached visits each group at which the adjoint has potentials, once.
func (f *field) reached(visit func(i int32)) {
	f.none()
	for _, v := range f.adjoint.touched {
		for _, i := range f.at[v] {
			if !f.marks[i] {
				f.activate(i)
				visit(i)
			}
		}
	}
}

// spread gives each group its factors from the adjoint at its ends.
func (f *field) spread() {
	x := f.adjoint.x
	f.reached(func(i int32) {
		p := &f.groups[i]
		p.stretch.first, p.stretch.last = p.line(func(e *end) float64 { return x[e.plus] - x[e.minus] })
	})
}

// between sets the factors of the current through a conductance from a to b.
func (f *field) between(a, b int32, siemens float64) {
	f.adjoint.reset()
	f.adjoint.feed(a, -siemens)
	f.adjoint.feed(b, siemens)
	f.adjoint.solve()
	f.spread()
}

// line returns the factors of the first and the last pixel from those of the ends.
func (p *group) line(at func(*end) float64) (first, last float64) {
	a, b := 0.0, 0.0
	if p.wA < 1 {
		a = at(&p.a)
	}
	if p.wB > 0 {
		b = at(&p.b)
	}
	return a + p.wA*(b-a), a + p.wB*(b-a)
}

// row is the factors of a draw at an end of a group, for the first and the last pixel of each group
// that it reaches.
type row struct {
	known  bool
	end    end
	groups []int32
	at     [][2]float64
}

// row returns that of an end; it stays what it is until another two were asked for.
func (f *field) row(e *end) *row {
	for i := range f.rows {
		if r := &f.rows[i]; r.known && r.end == *e {
			f.recent = i
			return r
		}
	}
	f.recent = 1 - f.recent
	r := &f.rows[f.recent]
	r.known, r.end, r.groups, r.at = true, *e, r.groups[:0], r.at[:0]
	if e.loose() {
		return r
	}
	x := f.adjoint.x
	f.adjoint.reset()
	f.adjoint.feed(e.plus, 1)
	f.adjoint.feed(e.minus, -1)
	f.adjoint.solve()
	f.reached(func(i int32) {
		first, last := f.groups[i].line(func(e *end) float64 { return x[e.plus] - x[e.minus] })
		r.groups = append(r.groups, i)
		r.at = append(r.at, [2]float64{first, last})
	})
	return r
}

// pixel sets the factors of the voltage lost by pixel k of group i: those of its ends by their
// shares, and within the group a tent over the pixel besides.
func (f *field) pixel(i int32, k int, s *Strip, a, b *row) {
	p := &f.groups[i]
	f.none()
	w := p.weight(k)
	f.mix(a, 1-w)
	f.mix(b, w)
	if p.to == p.from {
		return
	}
	own := f.activate(i)
	*own, f.rest = p.part(k, s, *own)
	f.parted = p
}

// mix adds a share of a row.
func (f *field) mix(r *row, share float64) {
	for j, i := range r.groups {
		s := f.activate(i)
		s.first += share * r.at[j][0]
		s.last += share * r.at[j][1]
	}
}

// part adds to the line of the factors of a group the tent over its pixel k, and parts it there.
func (p *group) part(k int, s *Strip, all stretch) (own, rest stretch) {
	line := func(j int) float64 {
		if p.n == 1 {
			return all.first
		}
		return all.first + (all.last-all.first)*float64(j-p.first)/float64(p.n-1)
	}
	tent := func(j int) float64 {
		x, y := (float64(min(j, k))+0.5)*s.Pitch-p.from, p.to-(float64(max(j, k))+0.5)*s.Pitch
		switch {
		case p.a.loose():
			return 2 * s.Rail * y
		case p.b.loose():
			return 2 * s.Rail * x
		}
		return 2 * s.Rail * x * y / (p.to - p.from)
	}
	last := p.first + p.n - 1
	rest = stretch{n: last - k, most: all.most}
	if rest.n > 0 {
		rest.first, rest.last = line(k+1)+tent(k+1), line(last)+tent(last)
	}
	own = stretch{n: k - p.first + 1, most: all.most, first: all.first + tent(p.first), last: line(k) + tent(k)}
	return own, rest
}

// weight returns the share of end b in pixel k.
func (p *group) weight(k int) float64 {
	if p.n == 1 {
		return p.wA
	}
	return p.wA + (p.wB-p.wA)*float64(k-p.first)/float64(p.n-1)
}

// each visits the stretches that have factors.
func (f *field) each(visit func(p *group, first int, s *stretch)) {
	for _, i := range f.active {
		p := &f.groups[i]
		visit(p, p.first, &p.stretch)
	}
	if f.parted != nil && f.rest.n > 0 {
		visit(f.parted, f.parted.first+f.parted.stretch.n, &f.rest)
	}
}

// fill returns the greatest sum of sign*factor times current.
func (f *field) fill(sign float64) float64 {
	f.set(sign)
	sum := 0.0
	for i := range f.knapsacks {
		sum += f.knapsacks[i].fill()
	}
	return sum
}

// set gets the knapsacks ready, with factors times sign.
func (f *field) set(sign float64) {
	for i := range f.knapsacks {
		f.knapsacks[i].falling = f.knapsacks[i].falling[:0]
	}
	f.each(func(p *group, _ int, s *stretch) { f.knapsacks[p.knapsack].add(s, sign) })
}

// greatest returns the greatest amount of a current that is idle with all pixels dark, and its sign.
func (f *field) greatest(idle float64) (amps, sign float64) {
	down := f.fill(-1) - idle
	if up := idle + f.fill(1); up >= down {
		return up, 1
	}
	return down, -1
}

// lit returns the strips with a pixel that the greatest sum of sign*factor lights.
func (f *field) lit(sign float64) []int {
	f.fill(sign)
	noise := f.noise()
	var strips []int
	f.each(func(p *group, _ int, s *stretch) {
		least := max(noise, f.knapsacks[p.knapsack].threshold*(1-1e-9))
		if !f.lamps[p.strip] && max(sign*s.first, sign*s.last) > least {
			f.lamps[p.strip] = true
			strips = append(strips, p.strip)
		}
	})
	for _, s := range strips {
		f.lamps[s] = false
	}
	slices.Sort(strips)
	return strips
}

// noise returns the factor up to which a factor counts as none.
func (f *field) noise() float64 {
	greatest := 0.0
	f.each(func(_ *group, _ int, s *stretch) {
		greatest = max(greatest, math.Abs(s.first), math.Abs(s.last))
	})
	return 1e-9 * greatest
}

// quick returns a sum that fill does not exceed.
func (f *field) quick(sign float64) float64 {
	f.set(sign)
	sum := 0.0
	for i := range f.knapsacks {
		p := &f.knapsacks[i]
		if p.amps == 0 || len(p.falling) == 0 {
			continue
		}
		if math.IsInf(p.threshold, 1) {
			return p.threshold
		}
		g, _ := p.above(p.threshold)
		sum += g
	}
	return sum
}
