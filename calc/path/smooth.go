package path

import "math"

// smooth is the curve of Smooth: one cubic from each point to the next. The
// points must be two at least, each away from the one before.
func smooth(points []Point) []part {
	if len(points) == 2 {
		delta := points[1].minus(points[0])
		return []part{line{points[0], delta.heading(), delta.norm()}}
	}
	last := len(points) - 1
	step := make([]float64, last)  // of the parameter, from point i to i+1
	chord := make([]Point, last)   // divided difference from point i to i+1
	slope := make([]Point, last+1) // derivative by the parameter at point i
	for i := range step {
		delta := points[i+1].minus(points[i])
		step[i] = math.Sqrt(delta.norm())
		chord[i] = delta.times(1 / step[i])
	}
	for i := 1; i < last; i++ {
		bend := chord[i].minus(chord[i-1]).times(1 / (step[i-1] + step[i]))
		slope[i] = chord[i-1].plus(bend.times(step[i-1]))
		if i == 1 {
			slope[0] = chord[0].minus(bend.times(step[0]))
		}
		if i == last-1 {
			slope[last] = chord[i].plus(bend.times(step[i]))
		}
	}
	parts := make([]part, last)
	for i := range parts {
		parts[i] = newCubic(points[i], points[i+1], slope[i].times(step[i]), slope[i+1].times(step[i]))
	}
	return parts
}
