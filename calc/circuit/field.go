package circuit

import (
	"math"
	"sort"
)

// field holds transfer factors in one island: how much of a quantity each ampere of each pixel makes.
// Between two taps they lie on a straight line.
type field struct {
	*island
	mesh      *factored // the rails and the wires alone
	x         []float64
	groups    []group
	groupOf   []int32    // of each segment, -1 for none
	knapsacks []knapsack // of each budget, then that of the strips without one
	lamps     []bool     // working room of lit, by strip of the network
	rows      [2]row     // the last two, as neighbouring groups share a tap
	parted    *group     // its line has a kink at a pixel: the rest is in the spare stretch of its knapsack
}

// group is the pixels of a strip between two taps, or the pixel right at a tap.
type group struct {
	strip, first, n int
	a, b            end
	wA, wB          float64 // share of end b in the first and in the last pixel; the rest is that of end a
	from, to        float64 // m
	idle            profile // with all pixels dark
	knapsack, at    int     // where its stretch is
}

// spread gives each group its factors from those of its ends.
func (f *field) spread(at func(*end) float64) {
	f.whole()
	for i := range f.groups {
		p := &f.groups[i]
		s := f.stretch(p)
		s.first, s.last = p.line(at)
	}
}

// between sets the factors of the current through a conductance from a to b.
func (f *field) between(a, b int32, siemens float64) {
	clear(f.x)
	f.x[a] -= siemens
	f.x[b] += siemens
	f.mesh.solve(f.x)
	f.spread(func(e *end) float64 { return f.x[e.plus] - f.x[e.minus] })
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

func (f *field) stretch(p *group) *stretch { return &f.knapsacks[p.knapsack].stretches[p.at] }

// spare returns the stretch that takes what a kink cuts off a group.
func (f *field) spare(p *group) *stretch {
	all := f.knapsacks[p.knapsack].stretches
	return &all[len(all)-1]
}

// whole undoes the kink of a pixel.
func (f *field) whole() {
	if f.parted != nil {
		f.stretch(f.parted).n = f.parted.n
		f.spare(f.parted).n = 0
		f.parted = nil
	}
}

// row is the factors of a draw at an end of a group, for the first and the last pixel of all groups.
type row struct {
	end end
	at  [][2]float64
}

func (f *field) row(e *end) [][2]float64 {
	for i := range f.rows {
		if r := &f.rows[i]; r.at != nil && r.end == *e {
			f.rows[0], f.rows[1] = f.rows[i], f.rows[1-i]
			return f.rows[0].at
		}
	}
	r := f.rows[1].at // the one that was not asked for last
	if r == nil {
		r = make([][2]float64, len(f.groups))
	}
	f.rows[0], f.rows[1] = row{*e, r}, f.rows[0]
	if e.loose() {
		clear(r)
		return r
	}
	clear(f.x)
	f.x[e.plus]++
	f.x[e.minus]--
	f.mesh.solve(f.x)
	for i := range f.groups {
		p := &f.groups[i]
		r[i][0], r[i][1] = p.line(func(e *end) float64 { return f.x[e.plus] - f.x[e.minus] })
	}
	return r
}

// pixel sets the factors of the voltage lost by pixel k of a group: those of its ends by their
// shares, and within the group a tent over the pixel besides.
func (f *field) pixel(p *group, k int, s *Strip, a, b [][2]float64) {
	f.whole()
	w := p.weight(k)
	for i := range f.groups {
		st := f.stretch(&f.groups[i])
		st.first = a[i][0] + w*(b[i][0]-a[i][0])
		st.last = a[i][1] + w*(b[i][1]-a[i][1])
	}
	if p.to == p.from {
		return
	}
	f.parted = p
	*f.stretch(p), *f.spare(p) = p.part(k, s, *f.stretch(p))
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

// fill returns the greatest sum of sign*factor times current.
func (f *field) fill(sign float64) float64 {
	sum := 0.0
	for i := range f.knapsacks {
		f.knapsacks[i].set(sign)
		sum += f.knapsacks[i].fill()
	}
	return sum
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
	for i := range f.groups {
		p := &f.groups[i]
		if f.lamps[p.strip] {
			continue
		}
		least := max(noise, f.knapsacks[p.knapsack].threshold*(1-1e-9))
		most := func(s *stretch) float64 { return max(sign*s.first, sign*s.last) }
		if most(f.stretch(p)) > least || p == f.parted && f.spare(p).n > 0 && most(f.spare(p)) > least {
			f.lamps[p.strip] = true
			strips = append(strips, p.strip)
		}
	}
	for _, s := range strips {
		f.lamps[s] = false
	}
	sort.Ints(strips)
	return strips
}

// noise returns the factor up to which a factor counts as none.
func (f *field) noise() float64 {
	greatest := 0.0
	for i := range f.groups {
		s := f.stretch(&f.groups[i])
		greatest = max(greatest, math.Abs(s.first), math.Abs(s.last))
	}
	return 1e-9 * greatest
}

// quick returns a sum that fill does not exceed.
func (f *field) quick(sign float64) float64 {
	sum := 0.0
	for i := range f.knapsacks {
		p := &f.knapsacks[i]
		if p.set(sign); p.amps == 0 || len(p.falling) == 0 {
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
