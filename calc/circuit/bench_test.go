package circuit

import (
	"fmt"
	"strings"
	"testing"
)

// trunk is one long run of pixels along a trunk of leads, with a joint and a feed at even distances; every
// tenth joint has a supply of its own, all with a common minus.
func trunk(pixels, feeds int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	s := Strip{Pixels: pixels, Pitch: 1.0 / 60, Rail: 0.16, Law: lawRGB, Share: []float64{1, 0.7, 0.4}}
	lastPlus, lastMinus := -1, -1
	for i := 0; i <= feeds; i++ {
		plus, minus := node(), node()
		if lastPlus >= 0 {
			c.Wires = append(c.Wires, Wire{A: lastPlus, B: plus, Ohms: 0.022}, Wire{A: lastMinus, B: minus, Ohms: 0.022})
		}
		if i%10 == 0 {
			p, m := node(), node()
			c.Sources = append(c.Sources, Source{p, m, 5 + 0.01*float64(i/10%3)})
			c.Wires = append(c.Wires, Wire{A: p, B: plus, Ohms: 0.008}, Wire{A: m, B: minus, Ohms: 0.008})
		}
		tp, tm := node(), node()
		c.Wires = append(c.Wires, Wire{A: plus, B: tp, Ohms: 0.013}, Wire{A: minus, B: tm, Ohms: 0.013})
		s.Taps = append(s.Taps, Tap{At: float64(i*pixels/feeds) * s.Pitch, Plus: tp, Minus: tm})
		lastPlus, lastMinus = plus, minus
	}
	c.Strips = []Strip{s}
	return c
}

// ring is a busbar that closes on itself, with a supply at each tenth joint and a run fed at both ends between
// neighbouring joints.
func ring(pixels, runs int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	var joints [][2]int
	for range runs {
		joints = append(joints, [2]int{node(), node()})
	}
	for i := range joints {
		here, next := joints[i], joints[(i+1)%runs]
		c.Wires = append(c.Wires, Wire{A: here[0], B: next[0], Ohms: 0.002}, Wire{A: here[1], B: next[1], Ohms: 0.002})
		if i%10 == 0 {
			p, m := node(), node()
			c.Sources = append(c.Sources, Source{p, m, 5})
			c.Wires = append(c.Wires, Wire{A: p, B: here[0], Ohms: 0.004}, Wire{A: m, B: here[1], Ohms: 0.004})
		}
		s := Strip{Pixels: pixels / runs, Pitch: 1.0 / 60, Rail: 0.16, Law: lawRGB, Share: []float64{1, 1, 1}}
		for k, joint := range [][2]int{here, next} {
			p, m := node(), node()
			c.Wires = append(c.Wires, Wire{A: joint[0], B: p, Ohms: 0.02}, Wire{A: joint[1], B: m, Ohms: 0.02})
			s.Taps = append(s.Taps, Tap{float64(k*s.Pixels) * s.Pitch, p, m})
		}
		c.Strips = append(c.Strips, s)
	}
	return c
}

// fourJoints is one supply with runs of 100 pixels, each on leads of its own from one of four joints.
func fourJoints(pixels int) *Circuit {
	c := &Circuit{}
	node := func() int { c.Nodes++; return c.Nodes - 1 }
	out, back := node(), node()
	c.Sources = []Source{{out, back, 5}}
	var joints [4][2]int
	for i := range joints {
		joints[i] = [2]int{node(), node()}
		c.Wires = append(c.Wires, Wire{A: out, B: joints[i][0], Ohms: 0.004}, Wire{A: back, B: joints[i][1], Ohms: 0.004})
	}
	for i := range pixels / 100 {
		j := joints[i%4]
		plus, minus := node(), node()
		c.Wires = append(c.Wires, Wire{A: j[0], B: plus, Ohms: 0.02}, Wire{A: j[1], B: minus, Ohms: 0.02})
		c.Strips = append(c.Strips, Strip{
			Pixels: 100, Pitch: 1.0 / 60, Rail: 0.16, Law: lawRGB, Share: []float64{1, 1, 1},
			Taps: []Tap{{At: 0, Plus: plus, Minus: minus}},
		})
	}
	return c
}

// BenchmarkSolve solves a network made ready: sound, with an ample supply, in closed form and pixel by pixel;
// starved, also from its own solution.
func BenchmarkSolve(b *testing.B) {
	for _, pixels := range []int{1000, 10_000, 100_000} {
		for _, kind := range []string{"sound", "sound by pixel", "starved", "starved again"} {
			b.Run(fmt.Sprintf("%s/%dk", kind, pixels/1000), func(b *testing.B) {
				c := trunk(pixels, pixels/100)
				if strings.HasPrefix(kind, "sound") {
					for i := range c.Sources {
						c.Sources[i].Volts += 2
					}
				}
				var d Drive
				if kind == "sound by pixel" {
					d = byPixel(c)
				}
				n, err := Prepare(c)
				if err != nil {
					b.Fatal(err)
				}
				sol, err := n.Solve(d)
				if err != nil {
					b.Fatal(err)
				}
				start := sol
				if kind != "starved again" {
					start = nil
				}
				b.ReportAllocs()
				for b.Loop() {
					if sol, err = n.SolveFrom(d, start); err != nil {
						b.Fatal(err)
					}
				}
				each := func(n int) float64 { return float64(b.Elapsed().Nanoseconds()) / float64(b.N) / float64(n) }
				b.ReportMetric(each(pixels), "ns/pixel")
				b.ReportMetric(each(pixels/100), "ns/segment")
				b.ReportMetric(float64(sol.Iterations), "iterations")
			})
		}
	}
}

// BenchmarkPrepare analyses a network.
func BenchmarkPrepare(b *testing.B) {
	for _, feeds := range []int{10, 100, 1000} {
		b.Run(fmt.Sprint(feeds), func(b *testing.B) {
			c := trunk(100*feeds, feeds)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Prepare(c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkCases is what a keystroke costs: one network, three drive cases.
func BenchmarkCases(b *testing.B) {
	for name, make := range map[string]func() *Circuit{"trunk": func() *Circuit { return trunk(1000, 10) }, "joints": func() *Circuit { return fourJoints(1000) }} {
		b.Run(name, func(b *testing.B) {
			c := make()
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

// BenchmarkAny bounds every pattern of networks that are one part, with one ceiling over a third of the
// light. Its growth with the feeds is what matters: times ten, it is the ratio of two lines.
func BenchmarkAny(b *testing.B) {
	bound := func(name string, c *Circuit, feeds int) {
		b.Run(name, func(b *testing.B) {
			pixels := 0
			var all Budget
			for s := range c.Strips {
				pixels += c.Strips[s].Pixels
				all.Strips = append(all.Strips, s)
			}
			all.Amps = float64(pixels) * lawRGB.span() / 3
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Any(c, []Budget{all}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(feeds), "ns/feed")
		})
	}
	for _, feeds := range []int{10, 100, 1000} {
		for _, pixels := range []int{1000, 10_000, 100_000} {
			bound(fmt.Sprintf("trunk/%dfeeds/%dk", feeds, pixels/1000), trunk(pixels, feeds), feeds)
		}
		bound(fmt.Sprintf("ring/%dfeeds/%dk", feeds, feeds/10), ring(100*feeds, feeds), feeds)
		bound(fmt.Sprintf("joints/%dfeeds/%dk", feeds, feeds/10), fourJoints(100*feeds), feeds)
	}
}

// BenchmarkGreatest fills a ceiling over the parts of a supply anew.
func BenchmarkGreatest(b *testing.B) {
	for _, parts := range []int{10, 100, 1000} {
		b.Run(fmt.Sprint(parts), func(b *testing.B) {
			var all []Share
			for i := range parts {
				c := ring(200+i, 2)
				bound, err := Any(c, []Budget{{Amps: 1, Strips: []int{0, 1}}})
				if err != nil {
					b.Fatal(err)
				}
				all = append(all, Share{bound.Factors(Term{Source: true, Times: 1}), []int{0}})
			}
			b.ReportAllocs()
			for b.Loop() {
				Greatest([]float64{float64(parts) * 200 * lawRGB.span() / 3}, all...)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(parts), "ns/part")
		})
	}
}
