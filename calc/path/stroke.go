package path

// Stroke is a piece of a path as a pen draws it: a straight line, an arc, or a
// cubic Bezier curve.
type Stroke struct {
	From, To Point
	Sweep    float64 // degrees of an arc, positive to the left; else 0
	Centre   Point   // of an arc
	Curve    bool    // a cubic with the control points C1 and C2
	C1, C2   Point
}

// Strokes draws the stretch between two places, m from the start.
func (p Path) Strokes(from, to float64) []Stroke {
	from, to = max(from, 0), min(to, p.Length())
	var out []Stroke
	start := 0.0
	for i, q := range p.parts {
		a, b := max(from-start, 0), min(to-start, q.length())
		start = p.ends[i]
		if b > a {
			out = append(out, q.stroke(a, b))
		}
	}
	return out
}

func (l line) stroke(a, b float64) Stroke {
	from, _ := l.at(a)
	to, _ := l.at(b)
	return Stroke{From: from, To: to}
}

func (a arc) stroke(from, to float64) Stroke {
	p, _ := a.at(from)
	q, _ := a.at(to)
	return Stroke{From: p, To: q, Sweep: a.sweep * (to - from) / a.length(), Centre: a.centre}
}

// stroke gives a stretch of a cubic its own control points: they lie a third of
// the derivative away from its ends.
func (q *cubic) stroke(a, b float64) Stroke {
	t, u := q.parameter(a), q.parameter(b)
	from, to := q.point(t), q.point(u)
	k := (u - t) / 3
	return Stroke{From: from, To: to, Curve: true, C1: from.plus(q.velocity(t).times(k)), C2: to.minus(q.velocity(u).times(k))}
}
