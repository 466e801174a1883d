package circuit

import (
	"fmt"
	"math"
	"sort"
	"testing"
)

// expanded is a circuit written out element by element: every rail point is a node. It
// is made without the solver, for checks and for netlists.
type expanded struct {
	nodes   int // those of the circuit first
	wires   []Wire
	pixels  []pixel
	circuit *Circuit
	at      []place  // of each node beyond those of the circuit
	tied    [][2]int // nodes that taps bring to one place
}

type place struct {
	strip int
	at    float64
	minus bool
}

type pixel struct {
	strip, k    int
	plus, minus int
}

// expand writes out c. Of a strip that has no power by sol only the rails from tap to tap count.
func expand(c *Circuit, sol *Solution) *expanded {
	e := &expanded{nodes: c.Nodes, circuit: c}
	e.wires = append(e.wires, c.Wires...)
	for i := range c.Strips {
		s := &c.Strips[i]
		if sol != nil && !sol.Strips[i].Powered {
			e.rails(s)
			continue
		}
		type point struct {
			at          float64
			plus, minus int
			pixel       int
		}
		var ps []point
		for _, t := range s.Taps { // before a pixel at the same place
			ps = append(ps, point{t.At, t.Plus, t.Minus, -1})
		}
		for k := range s.Pixels {
			at := (float64(k) + 0.5) * s.Pitch
			for _, t := range s.Taps {
				if math.Abs(t.At-at) < 1e-9 {
					at = t.At
				}
			}
			ps = append(ps, point{at, -1, -1, k})
		}
		sort.SliceStable(ps, func(a, b int) bool { return ps[a].at < ps[b].at })
		fresh := func(at float64, minus bool) int {
			e.nodes++
			e.at = append(e.at, place{i, at, minus})
			return e.nodes - 1
		}
		lastPlus, lastMinus, last := -1, -1, 0.0
		for _, p := range ps {
			same := lastPlus >= 0 && p.at == last
			if p.plus < 0 {
				if same {
					p.plus = lastPlus
				} else {
					p.plus = fresh(p.at, false)
				}
			}
			if p.minus < 0 {
				if same {
					p.minus = lastMinus
				} else {
					p.minus = fresh(p.at, true)
				}
			}
			if lastPlus >= 0 {
				for _, w := range []Wire{{A: lastPlus, B: p.plus, Ohms: s.Rail * (p.at - last)}, {A: lastMinus, B: p.minus, Ohms: s.Rail * (p.at - last)}} {
					switch {
					case w.A == w.B:
					case same:
						e.tied = append(e.tied, [2]int{w.A, w.B})
					default:
						e.wires = append(e.wires, w)
					}
				}
			}
			if p.pixel >= 0 {
				e.pixels = append(e.pixels, pixel{i, p.pixel, p.plus, p.minus})
			}
			lastPlus, lastMinus, last = p.plus, p.minus, p.at
		}
	}
	return e
}

func (e *expanded) rails(s *Strip) {
	for _, side := range []func(Tap) int{func(t Tap) int { return t.Plus }, func(t Tap) int { return t.Minus }} {
		last := Tap{Plus: -1, Minus: -1}
		for _, t := range s.Taps {
			if side(t) < 0 {
				continue
			}
			if n := side(last); n >= 0 && t.At == last.At {
				e.tied = append(e.tied, [2]int{n, side(t)})
			} else if n >= 0 {
				e.wires = append(e.wires, Wire{A: n, B: side(t), Ohms: s.Rail * (t.At - last.At)})
			}
			last = t
		}
	}
}

func shareOf(s *Strip, k int) []float64 {
	if s.Each != nil {
		return s.Each[k]
	}
	return s.Share
}

// potential returns the potential of any node by sol.
func (e *expanded) potential(sol *Solution, n int) float64 {
	if n < e.circuit.Nodes {
		return sol.Volts[n]
	}
	p := e.at[n-e.circuit.Nodes]
	plus, minus := sol.Strips[p.strip].Pad(p.at)
	if p.minus {
		return minus
	}
	return plus
}

// imbalance returns the greatest sum of currents over all nodes of the circuit written out, A.
// Potentials are those of the solution; all currents are worked out here.
func (e *expanded) imbalance(sol *Solution) (worst float64, where string) {
	potential := func(n int) float64 { return e.potential(sol, n) }
	sum := make([]float64, e.nodes)
	scale := make([]float64, e.nodes) // conductance, as potentials are rounded
	for _, w := range e.wires {
		i := (potential(w.A) - potential(w.B)) / w.Ohms
		sum[w.A] += i
		sum[w.B] -= i
		scale[w.A] += 1 / w.Ohms
		scale[w.B] += 1 / w.Ohms
	}
	flow := func(plus, minus int, amps float64) {
		sum[plus] += amps
		sum[minus] -= amps
	}
	for _, p := range e.pixels {
		s := &e.circuit.Strips[p.strip]
		v := potential(p.plus) - potential(p.minus)
		flow(p.plus, p.minus, s.Law.Current(v, shareOf(s, p.k)))
		scale[p.plus] += s.Law.Slope(v, shareOf(s, p.k))
		scale[p.minus] += s.Law.Slope(v, shareOf(s, p.k))
	}
	for i, s := range e.circuit.Sinks {
		flow(s.Plus, s.Minus, sol.SinkAmps[i])
	}
	for i, s := range e.circuit.Sources {
		flow(s.Plus, s.Minus, -sol.SourceAmps[i])
	}
	ties := newForest(e.nodes)
	for _, t := range e.tied {
		ties.join(int32(t[0]), int32(t[1]), 0)
	}
	for n := range sum { // a tie carries what it must
		if root := ties.rootOf(int32(n)); int(root) != n {
			sum[root] += sum[n]
			scale[root] += scale[n]
			sum[n] = 0
		}
	}
	for n := range sum {
		if n < e.circuit.Nodes && !sol.Powered[n] {
			continue
		}
		if math.IsNaN(sum[n]) {
			return sum[n], fmt.Sprintf("node %d", n)
		}
		if x := math.Abs(sum[n]) / (1 + scale[n]*1e-4); x > worst {
			worst, where = x, fmt.Sprintf("node %d: %.3g A", n, sum[n])
		}
	}
	return worst, where
}

func checkBalance(t *testing.T, c *Circuit, sol *Solution) {
	t.Helper()
	if worst, where := expand(c, sol).imbalance(sol); !(worst < 1e-9) {
		t.Errorf("currents do not balance: %s", where)
	}
	var in, out float64
	for i, s := range c.Sources {
		in += s.Volts * sol.SourceAmps[i]
	}
	for i, w := range c.Wires {
		out += sol.WireAmps[i] * sol.WireAmps[i] * w.Ohms
	}
	for i, s := range c.Sinks {
		out += sol.SinkAmps[i] * (sol.Volts[s.Plus] - sol.Volts[s.Minus])
	}
	e := expand(c, sol)
	potential := func(n int) float64 { return e.potential(sol, n) }
	for _, w := range e.wires[len(c.Wires):] {
		v := potential(w.A) - potential(w.B)
		out += v * v / w.Ohms
	}
	for i := range sol.Strips {
		for k, v := range sol.Strips[i].Volts() {
			out += v * sol.Strips[i].PixelAmps()[k]
		}
	}
	if math.Abs(in-out) > 1e-8*(1+math.Abs(in)) {
		t.Errorf("sources give %.12g W, the rest takes %.12g W", in, out)
	}
}
