package protect

import (
	"fmt"
	"testing"
)

// plan builds grids of pairs for the benchmarks.
type plan struct{ Grid }

// point adds a place with a plus and a minus node and a load between them.
func (p *plan) point() int {
	n := p.Nodes
	p.Nodes += 2
	p.Loads = append(p.Loads, Load{n, n + 1})
	return n
}

// pair joins two places by a plus and a minus conductor.
func (p *plan) pair(a, b int, fuse float64) {
	p.Conductors = append(p.Conductors,
		Conductor{A: a, B: b, Side: Plus, Ampacity: 10, Fuse: fuse},
		Conductor{A: a + 1, B: b + 1, Side: Minus, Ampacity: 10})
}

func (p *plan) supply(limit float64) int {
	n := p.point()
	p.Sources = append(p.Sources, Source{n, n + 1, limit})
	return n
}

// tree is a hall as it is mostly built: a supply, joints that each serve some
// runs through fused leads, a run having three rails behind its feed.
func tree(conductors int) Grid {
	var p plan
	brick := p.supply(60)
	for len(p.Conductors) < conductors {
		joint := p.point()
		p.pair(brick, joint, 30)
		for range 8 {
			last := p.point()
			p.pair(joint, last, 5)
			for range 3 {
				next := p.point()
				p.pair(last, next, 0)
				last = next
			}
		}
	}
	return p.Grid
}

// chain is one run of leads from joint to joint, with a load at each.
func chain(conductors int) Grid {
	var p plan
	last := p.supply(60)
	fuse := 10.0
	for len(p.Conductors) < conductors {
		next := p.point()
		p.pair(last, next, fuse)
		last, fuse = next, 0
	}
	return p.Grid
}

// bothEnds has every run fed at both ends, from two joints.
func bothEnds(conductors int) Grid {
	var p plan
	brick, left, right := p.supply(60), p.point(), p.point()
	p.pair(brick, left, 30)
	p.pair(brick, right, 30)
	for len(p.Conductors) < conductors {
		start, middle, end := p.point(), p.point(), p.point()
		p.pair(left, start, 5)
		p.pair(right, end, 5)
		p.pair(start, middle, 0)
		p.pair(middle, end, 0)
	}
	return p.Grid
}

// ladder is one long run with a fused feed at every step.
func ladder(conductors int) Grid {
	var p plan
	brick := p.supply(1000)
	last := p.point()
	p.pair(brick, last, 5)
	for len(p.Conductors) < conductors {
		next := p.point()
		p.pair(brick, next, 5)
		p.pair(last, next, 0)
		last = next
	}
	return p.Grid
}

// lattice is a square of fused conductors with a supply in each corner: rings
// everywhere, the worst case.
func lattice(conductors int) Grid {
	var p plan
	n := 1
	for 4*n*(n-1) < conductors {
		n++
	}
	at := make([][]int, n)
	for x := range n {
		for y := range n {
			if corner := (x == 0 || x == n-1) && (y == 0 || y == n-1); corner {
				at[x] = append(at[x], p.supply(60))
			} else {
				at[x] = append(at[x], p.point())
			}
			fuse := []float64{5, 7.5, 10}[(x*7+y*3)%3]
			if x > 0 {
				p.pair(at[x-1][y], at[x][y], fuse)
			}
			if y > 0 {
				p.pair(at[x][y-1], at[x][y], fuse)
			}
		}
	}
	return p.Grid
}

func BenchmarkWalk(b *testing.B) {
	for _, shape := range []struct {
		name  string
		build func(conductors int) Grid
	}{{"tree", tree}, {"chain", chain}, {"bothEnds", bothEnds}, {"ladder", ladder}, {"lattice", lattice}} {
		for _, n := range []int{200, 5000} {
			g := shape.build(n)
			b.Run(fmt.Sprintf("%s-%d", shape.name, n), func(b *testing.B) {
				for b.Loop() {
					if _, err := Walk(g); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
