package circuit

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// bounder is a network whose pixels are current sinks.
type bounder struct {
	*Network
	budgets []Budget
	fields  []field     // of each island
	idle    *Solution   // all pixels dark
	index   [][]int32   // of each powered strip: its patches in the field of its island
	home    []int32     // of each powered strip: its island
	caps    []float64   // of each strip: full current of a pixel less its idle current, A
	dark    []load      // of each strip
	x       [][]float64 // of each island: its potentials with all pixels dark, V
}

func newBounder(n *Network, budgets []Budget) (*bounder, error) {
	if err := checkBudgets(n.c, budgets); err != nil {
		return nil, err
	}
	d := &bounder{
		Network: n, budgets: budgets,
		fields: make([]field, len(n.islands)),
		index:  make([][]int32, len(n.c.Strips)),
		home:   make([]int32, len(n.c.Strips)),
	}
	dark := slices.Clone(n.loads)
	d.dark = dark
	for i := range n.c.Strips {
		law := n.c.Strips[i].Law
		dark[i] = newLoad(law, StripDrive{})
		d.caps = append(d.caps, law.span())
	}
	for i := range dark {
		dark[i].top = math.Inf(-1) // whatever the voltage
	}
	states := make([]state, len(n.islands))
	d.x = make([][]float64, len(n.islands))
	for i := range n.islands {
		is := &n.islands[i]
		if len(is.anchors) > 0 {
			return nil, &UnboundedError{n.bridge(int32(i))}
		}
		states[i].x = n.full(is, dark)
		d.x[i] = states[i].x
		d.fields[i] = field{island: is, mesh: is.copper(), x: make([]float64, is.unknowns+1), patchOf: make([]int32, len(is.segments))}
		d.lay(int32(i))
	}
	d.idle = n.solution(dark, states)
	return d, nil
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

// lay makes the patches and the purses of an island.
func (d *bounder) lay(island int32) {
	f := &d.fields[island]
	budget := make([]int, len(d.c.Strips))
	for i := range budget {
		budget[i] = len(d.budgets)
	}
	for i, b := range d.budgets {
		f.purses = append(f.purses, purse{amps: b.Amps})
		for _, s := range b.Strips {
			budget[s] = i
		}
	}
	f.purses = append(f.purses, purse{amps: math.Inf(1)})
	add := func(p patch) {
		p.purse = budget[p.strip]
		pu := &f.purses[p.purse]
		p.at = len(pu.stretches)
		pu.stretches = append(pu.stretches, stretch{n: p.n, most: d.caps[p.strip]})
		d.index[p.strip] = append(d.index[p.strip], int32(len(f.patches)))
		d.home[p.strip] = island
		f.patches = append(f.patches, p)
	}
	for i := range f.segments {
		g := &f.segments[i]
		if f.patchOf[i] = -1; g.n == 0 {
			continue
		}
		f.patchOf[i] = int32(len(f.patches))
		p := patch{strip: g.strip, first: g.first, n: g.n, a: g.a, b: g.b, from: g.from, to: g.to, wA: g.wA, wB: g.wB}
		add(p)
	}
	for i := range f.drains {
		dr := &f.drains[i]
		if dr.strip >= 0 {
			e := end{plus: dr.plus, minus: dr.minus, plusPoint: dr.plusPoint, minusPoint: dr.minusPoint}
			add(patch{strip: dr.strip, first: dr.k, n: 1, a: e, b: e})
		}
	}
	for i := range f.purses {
		pu := &f.purses[i]
		pu.stretches = append(pu.stretches, stretch{}) // the spare one
	}
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
	clear(f.x)
	flow := func(from, to int32, amps float64) {
		f.x[from] -= amps
		f.x[to] += amps
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
	f.mesh.solve(f.x)
	f.spread(func(e *end) float64 {
		return f.x[e.plus] - f.x[e.minus] + rise(e.plusPoint) - rise(e.minusPoint)
	})
	return f
}

// pixel returns the field of the voltage that a pixel loses.
func (d *bounder) pixel(strip, k int) *field {
	f := &d.fields[d.home[strip]]
	for _, i := range d.index[strip] {
		if p := &f.patches[i]; k >= p.first && k < p.first+p.n {
			f.pixel(p, k, &d.c.Strips[strip], f.row(&p.a), f.row(&p.b))
			break
		}
	}
	return f
}

// least returns the bound of the voltage on a strip.
func (d *bounder) least(strip int) StripBound {
	if !d.powered[strip] {
		return StripBound{}
	}
	f := &d.fields[d.home[strip]]
	b := StripBound{Powered: true, MinVolts: math.Inf(1)}
	for _, i := range d.index[strip] {
		d.leastOf(&f.patches[i], &b)
	}
	return b
}

// leastOf lowers b to the bound of the voltage on a patch. Towards a loose end voltages fall and
// factors grow, so that the last pixel is the worst. Between two taps the pixels are tried in the
// order of a cheap bound, see outlook, until it rules out the rest.
func (d *bounder) leastOf(p *patch, b *StripBound) {
	f := &d.fields[d.home[p.strip]]
	idle := d.idle.Strips[p.strip].Volts()
	rowA, rowB := f.row(&p.a), f.row(&p.b)
	lower := false
	try := func(k int) {
		f.pixel(p, k, &d.c.Strips[p.strip], rowA, rowB)
		if v := idle[k] - f.fill(1); v < b.MinVolts-1e-9 || v < b.MinVolts+1e-9 && k < b.MinPixel {
			b.MinVolts, b.MinPixel, lower = v, k, true
		}
	}
	switch {
	case p.a.loose():
		try(p.first)
	case p.b.loose() || p.n == 1:
		try(p.first + p.n - 1)
	default:
		tried := make([]bool, p.n)
		for k := p.first + p.n/2; k >= 0; {
			try(k)
			tried[k-p.first] = true
			o := f.look(p, &d.c.Strips[p.strip], rowA, rowB)
			k = -1
			least := b.MinVolts + 1e-9
			for j := range tried {
				if v := idle[p.first+j] - o.loss(p.first+j); !tried[j] && v <= least {
					k, least = p.first+j, v
				}
			}
		}
	}
	if lower {
		f.pixel(p, b.MinPixel, &d.c.Strips[p.strip], rowA, rowB)
		b.Lit = f.lit(1)
	}
}

// pattern returns the pattern behind the greatest sum of sign*factor.
func (d *bounder) pattern(f *field, sign float64) Drive {
	type pixel struct {
		strip, k int
		factor   float64
	}
	byPurse := make([][]pixel, len(f.purses))
	noise := f.noise()
	add := func(p *patch, first int, s *stretch) {
		for j := range s.n {
			factor := s.first
			if s.n > 1 {
				factor += (s.last - s.first) * float64(j) / float64(s.n-1)
			}
			if factor *= sign; factor > noise {
				byPurse[p.purse] = append(byPurse[p.purse], pixel{p.strip, first + j, factor})
			}
		}
	}
	for i := range f.patches {
		p := &f.patches[i]
		s := f.stretch(p)
		add(p, p.first, s)
		if p == f.parted {
			add(p, p.first+s.n, f.spare(p))
		}
	}
	drive := make(Drive, len(d.c.Strips))
	for i, pixels := range byPurse {
		left := f.purses[i].amps
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
