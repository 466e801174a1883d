package path

import "fmt"

// Turn is the hand to which an arc bends as one travels along it.
type Turn int

// Left is counter-clockwise. The zero Turn is neither and is refused.
const (
	Left Turn = iota + 1
	Right
)

// Piece is one part of a path as it is described: Line, LineTo, Arc, ArcTo or
// Curve. It begins where the part before it ended.
type Piece interface{ isPiece() }

// Line goes straight on along the present heading.
type Line struct{ Length float64 } // m

// LineTo goes straight to a point.
type LineTo struct{ To Point }

// Arc bends away from the present heading, so that it begins without a corner.
type Arc struct {
	Radius float64 // m
	Sweep  float64 // degrees, above 0, at most 360
	Turn   Turn
}

// ArcTo is the arc of a circle to a point. Two arcs of one radius bend to the
// same hand: the one of at most half a turn and, with Long, the other.
// Whether it leaves along the present heading follows from its figures; where
// it does not, it begins with a corner.
type ArcTo struct {
	To     Point
	Radius float64 // m, at least half the way to To
	Turn   Turn
	Long   bool
}

// Curve is a smooth curve from the present place through further points. See
// Smooth.
type Curve struct{ Through []Point }

func (Line) isPiece()   {}
func (LineTo) isPiece() {}
func (Arc) isPiece()    {}
func (ArcTo) isPiece()  {}
func (Curve) isPiece()  {}

// Error says which part of a path cannot be built, and why.
type Error struct {
	Part   string  // "piece" in New, "point" in Polyline and Smooth, "" where the whole path is meant
	Index  int     // of that part, counted from 0
	Field  string  // the figure at fault: "start", "heading", "to", "length", "radius", "sweep", "turn", "through", "shift" or "spacing"
	Got    float64 // the figure, SI (degrees for angles)
	Limit  float64 // the limit that it breaks, where there is one
	Reason string
}

func (e *Error) Error() string {
	if e.Part == "" {
		return e.Reason
	}
	return fmt.Sprintf("%s %d: %s", e.Part, e.Index+1, e.Reason)
}
