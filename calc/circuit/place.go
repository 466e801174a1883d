package circuit

// place numbers the unknowns. The minus of the first source of an island has the potential 0.
func (p *planner) place() {
	p.spots = make([]spot, len(p.parts))
	unknown := make([]int32, len(p.parts)) // of each root; -1 for none yet
	for i := range unknown {
		unknown[i] = -1
	}
	type reference struct {
		root int32
		rise float64
		part int32
	}
	refs := make([]reference, len(p.islands))
	have := make([]bool, len(p.islands))
	for _, s := range p.c.Sources {
		part := p.parts[s.Minus]
		if i := p.home[part]; !have[i] {
			root, rise := p.stiff.root(int32(s.Minus))
			refs[i], have[i] = reference{root, rise, part}, true
		}
	}
	anchored := make([]bool, len(p.home))
	for i := range p.spots {
		part := p.parts[i]
		root, rise := p.stiff.root(int32(i))
		sp := spot{island: p.home[part], part: part, rise: rise}
		if sp.island >= 0 {
			is, ref := &p.islands[sp.island], refs[sp.island]
			switch {
			case root == ref.root:
				sp.unknown = -1 // until the count is known
				sp.rise -= ref.rise
			case unknown[root] < 0:
				unknown[root] = int32(is.unknowns)
				is.unknowns++
				if part != ref.part && !anchored[part] {
					anchored[part] = true
					is.anchors = append(is.anchors, unknown[root])
				}
				fallthrough
			default:
				sp.unknown = unknown[root]
			}
		}
		p.spots[i] = sp
	}
	for i := range p.spots {
		if sp := &p.spots[i]; sp.island >= 0 && sp.unknown < 0 {
			sp.unknown = int32(p.islands[sp.island].unknowns)
		}
	}
}
