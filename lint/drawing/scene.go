// Package drawing turns a plan's figures into pictures: elevations, wiring
// diagrams, profiles of voltage and templates at real size. A picture is a Scene: marks in millimetres on
// paper that a renderer turns into SVG, PDF or pixels without knowing what they stand for. Nothing is worked out here but where things lie on paper.
package drawing

// Scene is a picture. Its places are millimetres from the upper left corner,
// x to the right and y down.
type Scene struct {
	Name          string // of its file, without an ending: "elevation-wall"
	Title         string // as a reader is told
	Of            string // the block that it shows, "" for the whole plan
	Width, Height float64
	Map           Map     // of the surface that it shows; zero where it is not to scale
	Layers        []Layer // from back to front
}

// Map says where the places of a surface lie on a scene.
type Map struct {
	X, Y float64 // mm, of the surface's origin
	K    float64 // mm of paper for each metre
}

// At is where a place of the surface, m to the right and up, lies on the scene.
func (m Map) At(x, y float64) Pt { return Pt{m.X + x*m.K, m.Y - y*m.K} }

// Scale is how many times smaller the scene is than what it shows: 20 stands for 1:20.
func (m Map) Scale() float64 { return 1000 / m.K }

// Layer is a set of marks that a viewer may show or hide together.
type Layer struct {
	Name  string
	Clip  *Box // what lies outside of it is not drawn; nil draws all
	Marks []Mark
}

// Mark is a *Path, *Circle, *Rect, *Text or *Group.
type Mark interface {
	About() *Meta
	Bounds() Box
	moved(dx, dy float64) Mark
}

// Meta is what a mark stands for.
type Meta struct {
	Of   string // the block or place in the plan: "run.arch", "supply.brick.out"
	Part string // which part of it: "plus", "minus", "data", "symbol", "terminal"
	Tip  string // a sentence for whoever points at it
}

// About is what the mark stands for.
func (m *Meta) About() *Meta { return m }

// Style is how a mark is drawn. The zero Style draws nothing.
type Style struct {
	Stroke Ink
	Width  float64   // mm, of the stroke
	Dash   []float64 // mm, lengths of strokes and gaps in turn; nil for a whole line
	Fill   Ink
}

// Pt is a place on paper, mm.
type Pt struct{ X, Y float64 }

// Path is a line of straight pieces and curves. Lines end and meet round.
type Path struct {
	Meta
	Style
	From   Pt
	Steps  []Step
	Closed bool
}

// Step goes on to a place: straight, or along a cubic Bezier curve with two
// control points.
type Step struct {
	To     Pt
	Curved bool
	C1, C2 Pt // where Curved
}

// Circle is a circle.
type Circle struct {
	Meta
	Style
	At Pt
	R  float64
}

// Rect is an upright rectangle, its corners rounded with radius Round.
type Rect struct {
	Meta
	Style
	Box
	Round float64
}

// Anchor is the part of a text that stands at its place.
type Anchor int

// A text begins at its place, has its middle there, or ends there.
const (
	Start Anchor = iota
	Middle
	End
)

// Face is one of the faces of the one family of type that drawings are set in.
type Face int

// The faces.
const (
	Regular Face = iota
	Bold
	Mono
)

// Text is one line of text. At lies on its baseline.
type Text struct {
	Meta
	Ink    Ink
	At     Pt
	Anchor Anchor
	Size   float64 // mm, of the em: capitals are 0.72 of it high
	Turn   float64 // degrees clockwise about At, as the reader sees it
	Face   Face
	S      string
}

// Group is marks that are one thing: a symbol.
type Group struct {
	Meta
	Marks []Mark
}

// Box is an upright rectangle on paper, mm.
type Box struct{ X, Y, W, H float64 }
