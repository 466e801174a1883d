// Package path holds the geometry of a run on its surface: lengths, bends and
// places along it.
//
// Coordinates are metres, x to the right and y up. Headings are degrees,
// 0 along +x, counter-clockwise. A path is built once and never changes.
package path

// Limits of a path; beyond them a figure is taken for a slip.
const (
	MaxSize   = 10_000.0 // m: any coordinate, length or radius, and the whole path
	MinLength = 1e-6     // m: a piece shorter than this has no direction
	MaxPoints = 10_000   // pieces and points of curves together
)

// CornerAngle is the least jump of heading, degrees, that is a corner. A
// smaller one comes from rounded measurements and is taken up by the strip.
// Common practice, no source.
const CornerAngle = 1.0

// Point is a place on a surface, m.
type Point struct{ X, Y float64 }

// Rect is an upright rectangle, m.
type Rect struct{ MinX, MinY, MaxX, MaxY float64 }

// Path is the centre line of a run.
type Path struct{}

// Corner is a place where the heading jumps by CornerAngle or more.
type Corner struct {
	At   float64 // m from the start
	X, Y float64 // m
	Turn float64 // degrees, -180 to 180, positive to the left
}

// New builds a path from a start, a first heading (degrees) and its pieces.
// A refused piece gives an *Error.
func New(start Point, heading float64, pieces ...Piece) (Path, error) { return Path{}, nil }

// Straight is a path of one straight line from the origin along +x, for a run
// of which only the length (m) is known.
func Straight(length float64) (Path, error) { return Path{}, nil }

// Polyline joins at least two points with straight lines.
func Polyline(points []Point) (Path, error) { return Path{}, nil }

// Smooth is a smooth curve through at least two points.
func Smooth(points []Point) (Path, error) { return Path{}, nil }

// Length in m.
func (p Path) Length() float64 { return 0 }

// LeastRadius is the radius of the tightest bend, m, and where it is, m from
// the start: the middle of an arc, the first of several equal ones. It is +Inf
// at 0 for a straight path and 0 at a corner.
func (p Path) LeastRadius() (radius, at float64) { return 0, 0 }

// At is the place s metres along the path and the heading there, degrees above
// -180 to 180. s is clamped to the path; at a corner the heading is that after
// it.
func (p Path) At(s float64) (x, y, heading float64) { return 0, 0, 0 }

// Bounds is the least upright rectangle around the path.
func (p Path) Bounds() Rect { return Rect{} }

// Translate is the same path moved by dx, dy metres.
func (p Path) Translate(dx, dy float64) (Path, error) { return p, nil }

// Points are places to draw the path through: the ends of all pieces, and
// along bends further ones at even steps of at most spacing metres.
func (p Path) Points(spacing float64) ([]Point, error) { return nil, nil }

// Corners lists the corners in order.
func (p Path) Corners() []Corner { return nil }
