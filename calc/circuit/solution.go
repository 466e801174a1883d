package circuit

import (
	"math"
	"sort"
)

// Solution holds what Solve found. Potentials are relative to the minus of the
// first source of each island (a part of the network that shares currents).
//
// A node that no source can drive a current through is not powered. It takes the
// potential of what its pixels hang from, so that nothing across them reads as a
// voltage, and 0 where there is nothing.
type Solution struct {
	Volts      []float64 // potential of each node, V
	Powered    []bool    // for each node
	SourceAmps []float64 // delivered, positive out of Plus; negative is back-fed
	WireAmps   []float64 // from A to B
	SinkAmps   []float64
	Strips     []StripSolution
	Iterations int // most that an island took

	spots  []spot
	states []state // of each island, for the next one to start from
}

// Between returns how far node a lies above node b, V. It is false unless both
// have power and share currents: between two islands that nothing joins there is
// no voltage to speak of, as either may float to anywhere.
func (s *Solution) Between(a, b int) (volts float64, ok bool) {
	if s.spots[a].island < 0 || s.spots[a].island != s.spots[b].island {
		return 0, false
	}
	return s.Volts[a] - s.Volts[b], true
}

// StripSolution is the part of a Solution that belongs to one strip. In a strip that is
// not powered all voltages and pixel currents are 0; a rail may still pass current from tap to tap.
type StripSolution struct {
	Powered   bool
	Amps      float64 // drawn by all pixels, A
	Watts     float64 // taken by all pixels, W
	MinVolts  float64 // least between the rails at a pixel, V
	MinPixel  int     // the first that gets it
	RailAmps  float64 // greatest current in either rail, A
	RailAt    float64 // where it flows, m from the start
	RailWatts float64 // lost in both rails, W

	pixels int
	pitch  float64
	load   *load
	spans  []span
}

// span is a segment as it was solved; beyond a loose end nothing flows, and both sides of the
// span are those of the tap.
type span struct {
	first, n   int     // pixels
	from, to   float64 // m
	uA, uB     float64 // plus over minus at both ends, V
	sumA, sumB float64 // plus and minus together, V
	profile    profile
	u          []float64 // V, of the pixels where they do not follow the profile
}

// at returns the voltage at pixel first+j, V.
func (sp *span) at(j int) float64 {
	if sp.u != nil {
		return sp.u[j]
	}
	return sp.profile.at(j)
}

// Volts works out the voltage between the rails at each pixel, V.
func (s *StripSolution) Volts() []float64 {
	out := make([]float64, s.pixels)
	for i := range s.spans {
		sp := &s.spans[i]
		for j := range sp.n {
			out[sp.first+j] = sp.at(j)
		}
		if k := sp.first + sp.n; k < len(out) {
			out[k] = sp.uB // right at the tap, unless the next span holds it
		}
	}
	return out
}

// PixelAmps works out the current of each pixel, A.
func (s *StripSolution) PixelAmps() []float64 {
	out := make([]float64, s.pixels)
	if s.Powered {
		for k, v := range s.Volts() {
			out[k], _ = s.load.at(k, v)
		}
	}
	return out
}

// PixelVolts returns the voltage between the rails at pixel k, V.
func (s *StripSolution) PixelVolts(k int) float64 {
	if len(s.spans) == 0 {
		return 0
	}
	i := sort.Search(len(s.spans)-1, func(i int) bool { return k < s.spans[i+1].first })
	sp := &s.spans[i]
	if k >= sp.first+sp.n {
		return sp.uB
	}
	return sp.at(k - sp.first)
}

// PadVolts returns the voltage between plus and minus at a distance from the start, m.
// Distances outside the strip count as its ends.
func (s *StripSolution) PadVolts(at float64) float64 {
	plus, minus := s.Pad(at)
	return plus - minus
}

// Pad returns the potentials of both rails at a distance from the start, m.
func (s *StripSolution) Pad(at float64) (plus, minus float64) {
	if len(s.spans) == 0 {
		return 0, 0
	}
	i := sort.Search(len(s.spans)-1, func(i int) bool { return at <= s.spans[i].to })
	sp := &s.spans[i]
	at = min(max(at, sp.from), sp.to)
	// The points beside at whose voltage is known: a pixel, or an end of the span.
	x0, u0, x1, u1 := sp.from, sp.uA, sp.to, sp.uB
	k := int(math.Floor(at/s.pitch - 0.5)) // the pixel before at
	if k >= sp.first && sp.n > 0 {
		k = min(k, sp.first+sp.n-1)
		x0, u0 = (float64(k)+0.5)*s.pitch, sp.at(k-sp.first)
	}
	if k+1 < sp.first+sp.n {
		k = max(k+1, sp.first)
		x1, u1 = (float64(k)+0.5)*s.pitch, sp.at(k-sp.first)
	}
	u := between(x0, x1, u0, u1, at)
	sum := between(sp.from, sp.to, sp.sumA, sp.sumB, at)
	return (sum + u) / 2, (sum - u) / 2
}

// between is the value at x on the line through (x0, y0) and (x1, y1).
func between(x0, x1, y0, y1, x float64) float64 {
	if !(x1 > x0) {
		return y0
	}
	return y0 + (y1-y0)*(x-x0)/(x1-x0)
}

// solution reads all results from where each island came to stand.
func (n *Network) solution(loads []load, states []state) *Solution {
	c := n.c
	sol := &Solution{
		Volts:    make([]float64, c.Nodes),
		Powered:  make([]bool, c.Nodes),
		WireAmps: make([]float64, len(c.Wires)),
		SinkAmps: make([]float64, len(c.Sinks)),
		Strips:   make([]StripSolution, len(c.Strips)),
		spots:    n.spots[:c.Nodes],
		states:   states,
	}
	leaving := make([]float64, n.sources.shape.n+1)
	flow := func(from, to int32, amps float64) { // between points
		if t := n.sources.terminal[from]; t >= 0 {
			leaving[t] += amps
		}
		if t := n.sources.terminal[to]; t >= 0 {
			leaving[t] -= amps
		}
	}
	for i := range c.Strips {
		s, st := &c.Strips[i], &sol.Strips[i]
		*st = StripSolution{Powered: n.powered[i], pixels: s.Pixels, pitch: s.Pitch, load: &loads[i]}
		if st.Powered {
			st.MinVolts = math.Inf(1)
		}
	}
	for i := range n.islands {
		is, x := &n.islands[i], states[i].x
		for _, b := range is.branches {
			amps, _ := b.flow(x[b.a] - x[b.b] + b.rise)
			flow(b.aPoint, b.bPoint, amps)
			if b.wire >= 0 {
				sol.WireAmps[b.wire] = amps
			} else {
				sol.Strips[b.strip].peak(math.Abs(amps), b.at)
				sol.Strips[b.strip].RailWatts += amps * (x[b.a] - x[b.b] + b.rise)
			}
		}
		for _, d := range is.drains {
			v := x[d.plus] - x[d.minus] + d.rise
			amps, _ := n.drained(&d, loads).at(d.k, v)
			flow(d.plusPoint, d.minusPoint, amps)
			if d.strip < 0 {
				sol.SinkAmps[d.k] = amps
			} else {
				sol.Strips[d.strip].add(d.k, v, amps)
			}
		}
		for j := range is.segments {
			g := &is.segments[j]
			var u []float64
			if states[i].u != nil {
				u = states[i].u[j]
			}
			sp := g.span(&loads[g.strip], x, u)
			st := &sol.Strips[g.strip]
			before := st.Watts
			st.addSpan(&sp)
			both := g.through * (g.a.total(x) - g.b.total(x))
			// What enters at both ends, and from one to the other, less what the pixels take.
			lost := sp.uA*sp.profile.ja + sp.uB*sp.profile.jb + both*(g.a.total(x)-g.b.total(x)) - (st.Watts - before)
			st.RailWatts += math.Max(lost, 0) // but for rounding it is never less
			if !g.a.loose() {
				flow(g.a.plusPoint, g.a.minusPoint, sp.profile.ja)
				st.peak(math.Abs(both)+math.Abs(sp.profile.ja), g.from)
			}
			if !g.b.loose() {
				flow(g.b.plusPoint, g.b.minusPoint, sp.profile.jb)
				st.peak(math.Abs(both)+math.Abs(sp.profile.jb), g.to)
			}
			if g.through > 0 {
				flow(g.a.plusPoint, g.b.plusPoint, both)
				flow(g.a.minusPoint, g.b.minusPoint, both)
			}
			st.spans = append(st.spans, sp)
		}
	}
	for i := range c.Nodes {
		sp := &n.spots[i]
		if sp.island >= 0 {
			sol.Powered[i] = true
			sol.Volts[i] = states[sp.island].x[sp.unknown] + sp.rise
		}
	}
	n.float(sol)
	sol.SourceAmps = n.sources.amps(leaving)
	return sol
}

// span returns how a segment stands with the potentials x and, where some pixel lacks current, the
// voltages u.
func (g *segment) span(ld *load, x, u []float64) span {
	sp := span{
		first: g.first, n: g.n, from: g.from, to: g.to, u: u,
		uA: g.a.over(x), uB: g.b.over(x), sumA: g.a.total(x), sumB: g.b.total(x),
	}
	sp.profile = g.profile(ld.total, sp.uA, sp.uB)
	if u == nil && ld.each != nil && g.n > 0 {
		sp.u = make([]float64, g.n)
		g.walk(ld, sp.uA, sp.uB, sp.u)
	}
	if sp.u != nil {
		sp.profile.ja, sp.profile.jb = g.ga*(sp.uA-sp.u[0]), g.gb*(sp.uB-sp.u[g.n-1])
	}
	if g.a.loose() {
		if sp.uA, sp.sumA = sp.uB, sp.sumB; g.n > 0 {
			sp.uA = sp.at(0)
		}
	}
	if g.b.loose() {
		if sp.uB, sp.sumB = sp.uA, sp.sumA; g.n > 0 {
			sp.uB = sp.at(g.n - 1)
		}
	}
	return sp
}

// addSpan adds what the pixels of a span draw.
func (s *StripSolution) addSpan(sp *span) {
	switch {
	case sp.u != nil:
		for j, v := range sp.u {
			amps, _ := s.load.at(sp.first+j, v)
			s.add(sp.first+j, v, amps)
		}
	case sp.n > 0:
		p := &sp.profile
		j := p.lowest()
		s.least(sp.first+j, p.at(j))
		s.Amps += p.amps * float64(sp.n)
		s.Watts += p.amps * p.sum()
	}
}

// add adds what a pixel draws.
func (s *StripSolution) add(k int, volts, amps float64) {
	s.least(k, volts)
	s.Amps += amps
	s.Watts += amps * volts
}

// least keeps the least voltage, of equal ones that of the first pixel.
func (s *StripSolution) least(k int, volts float64) {
	const same = 1e-12 // V
	if volts < s.MinVolts-same || volts < s.MinVolts+same && k < s.MinPixel {
		s.MinVolts, s.MinPixel = volts, k
	}
}

// peak keeps the greatest current of a rail. It flows next to a tap, as pixels only take away from it
// on the way.
func (s *StripSolution) peak(amps, at float64) {
	if amps > s.RailAmps {
		s.RailAmps, s.RailAt = amps, at
	}
}
