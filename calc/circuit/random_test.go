package circuit

import (
	"math"
	"math/rand/v2"
)

// Laws of the tests: three colours with a wide and a narrow headroom, and a series string.
var (
	lawRGB = &Law{Idle: 0.001, Channels: []Channel{
		{Amps: 0.012, Forward: 2.0, Headroom: 0.4},
		{Amps: 0.012, Forward: 3.0, Headroom: 0.5},
		{Amps: 0.012, Forward: 3.1, Headroom: 0.3},
	}}
	lawStep   = &Law{Idle: 0.0005, Channels: []Channel{{Amps: 0.02, Forward: 2.5, Headroom: 0}, {Amps: 0.02, Forward: 3.2, Headroom: 0.01}}}
	lawSeries = &Law{Idle: 0.0015, Series: true, Channels: []Channel{
		{Amps: 0.015, Forward: 2.0, Headroom: 0.7},
		{Amps: 0.015, Forward: 3.1, Headroom: 0.6},
		{Amps: 0.015, Forward: 3.2, Headroom: 0.8},
	}}
)

// randomCircuit draws an installation: one to three supplies with tied or separate returns, joints
// in rings and trees, runs fed at the start, both ends, in the middle, by one side only, ample
// or starved.
func randomCircuit(r *rand.Rand, pixels int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	type pair struct{ plus, minus int }
	ohms := func() float64 { return 0.002 + 0.2*r.Float64()*r.Float64() }
	wire := func(a, b int, ohms float64) { c.Wires = append(c.Wires, Wire{A: a, B: b, Ohms: ohms}) }
	lead := func(a, b pair) {
		o := ohms()
		wire(a.plus, b.plus, o)
		wire(a.minus, b.minus, o*(0.5+r.Float64()))
	}
	law := []*Law{lawRGB, lawRGB, lawStep, lawSeries}[r.IntN(4)]
	volts := 5.0
	if law == lawSeries {
		volts = 12
	}
	var places []pair
	supplies := 1 + r.IntN(3)
	for i := range supplies {
		p := pair{node(), node()}
		if i > 0 && r.IntN(4) == 0 {
			p.minus = places[0].minus
		}
		c.Sources = append(c.Sources, Source{p.plus, p.minus, volts * (0.96 + 0.06*r.Float64())})
		if i > 0 && p.minus != places[0].minus {
			wire(p.minus, places[r.IntN(i)].minus, ohms()) // common minus
		}
		places = append(places, p)
	}
	for range r.IntN(4) {
		p := pair{node(), node()}
		lead(places[r.IntN(len(places))], p)
		if r.IntN(2) == 0 {
			lead(places[r.IntN(len(places))], p) // a ring
		}
		places = append(places, p)
	}
	if r.IntN(2) == 0 {
		p := places[r.IntN(len(places))]
		c.Sinks = append(c.Sinks, Sink{Plus: p.plus, Minus: p.minus, Amps: 0.3 * r.Float64()})
	}
	for range 1 + r.IntN(4) {
		s := Strip{
			Pixels: 1 + r.IntN(pixels),
			Pitch:  []float64{1.0 / 30, 1.0 / 60, 0.05}[r.IntN(3)],
			Rail:   0.05 + 0.4*r.Float64(),
			Law:    law,
		}
		if r.IntN(3) == 0 {
			s.Rail *= 4 + 12*r.Float64() // far too thin: the far pixels starve
		}
		share := func() []float64 {
			x := make([]float64, len(law.Channels))
			for c := range x {
				if x[c] = r.Float64(); r.IntN(3) == 0 {
					x[c] = 1
				}
			}
			return x
		}
		switch r.IntN(3) {
		case 0:
			for range s.Pixels {
				s.Each = append(s.Each, share())
			}
		case 1:
			s.Share = share()
		default:
			s.Share = make([]float64, len(law.Channels))
			for c := range s.Share {
				s.Share[c] = 1
			}
		}
		var pads []float64
		at := func(pad float64) { pads = append(pads, pad*s.Pitch) }
		switch r.IntN(4) {
		case 0:
			at(0)
		case 1:
			at(0)
			at(float64(s.Pixels))
		case 2:
			at(float64(s.Pixels / 2))
		default: // anywhere, also right at a pixel
			pad := float64(r.IntN(2*s.Pixels)) / 2
			at(pad)
			if s.Pixels > 1 {
				at(pad + float64(r.IntN(int(2*(float64(s.Pixels)-pad))+1))/2)
			}
		}
		for i, p := range pads {
			if i > 0 && p == pads[i-1] {
				continue
			}
			t := Tap{At: p, Plus: node(), Minus: node()}
			from := places[r.IntN(len(places))]
			o := ohms()
			side := 0
			if i > 0 {
				side = r.IntN(3) // more feeds may carry one side only
			}
			if side != 2 {
				wire(from.plus, t.Plus, o)
			} else {
				t.Plus = -1
			}
			if side != 1 {
				wire(from.minus, t.Minus, o)
			} else {
				t.Minus = -1
			}
			s.Taps = append(s.Taps, t)
		}
		if last := s.Taps[len(s.Taps)-1]; last.Plus >= 0 && last.Minus >= 0 && r.IntN(3) == 0 {
			places = append(places, pair{last.Plus, last.Minus}) // the next run is fed through this one
		}
		c.Strips = append(c.Strips, s)
	}
	return c
}

// randomTopology joins anything to anything: loops of sources, floating parts, rails without a feed, both
// sides of a strip on one node.
func randomTopology(r *rand.Rand) *Circuit {
	c := &Circuit{Nodes: 2 + r.IntN(9)}
	node := func() int { return r.IntN(c.Nodes) }
	for range r.IntN(4) {
		c.Sources = append(c.Sources, Source{node(), node(), []float64{0, 5, 5, 5, 12}[r.IntN(5)]})
	}
	for range r.IntN(8) {
		c.Wires = append(c.Wires, Wire{A: node(), B: node(), Ohms: math.Pow(10, -4+5*r.Float64())})
	}
	for range r.IntN(3) {
		c.Sinks = append(c.Sinks, Sink{node(), node(), r.Float64(), 4 * r.Float64()})
	}
	for range r.IntN(4) {
		s := Strip{
			Pixels: 1 + r.IntN(8), Pitch: 0.02, Rail: math.Pow(10, -3+4*r.Float64()),
			Law: []*Law{lawRGB, lawStep, lawSeries}[r.IntN(3)],
		}
		if r.IntN(4) > 0 {
			for range s.Law.Channels {
				s.Share = append(s.Share, r.Float64())
			}
		}
		at := 0
		for range r.IntN(5) {
			at = min(at+r.IntN(5), 2*s.Pixels)
			t := Tap{At: float64(at) * s.Pitch / 2, Plus: node(), Minus: node()}
			switch r.IntN(5) {
			case 0:
				t.Plus = -1
			case 1:
				t.Minus = -1
			}
			s.Taps = append(s.Taps, t)
		}
		c.Strips = append(c.Strips, s)
	}
	return c
}
