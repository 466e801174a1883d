package drawn

import (
	"math"
	"math/cmplx"

	"ohmstead/calc/path"
)

// rectangle is an upright rectangle as a plan says it: it begins at from, or
// behind that corner where it is rounded.
type rectangle struct {
	from, to complex128
	corner   float64 // m
	left     bool
}

// rectangle says which rectangle the shape is, if it is one: four sides, or four
// sides with a quarter of a circle behind each.
func (s *Shape) rectangle() (r rectangle, ok bool) {
	if !s.Closed || len(s.Steps) != 4 && len(s.Steps) != 8 {
		return r, false
	}
	side := s.Steps[0].To - s.Start
	along := side / complex(cmplx.Abs(side), 0)
	// The first side, the last point of the second, and what the corner between takes.
	opposite := s.Steps[1].To
	if len(s.Steps) == 8 {
		r.corner = s.Steps[1].Radius
		opposite = s.Steps[3].To + along*complex(r.corner, 0)
	}
	r.from, r.to = s.Start-along*complex(r.corner, 0), opposite
	r.left = imag(cmplx.Conj(along)*(opposite-s.Start)) > 0
	turn := path.Right
	if r.left {
		turn = path.Left
	}
	is, err1 := path.Rectangle(at(r.from), at(r.to), r.corner, turn)
	p, err2 := s.Path()
	return r, err1 == nil && err2 == nil && same(p, is)
}

// same reports whether two paths have the same course.
func same(p, q path.Path) bool {
	const steps = 64
	for i := range steps + 1 {
		x, y, _ := p.At(p.Length() * float64(i) / steps)
		u, v, _ := q.At(q.Length() * float64(i) / steps)
		if math.Hypot(x-u, y-v) > 2*near {
			return false
		}
	}
	return true
}
