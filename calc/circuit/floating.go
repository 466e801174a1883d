package circuit

// floating is a part of the network without power, which takes the potential of a point that it hangs from.
type floating struct {
	part  int32
	point int32
}

// hang finds what the parts without power float with: starting from those with power, each gives its
// potential to the parts that loads link to it.
func (p *planner) hang() {
	links := make([][][2]int32, len(p.home)) // of each part: a point of its own and one of the other part
	p.eachLoad(func(plus, minus int32) {
		a, b := p.parts[plus], p.parts[minus]
		if a != b {
			links[a] = append(links[a], [2]int32{plus, minus})
			links[b] = append(links[b], [2]int32{minus, plus})
		}
	})
	reached := make([]bool, len(p.home))
	var queue []int32
	for part, i := range p.home {
		if i >= 0 {
			reached[part] = true
			queue = append(queue, int32(part))
		}
	}
	for len(queue) > 0 {
		part := queue[0]
		queue = queue[1:]
		for _, l := range links[part] {
			if other := p.parts[l[1]]; !reached[other] {
				reached[other] = true
				queue = append(queue, other)
				p.floating = append(p.floating, floating{part: other, point: l[0]})
			}
		}
	}
}

// float gives a potential to the nodes without power.
func (n *Network) float(sol *Solution) {
	if len(n.floating) == 0 {
		return
	}
	potential := make(map[int32]float64) // of the parts without power
	at := func(p int32) float64 {
		sp := &n.spots[p]
		if sp.island >= 0 {
			return sol.states[sp.island].x[sp.unknown] + sp.rise
		}
		return potential[sp.part]
	}
	for _, f := range n.floating {
		potential[f.part] = at(f.point)
	}
	for i := range sol.Volts {
		if n.spots[i].island < 0 {
			sol.Volts[i] = at(int32(i))
		}
	}
}
