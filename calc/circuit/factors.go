package circuit

import (
	"math"
	"slices"
)

// Term is Times the current of a source, as Solution.SourceAmps has it, or of a wire, as WireAmps.
type Term struct {
	Source bool // a wire otherwise
	Index  int
	Times  float64
}

// Factors are the transfer factors of a current in one network: how much of it each ampere of each
// pixel makes. They are kept by budget, and know nothing of what the budgets allow.
//
// What adds over networks, such as the current of a supply whose leads start networks of their own, is
// bound by Greatest over the factors of all of them.
type Factors struct {
	Idle     float64     // A, with all pixels dark
	Spill    float64     // A that the warmth of wires may add, see warm.go
	byBudget [][]stretch // the last without a budget
}

// Factors returns those of a sum of currents.
func (b *Bound) Factors(terms ...Term) *Factors {
	d := b.again()
	defer d.release()
	out := &Factors{byBudget: make([][]stretch, len(b.budgets)+1)}
	sums := make([][]stretch, len(d.islands)) // by island and group
	for _, t := range terms {
		island := d.spots[t.node(d.c)].island
		if island < 0 {
			continue
		}
		f := &d.fields[island]
		if t.Source {
			d.source(t.Index)
			out.Idle += t.Times * d.idle.SourceAmps[t.Index]
		} else {
			d.wire(t.Index)
			out.Idle += t.Times * d.idle.WireAmps[t.Index]
		}
		out.Spill += math.Abs(t.Times) * f.spill(-1)
		if sums[island] == nil {
			sums[island] = make([]stretch, len(f.groups))
		}
		f.expand()
		for _, i := range f.active {
			to, s := &sums[island][i], &f.groups[i].stretch
			to.first, to.last, to.n, to.most = to.first+t.Times*s.first, to.last+t.Times*s.last, s.n, s.most
		}
	}
	for island, sum := range sums {
		for i, s := range sum {
			j := d.fields[island].groups[i].knapsack
			out.byBudget[j] = append(out.byBudget[j], s)
		}
	}
	for j := range out.byBudget {
		out.byBudget[j] = gather(out.byBudget[j])
	}
	return out
}

// node returns a node of the current's.
func (t Term) node(c *Circuit) int {
	if t.Source {
		return c.Sources[t.Index].Plus
	}
	return c.Wires[t.Index].A
}

// gather makes one stretch of all that have one and the same factor, and leaves out those with none.
func gather(all []stretch) []stretch {
	greatest := 0.0
	for i := range all {
		greatest = max(greatest, math.Abs(all[i].first), math.Abs(all[i].last))
	}
	noise := 1e-12 * greatest
	var kept []stretch
	even := make(map[float64]int)
	for _, s := range all {
		if s.n == 0 || s.most == 0 || math.Abs(s.first) <= noise && math.Abs(s.last) <= noise {
			continue
		}
		if math.Abs(s.first-s.last) > noise {
			kept = append(kept, s)
			continue
		}
		step := math.Round(s.first / (4 * noise))
		i, ok := even[step]
		if !ok {
			i = len(kept)
			even[step] = i
			kept = append(kept, stretch{s.first, s.first, 1, 0})
		}
		kept[i].most += float64(s.n) * s.most
	}
	return kept
}

// Share is one network's part in a current that adds over networks.
type Share struct {
	*Factors
	Budgets []int // of each budget that the network was bounded under: which of all it is
}

// Greatest bounds the sum of a current over networks: its greatest amount over all patterns, and the
// sign of it there. amps holds the Amps of all budgets; each is spent once over all networks. No network
// is solved for it.
func Greatest(amps []float64, parts ...Share) (most, sign float64) {
	var ends [2]float64 // the greatest downwards and upwards
	knapsacks := make([]knapsack, len(amps)+1)
	for i, sign := range []float64{-1, 1} {
		for j := range knapsacks {
			knapsacks[j] = knapsack{amps: math.Inf(1), falling: knapsacks[j].falling[:0]}
			if j < len(amps) {
				knapsacks[j].amps = amps[j]
			}
		}
		for _, p := range parts {
			for j, stretches := range p.byBudget {
				k := &knapsacks[len(amps)]
				if j < len(p.Budgets) {
					k = &knapsacks[p.Budgets[j]]
				}
				for s := range stretches {
					k.add(&stretches[s], sign)
				}
			}
		}
		for j := range knapsacks {
			ends[i] += knapsacks[j].fill()
		}
		for _, p := range parts {
			ends[i] += sign*p.Idle + p.Spill
		}
	}
	if ends[1] >= ends[0] {
		return ends[1], 1
	}
	return ends[0], -1
}

// Clip lifts the budgets that allow all that c has of their strips: those that differ only there have one
// bound.
func (c *Circuit) Clip(budgets []Budget) []Budget {
	out := slices.Clone(budgets)
	var law *Law // the last one
	var span float64
	for i := range out {
		all := 0.0
		for _, k := range out[i].Strips {
			s := &c.Strips[k]
			if s.Law != law {
				law, span = s.Law, s.Law.span()
			}
			all += float64(s.Pixels) * span
		}
		if out[i].Amps >= all {
			out[i].Amps = math.Inf(1)
		}
	}
	return out
}
