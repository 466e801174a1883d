package circuit

import (
	"math"
	"slices"
)

// field holds transfer factors in one island: how much of a quantity each ampere of each pixel makes.
// Between two taps they lie on a straight line. Where a whole branch of the network has one
// factor it is kept as a whole; groups that are neither active nor in such a branch have none.
type field struct {
	*outline
	adjoint   adjoint
	groups    []group
	lots      [][]lot    // of each branch
	knapsacks []knapsack // of each budget, then that of the strips without one
	active    []int32    // groups
	marks     []bool     // of the active ones
	levels    []level    // branches as a whole
	rest      stretch    // what a kink cuts off the stretch of parted
	parted    *group     // its line has a kink at a pixel
	lamps     []bool     // working room of lit, by strip of the network
	ends      rows       // working room of rows

	ringedAt [][]int32 // of each node of the adjoint, nil without any; see warm.go
	ringed   *ringed
	most     []float64 // A of each wire of the network
	pushes   []pushed
}

// lot is what one knapsack may light in a branch, A.
type lot struct {
	knapsack int
	amps     float64
}

// level is a branch with one factor.
type level struct {
	top    int32
	factor float64
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

// reset makes it that of an island, in the memory of what it was before; budget is the knapsack of each strip.
func (f *field) reset(o *outline, knapsacks []knapsack, budget []int, lamps []bool) {
	f.outline, f.lamps = o, lamps
	f.adjoint.share(o.adjoint)
	f.groups = append(f.groups[:0], o.groups...)
	f.marks = sized(f.marks, len(o.groups))
	f.active, f.levels, f.pushes, f.parted, f.most = f.active[:0], f.levels[:0], nil, nil, nil
	for len(f.knapsacks) < len(knapsacks) {
		f.knapsacks = append(f.knapsacks, knapsack{})
	}
	f.knapsacks = f.knapsacks[:len(knapsacks)]
	for i := range knapsacks {
		f.knapsacks[i] = knapsack{amps: knapsacks[i].amps, falling: f.knapsacks[i].falling[:0]}
	}
	for i := range f.groups {
		f.groups[i].knapsack = budget[f.groups[i].strip]
	}
	f.ringedAt = nil
	if f.ringed = o.island.ringed(); f.ringed != nil {
		f.ringedAt = make([][]int32, o.unknowns)
		for i := range f.ringed.branches {
			b := &f.ringed.branches[i]
			if v := min(o.adjoint.number[b.a], o.adjoint.number[b.b]); int(v) < o.unknowns {
				f.ringedAt[v] = append(f.ringedAt[v], int32(i))
			}
		}
	}
	for len(f.lots) < o.unknowns {
		f.lots = append(f.lots, nil)
	}
	for v := range o.unknowns {
		f.lots[v] = f.lots[v][:0]
	}
	for v := range o.unknowns {
		if o.adjoint.tie[v] != apart {
			continue
		}
		for _, i := range o.here(int32(v)) {
			p := &f.groups[i]
			f.load(v, lot{p.knapsack, float64(p.n) * p.stretch.most})
		}
		if up := o.adjoint.above[v]; up >= 0 && o.adjoint.tie[up] == apart {
			for _, l := range f.lots[v] {
				f.load(int(up), l)
			}
		}
	}
}

// clear lets go of the network, and keeps the memory.
func (f *field) clear() {
	f.outline, f.most, f.pushes, f.parted, f.ringed, f.ringedAt = nil, nil, nil, nil, nil, nil
	a := &f.adjoint
	f.adjoint = adjoint{x: a.x, marks: a.marks, fed: a.fed, flat: a.flat}
}

func (f *field) load(v int, l lot) {
	for i := range f.lots[v] {
		if f.lots[v][i].knapsack == l.knapsack {
			f.lots[v][i].amps += l.amps
			return
		}
	}
	f.lots[v] = append(f.lots[v], l)
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
	f.levels = f.levels[:0]
	f.pushes = f.pushes[:0]
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

// across is the difference of the adjoint between plus and minus at an end.
func (f *field) across(column int, e *end) float64 {
	x, number := f.adjoint.x[column], f.adjoint.number
	return x[number[e.plus]] - x[number[e.minus]]
}

// spread gives each group its factors from the adjoint at its ends; rise as that of push.
func (f *field) spread(rise func(point int32) float64) {
	f.none()
	f.adjoint.solve(func(v int32) {
		f.push(v, rise)
		for _, i := range f.here(v) {
			p := &f.groups[i]
			s := f.activate(i)
			s.first, s.last = p.line(func(e *end) float64 { return f.across(0, e) })
		}
	}, func(top int32) {
		if factor := f.adjoint.across(top, 0); factor != 0 {
			f.levels = append(f.levels, level{top, factor})
		}
	})
}

// between sets the factors of the current through a conductance from a to b.
func (f *field) between(a, b int32, siemens float64) {
	f.adjoint.reset(1)
	f.adjoint.feed(0, a, -siemens)
	f.adjoint.feed(0, b, siemens)
	f.spread(nil)
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

// rows is the factors of a draw at each end of one group, for the first and the last pixel of all groups.
type rows struct {
	groups []int32
	at     [][2][2]float64 // by end
	levels []int32         // tops of branches
	level  [][2]float64
}

// rows finds those of a group, until the next call.
func (f *field) rows(p *group) *rows {
	r := &f.ends
	r.groups, r.at, r.levels, r.level = r.groups[:0], r.at[:0], r.levels[:0], r.level[:0]
	f.adjoint.reset(2)
	for column, e := range []*end{&p.a, &p.b} {
		if !e.loose() {
			f.adjoint.feed(column, e.plus, 1)
			f.adjoint.feed(column, e.minus, -1)
		}
	}
	f.adjoint.solve(func(v int32) {
		for _, i := range f.here(v) {
			var at [2][2]float64
			for column := range at {
				at[column][0], at[column][1] = f.groups[i].line(func(e *end) float64 { return f.across(column, e) })
			}
			r.groups = append(r.groups, i)
			r.at = append(r.at, at)
		}
	}, func(top int32) {
		if at := [2]float64{f.adjoint.across(top, 0), f.adjoint.across(top, 1)}; at != [2]float64{} {
			r.levels = append(r.levels, top)
			r.level = append(r.level, at)
		}
	})
	return r
}

// pixel sets the factors of the voltage lost by pixel k of group i: those of its ends by their
// shares, and within the group a tent over the pixel besides.
func (f *field) pixel(i int32, k int, s *Strip, r *rows) {
	p := &f.groups[i]
	f.mix(r, p.weight(k))
	if p.to == p.from {
		return
	}
	own := f.activate(i)
	*own, f.rest = p.part(k, s, *own)
	f.parted = p
}

// mix sets the factors of a draw by its share w at end b, and the rest at end a.
func (f *field) mix(r *rows, w float64) {
	f.none()
	for j, i := range r.groups {
		s, at := f.activate(i), &r.at[j]
		s.first = (1-w)*at[0][0] + w*at[1][0]
		s.last = (1-w)*at[0][1] + w*at[1][1]
	}
	for j, top := range r.levels {
		f.levels = append(f.levels, level{top, (1-w)*r.level[j][0] + w*r.level[j][1]})
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

// each visits the stretches of groups that have factors.
func (f *field) each(visit func(p *group, first int, s *stretch)) {
	for _, i := range f.active {
		p := &f.groups[i]
		visit(p, p.first, &p.stretch)
	}
	if f.parted != nil && f.rest.n > 0 {
		visit(f.parted, f.parted.first+f.parted.stretch.n, &f.rest)
	}
}

// eachLot visits those of branches.
func (f *field) eachLot(visit func(knapsack int, s *stretch)) {
	for _, l := range f.levels {
		for _, lot := range f.lots[l.top] {
			visit(lot.knapsack, &stretch{l.factor, l.factor, 1, lot.amps})
		}
	}
}

// expand turns branches into groups.
func (f *field) expand() {
	for _, l := range f.levels {
		for _, i := range f.byNode[f.from[f.adjoint.first[l.top]]:f.from[l.top+1]] {
			s := f.activate(i)
			s.first, s.last = l.factor, l.factor
		}
	}
	f.levels = f.levels[:0]
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
	f.eachLot(func(k int, s *stretch) { f.knapsacks[k].add(s, sign) })
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
	least := func(k int) float64 { return max(noise, f.knapsacks[k].threshold*(1-1e-9)) }
	whole := false
	f.eachLot(func(k int, s *stretch) { whole = whole || sign*s.first > least(k) })
	if whole {
		f.expand()
	}
	var strips []int
	f.each(func(p *group, _ int, s *stretch) {
		if !f.lamps[p.strip] && max(sign*s.first, sign*s.last) > least(p.knapsack) {
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
	f.eachLot(func(_ int, s *stretch) { greatest = max(greatest, math.Abs(s.first)) })
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
