package circuit

import (
	"math"
	"slices"
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

	spots []spot
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
	Powered  bool
	Amps     float64 // drawn by all pixels, A
	Watts    float64 // taken by all pixels, W
	MinVolts float64 // least between the rails at a pixel, V
	MinPixel int     // the first that gets it
	RailAmps float64 // greatest current in either rail, A
	RailAt   float64 // where it flows, m from the start

	volts, amps []float64 // of each pixel
	pitch       float64
	spans       []span
}

// span is a stretch of rail between two taps; beyond a loose end nothing flows, and both sides of the
// span are those of the tap.
type span struct {
	first, n   int     // pixels
	from, to   float64 // m
	uA, uB     float64 // plus over minus at both ends, V
	sumA, sumB float64 // plus and minus together, V
}

// Volts works out the voltage between the rails at each pixel, V.
func (s *StripSolution) Volts() []float64 { return slices.Clone(s.volts) }

// PixelAmps works out the current of each pixel, A.
func (s *StripSolution) PixelAmps() []float64 { return slices.Clone(s.amps) }

// PixelVolts returns the voltage between the rails at pixel k, V.
func (s *StripSolution) PixelVolts(k int) float64 { return s.volts[k] }

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
		x0, u0 = (float64(k)+0.5)*s.pitch, s.volts[k]
	}
	if k+1 < sp.first+sp.n {
		k = max(k+1, sp.first)
		x1, u1 = (float64(k)+0.5)*s.pitch, s.volts[k]
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

// solution reads all results from the unknowns of each island and the voltages of the pixels.
func (n *Network) solution(in stage, loads []load, u []float64, unknowns [][]float64) *Solution {
	c := n.c
	sol := &Solution{
		Volts:    make([]float64, c.Nodes),
		Powered:  make([]bool, c.Nodes),
		WireAmps: make([]float64, len(c.Wires)),
		SinkAmps: make([]float64, len(c.Sinks)),
		Strips:   make([]StripSolution, len(c.Strips)),
		spots:    n.spots[:c.Nodes],
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
	amps := make([]float64, n.pixels)
	for i := range c.Strips {
		s := &c.Strips[i]
		from, to := n.base[i], n.base[i]+s.Pixels
		st := &sol.Strips[i]
		*st = StripSolution{Powered: n.powered[i], volts: u[from:to:to], amps: amps[from:to:to], pitch: s.Pitch}
		if st.Powered {
			st.MinVolts = math.Inf(1)
			for k, v := range st.volts {
				amps, _ := loads[i].draw(in, 0, k, v)
				st.amps[k] = amps
				st.Amps += amps
				st.Watts += amps * v
				if v < st.MinVolts {
					st.MinVolts, st.MinPixel = v, k
				}
			}
		}
	}
	for i := range n.islands {
		is, x := &n.islands[i], unknowns[i]
		for _, b := range is.branches {
			amps := b.siemens * (x[b.a] - x[b.b] + b.rise)
			flow(b.aPoint, b.bPoint, amps)
			if b.wire >= 0 {
				sol.WireAmps[b.wire] = amps
			} else {
				sol.Strips[b.strip].peak(math.Abs(amps), b.at)
			}
		}
		for _, d := range is.drains {
			if d.strip < 0 {
				sol.SinkAmps[d.k], _ = n.sinks[d.k].draw(in, 0, d.k, x[d.plus]-x[d.minus]+d.rise)
				flow(d.plusPoint, d.minusPoint, sol.SinkAmps[d.k])
			} else {
				flow(d.plusPoint, d.minusPoint, sol.Strips[d.strip].amps[d.k])
			}
		}
		for j := range is.segments {
			g := &is.segments[j]
			st := &sol.Strips[g.strip]
			sp := span{
				first: g.first, n: g.n, from: g.from, to: g.to,
				uA: g.a.over(x), uB: g.b.over(x), sumA: g.a.total(x), sumB: g.b.total(x),
			}
			ja, jb := g.through*(sp.uA-sp.uB), g.through*(sp.uB-sp.uA)
			if g.n > 0 {
				ja, jb = g.ga*(sp.uA-st.volts[g.first]), g.gb*(sp.uB-st.volts[g.first+g.n-1])
			}
			both := g.through * (sp.sumA - sp.sumB)
			if !g.a.loose() {
				flow(g.a.plusPoint, g.a.minusPoint, ja)
				st.peak(max(math.Abs(both+ja), math.Abs(both-ja)), g.from)
			} else if sp.uA, sp.sumA = sp.uB, sp.sumB; g.n > 0 {
				sp.uA = st.volts[g.first]
			}
			if !g.b.loose() {
				flow(g.b.plusPoint, g.b.minusPoint, jb)
				st.peak(max(math.Abs(both-jb), math.Abs(both+jb)), g.to)
			} else if sp.uB, sp.sumB = sp.uA, sp.sumA; g.n > 0 {
				sp.uB = st.volts[g.first+g.n-1]
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
			sol.Volts[i] = unknowns[sp.island][sp.unknown] + sp.rise
		}
	}
	n.float(sol, unknowns)
	sol.SourceAmps = n.sources.amps(leaving)
	return sol
}

// peak keeps the greatest current of a rail. It flows next to a tap, as pixels only take away from it
// on the way.
func (s *StripSolution) peak(amps, at float64) {
	if amps > s.RailAmps {
		s.RailAmps, s.RailAt = amps, at
	}
}
