package circuit

import (
	"fmt"
	"testing"
)

// trunk is one long run of pixels along a trunk of leads, with a joint, a feed and a supply's
// share of current each 100 pixels: every tenth feed has a supply of its own, all with a common minus.
func trunk(pixels int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	s := Strip{Pixels: pixels, Pitch: 1.0 / 60, Rail: 0.16, Law: lawRGB, Share: []float64{1, 0.7, 0.4}}
	lastPlus, lastMinus := -1, -1
	for at := 0; at <= pixels; at += 100 {
		plus, minus := node(), node()
		if lastPlus >= 0 {
			c.Wires = append(c.Wires, Wire{lastPlus, plus, 0.022}, Wire{lastMinus, minus, 0.022})
		}
		if at%1000 == 0 {
			p, m := node(), node()
			c.Sources = append(c.Sources, Source{p, m, 5 + 0.01*float64(at/1000%3)})
			c.Wires = append(c.Wires, Wire{p, plus, 0.008}, Wire{m, minus, 0.008})
		}
		tp, tm := node(), node()
		c.Wires = append(c.Wires, Wire{plus, tp, 0.013}, Wire{minus, tm, 0.013})
		s.Taps = append(s.Taps, Tap{At: float64(at) * s.Pitch, Plus: tp, Minus: tm})
		lastPlus, lastMinus = plus, minus
	}
	c.Strips = []Strip{s}
	return c
}

// island is one supply with runs of 100 pixels, each on leads of its own from one of four joints.
func fourJoints(pixels int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	out, back := node(), node()
	c.Sources = []Source{{out, back, 5}}
	var joints [4][2]int
	for i := range joints {
		joints[i] = [2]int{node(), node()}
		c.Wires = append(c.Wires, Wire{out, joints[i][0], 0.004}, Wire{back, joints[i][1], 0.004})
	}
	for i := range pixels / 100 {
		j := joints[i%4]
		plus, minus := node(), node()
		c.Wires = append(c.Wires, Wire{j[0], plus, 0.02}, Wire{j[1], minus, 0.02})
		c.Strips = append(c.Strips, Strip{
			Pixels: 100, Pitch: 1.0 / 60, Rail: 0.16, Law: lawRGB, Share: []float64{1, 1, 1},
			Taps: []Tap{{At: 0, Plus: plus, Minus: minus}},
		})
	}
	return c
}

func BenchmarkSolve(b *testing.B) {
	for _, pixels := range []int{1000, 10_000, 100_000} {
		b.Run(fmt.Sprintf("%dk", pixels/1000), func(b *testing.B) {
			c := trunk(pixels)
			iterations := 0
			for b.Loop() {
				sol, err := Solve(c)
				if err != nil {
					b.Fatal(err)
				}
				iterations = sol.Iterations
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(pixels), "ns/pixel")
			b.ReportMetric(float64(iterations), "iterations")
		})
	}
}

// BenchmarkCases is what a keystroke costs: one network, three drive cases.
func BenchmarkCases(b *testing.B) {
	for name, make := range map[string]func(int) *Circuit{"trunk": trunk, "joints": fourJoints} {
		b.Run(name, func(b *testing.B) {
			c := make(1000)
			dim := Drive{}
			for range c.Strips {
				dim = append(dim, StripDrive{Share: []float64{0.5, 0.5, 0.5}})
			}
			for b.Loop() {
				n, err := Prepare(c)
				if err != nil {
					b.Fatal(err)
				}
				for _, d := range []Drive{nil, dim, nil} {
					if _, err := n.Solve(d); err != nil {
						b.Fatal(err)
					}
				}
			}
		})
	}
}

func BenchmarkAny(b *testing.B) {
	for name, make := range map[string]func(int) *Circuit{"trunk": trunk, "joints": fourJoints} {
		for _, pixels := range []int{1000, 10_000} {
			b.Run(fmt.Sprintf("%s/%dk", name, pixels/1000), func(b *testing.B) {
				c := make(pixels)
				budget := Budget{Amps: float64(pixels) * 0.036 / 3}
				for s := range c.Strips {
					budget.Strips = append(budget.Strips, s)
				}
				for b.Loop() {
					if _, err := Any(c, []Budget{budget}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
