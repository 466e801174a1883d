package path

import (
	"math"

	"ohmstead/calc/quantity"
)

// Circle is a circle, or part of one. It begins where the centre sees it at an angle in
// degrees, 0 on the right and 90 at the top, and goes round through sweep degrees, 360 at most.
func Circle(centre Point, radius, start, sweep float64, turn Turn) (Path, error) {
	if err := checkPoint("centre", centre); err != nil {
		return Path{}, err
	}
	if err := checkArc(radius, turn); err != nil {
		return Path{}, err
	}
	return New(centre.plus(unit(start).times(radius)), start+90*turn.sign(), Arc{Radius: radius, Sweep: sweep, Turn: turn})
}

// Polygon is a regular polygon with at least three corners on a circle. It
// begins at the corner that the centre sees at an angle in degrees.
func Polygon(centre Point, sides int, radius, start, corner float64, turn Turn) (Path, error) {
	if err := checkPoint("centre", centre); err != nil {
		return Path{}, err
	}
	if err := checkArc(radius, turn); err != nil {
		return Path{}, err
	}
	if sides < 3 || sides > MaxPoints {
		return Path{}, &Error{Field: "sides", Got: float64(sides), Limit: 3, Reason: quantity.Say("a polygon has 3 to %d sides, not %d", MaxPoints, sides)}
	}
	points := make([]Point, sides)
	for i := range points {
		points[i] = centre.plus(unit(start + turn.sign()*360*float64(i)/float64(sides)).times(radius))
	}
	return Rounded(points, true, corner)
}

// Rectangle is an upright rectangle between two opposite corners. It begins at
// the first of them.
func Rectangle(from, to Point, corner float64, turn Turn) (Path, error) {
	side, rise := Point{to.X, from.Y}, Point{from.X, to.Y}
	points := []Point{from, side, to, rise}
	if (side.minus(from).cross(to.minus(from)) > 0) != (turn == Left) {
		points = []Point{from, rise, to, side}
	}
	return Rounded(points, true, corner)
}

// Rounded joins places with straight lines and rounds each corner with an arc of
// a radius that touches both of its sides; 0 leaves the corners. A closed one
// comes back to the first place, and where its corner is rounded too it begins
// behind that.
//
// An arc that turns by θ takes r tan(θ/2) of either side. Source: Euclid.
func Rounded(points []Point, closed bool, radius float64) (Path, error) {
	p, err := Polyline(points)
	if err == nil && closed {
		p, err = p.Closed()
	}
	if err != nil || radius == 0 {
		return p, err
	}
	if err := checkSize("corner", radius, MinLength, "corner radius"); err != nil {
		return Path{}, err
	}
	n := len(p.parts)
	taken := make([]float64, n+1) // of the sides before and behind each place
	turn := make([]float64, n+1)  // degrees
	for i := range n + 1 {
		switch {
		case i > 0 && i < n:
			turn[i] = p.jump(i)
		case closed:
			_, in := p.parts[n-1].at(0)
			_, out := p.parts[0].at(0)
			turn[i] = normal(out - in)
		}
		if math.Abs(turn[i]) < noise {
			turn[i] = 0
		}
		taken[i] = radius * math.Tan(math.Abs(turn[i])/2/degree)
	}
	var q Path
	for i := range n {
		l := p.parts[i].(line)
		rest := l.len - taken[i] - taken[i+1]
		if rest < -1e-9 {
			at := i + 1
			if taken[i+1] < taken[i] {
				at = i
			}
			most := l.len / (taken[i] + taken[i+1]) * radius
			return Path{}, &Error{Part: "point", Index: at % len(points), Field: "corner", Got: radius, Limit: most,
				Reason: quantity.Say("a corner radius of %s does not fit: the side of %s beside it has room for corners of %s at most", metresAgainst(radius, most), metres(l.len), metres(roundDown(most)))}
		}
		start, _ := l.at(taken[i])
		if rest >= MinLength {
			q.append([]part{line{from: start, heading: l.heading, len: rest}})
		}
		if turn[i+1] != 0 {
			end, _ := l.at(l.len - taken[i+1])
			q.append([]part{newArc(end, l.heading, radius, turn[i+1])})
		}
	}
	return q, nil
}

// roundDown rounds a length down to three significant digits, as metres shows it.
func roundDown(v float64) float64 {
	if !(v > 0) {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Floor(v/step*(1+1e-9)) * step
}
