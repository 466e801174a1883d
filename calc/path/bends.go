package path

import "math"

// Bend is a stretch that turns one way all along.
type Bend struct {
	From, To float64 // m from the start
	Turn     float64 // degrees, positive to the left
}

// Bends lists the bends that turn by at least so many degrees, in order; pieces
// that go on turning the same way are one of them.
func (p Path) Bends(least float64) []Bend {
	var all []Bend
	from, going := 0.0, false // going: the piece before bends too
	for i, q := range p.parts {
		turn := turned(q)
		switch last := len(all) - 1; {
		case turn == 0:
		case going && all[last].Turn*turn > 0 && math.Abs(p.jump(i)) < CornerAngle:
			all[last].To, all[last].Turn = p.ends[i], all[last].Turn+turn
		default:
			all = append(all, Bend{from, p.ends[i], turn})
		}
		from, going = p.ends[i], turn != 0
	}
	var out []Bend
	for _, b := range all {
		if math.Abs(b.Turn) >= least {
			out = append(out, b)
		}
	}
	return out
}

// turned is by how much a piece turns from its start to its end, degrees; of a
// curve no more than half a turn.
func turned(q part) float64 {
	if a, ok := q.(arc); ok {
		return a.sweep
	}
	if r, _ := q.leastRadius(); r > straightRadius {
		return 0
	}
	_, h0 := q.at(0)
	_, h1 := q.at(q.length())
	return normal(h1 - h0)
}
