package circuit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLeastTriesEnough tries every pixel of random circuits: none is worse than the one that the cheap
// bound left standing, and the cheap bound never promises too little.
func TestLeastTriesEnough(t *testing.T) {
	strips := 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 9))
		c := ampleCircuit(r)
		if seed%2 == 0 {
			c = randomCircuit(r, 60)
		}
		n, err := Prepare(c)
		if err != nil {
			t.Fatal(err)
		}
		budgets := randomBudgets(r, c)
		b, err := n.Any(budgets)
		if err != nil {
			t.Fatal(err)
		}
		d := b.again()
		for s := range c.Strips {
			if !n.powered[s] {
				continue
			}
			strips++
			least := math.Inf(1)
			for k := range c.Strips[s].Pixels {
				least = min(least, d.idle.Strips[s].PixelVolts(k)-d.pixel(s, k).fill(1))
			}
			if got := b.Strips[s].MinVolts; math.Abs(got-least) > 2e-9 {
				t.Errorf("seed %d: strip %d: %.12g V, by trying every pixel %.12g V", seed, s, got, least)
			}
			f := &d.fields[d.home[s]]
			for _, i := range d.index[s] {
				p := &f.groups[i]
				if p.a.loose() || p.b.loose() || p.n == 1 {
					continue
				}
				a := f.rows(p)
				f.pixel(i, p.first+r.IntN(p.n), &c.Strips[s], a)
				f.fill(1)
				o := f.dual(i, &c.Strips[s], a)
				for k := p.first; k < p.first+p.n; k++ {
					f.pixel(i, k, &c.Strips[s], a)
					if loss := f.fill(1); loss > o.loss(k)*(1+1e-9)+1e-12 {
						t.Fatalf("seed %d: strip %d pixel %d loses %g V, the cheap bound says %g V", seed, s, k, loss, o.loss(k))
					}
				}
			}
		}
	}
	t.Logf("%d strips", strips)
}
