package circuit

import "testing"

// A place that gets plus from one supply and minus from another, with nothing
// between the two supplies, has no voltage.
func TestBetweenIslands(t *testing.T) {
	c := &Circuit{
		Nodes:   6,
		Sources: []Source{{0, 1, 12}, {2, 3, 5}},
		Wires:   []Wire{{A: 0, B: 4, Ohms: 0.1}, {A: 3, B: 5, Ohms: 0.1}},
	}
	sol := mustSolve(t, c)
	if v, ok := sol.Between(4, 5); ok {
		t.Errorf("%v V between two supplies that nothing joins", v)
	}
	if !sol.Powered[4] || !sol.Powered[5] {
		t.Error("each side by itself has power")
	}
	c.Wires = append(c.Wires, Wire{A: 1, B: 3, Ohms: 0.1}) // the two minuses joined
	v, ok := mustSolve(t, c).Between(4, 5)
	near(t, "with the minuses joined, V", v, 12, 1e-9)
	if !ok {
		t.Error("with the minuses joined there is a voltage")
	}
	c = &Circuit{Nodes: 3, Sources: []Source{{0, 1, 12}}}
	if v, ok := mustSolve(t, c).Between(0, 2); ok {
		t.Errorf("%v V to a node that nothing joins", v)
	}
}
