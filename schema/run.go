package schema

import (
	"slices"

	"ohmstead/calc/path"
	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// Run is a cut length of strip in its diffuser, hung on a surface.
type Run struct {
	Header
	Strip      Value[*Strip]    `attr:"strip"`
	Diffuser   Value[*Diffuser] `attr:"diffuser"`
	Fixing     Value[*Fixing]   `attr:"fixing"`
	On         Value[*Surface]  `attr:"on"`
	Exposure   Value[string]    `attr:"exposure"`
	Insert     Value[string]    `attr:"insert"`
	Capacitor  Value[Quantity]  `attr:"capacitor"`
	Length     Value[Quantity]  `attr:"length"`
	Through    Value[[]XY]      `attr:"through"`
	Shape      Value[string]    `attr:"shape"`
	Closed     Value[bool]      `attr:"closed"`
	Corner     Value[Quantity]  `attr:"corner"`
	Beside     Value[*Run]      `attr:"beside"`
	Distance   Value[Quantity]  `attr:"distance"`
	Mitred     Value[bool]      `attr:"mitred"`
	Mirror     Value[string]    `attr:"mirror"`
	Turn       Value[Quantity]  `attr:"turn"`
	Shift      Value[XY]        `attr:"shift"`
	Pixels     Value[int]       `attr:"pixels"`
	DataEnters Value[string]    `attr:"data_enters"`
	Times      Value[int]       `attr:"times"`
	Path       *Path            `block:"path"`
	Circle     *Circle          `block:"circle"`
	Rectangle  *Rectangle       `block:"rectangle"`
	Polygon    *Polygon         `block:"polygon"`

	motion path.Motion // by mirror, turn and shift, those of what it is like before
}

// Drawing is the block that draws the run; nil where an attribute does.
func (r *Run) Drawing() *Header {
	switch {
	case r.Path != nil:
		return &r.Path.Header
	case r.Circle != nil:
		return &r.Circle.Header
	case r.Rectangle != nil:
		return &r.Rectangle.Header
	case r.Polygon != nil:
		return &r.Polygon.Header
	}
	return nil
}

// DrawnAt is where the run says how it goes; its head where it does not.
func (r *Run) DrawnAt() source.Span {
	switch d := r.Drawing(); {
	case d != nil:
		return r.At(d.Head())
	case r.Through.Set:
		return r.At(r.Through.At)
	case r.Beside.Set && r.Distance.Set:
		return r.At(r.Distance.At)
	case r.Beside.Set:
		return r.At(r.Beside.At)
	case r.Length.Set:
		return r.At(r.Length.At)
	}
	return r.Head()
}

// Misdrawn reports whether something that the run says of its shape cannot be read.
func (r *Run) Misdrawn() bool {
	d := r.Drawing()
	return r.Length.Bad || r.Through.Bad || r.Shape.Bad || r.Closed.Bad || r.Corner.Bad || r.Beside.Bad || r.Distance.Bad || r.Mirror.Bad || r.Turn.Bad || r.Shift.Bad || d != nil && d.Broken
}

// DataIn is the end at which data comes in.
func (r *Run) DataIn() string {
	if r.DataEnters.V == "end" {
		return r.ID() + ".end"
	}
	return r.ID() + ".start"
}

// DataOut is the end at which data goes on.
func (r *Run) DataOut() string {
	if r.DataEnters.V == "end" {
		return r.ID() + ".start"
	}
	return r.ID() + ".end"
}

// Path is a run's geometry drawn step by step.
type Path struct {
	Header
	Start   Value[XY]       `attr:"start"`
	Heading Value[Quantity] `attr:"heading"`
	Closed  Value[bool]     `attr:"closed"`
	Steps   []Step          `block:"*"`
}

// Step is one piece of a path: a *Line, an *Arc or a *Curve.
type Step interface{ former }

// Line goes straight, to a place or for a length along the present heading.
type Line struct {
	Header
	To     Value[XY]       `attr:"to"`
	Length Value[Quantity] `attr:"length"`
}

// Arc goes round, to a place or through an angle.
type Arc struct {
	Header
	To     Value[XY]       `attr:"to"`
	Radius Value[Quantity] `attr:"radius"`
	Sweep  Value[Quantity] `attr:"sweep"`
	Turn   Value[string]   `attr:"turn"`
	Long   Value[bool]     `attr:"long"`
}

// Curve is a cubic Bezier curve to a place.
type Curve struct {
	Header
	To     Value[XY] `attr:"to"`
	Away   Value[XY] `attr:"away"`
	Toward Value[XY] `attr:"toward"`
}

var runType = &BlockType{
	Name: "run", Label: "name",
	Doc:    "Describes a cut length of strip in its diffuser, hung on a surface.",
	Detail: "Its geometry is one of length, through, beside, path, circle, rectangle or polygon. Pixels are counted from the length, rounded down to a whole cut.",
	Example: `run "arch" {
  strip    = strip.arch
  diffuser = diffuser.tube
  insert   = "cord"
  length   = "3.6 m"
}`,
	Attrs: []Attr{
		{Name: "strip", Kind: Reference, Types: []string{"strip"}, Required: true, Doc: "The strip it is cut from.", Example: "strip.arch"},
		{Name: "diffuser", Kind: Reference, Types: []string{"diffuser"}, Doc: "What the strip goes into.", Example: "diffuser.tube"},
		{Name: "fixing", Kind: Reference, Types: []string{"fixing"}, Doc: "What holds it.", Example: "fixing.clip"},
		{Name: "on", Kind: Reference, Types: []string{"surface"}, Doc: "The surface it hangs on.", Example: "surface.wall"},
		{Name: "insert", Kind: Choice, Default: `"push"`, Choices: []Option{{"push", "pushed in from one end"}, {"cord", "pulled through with a cord"}, {"slit", "laid in through a slit along the back, or under a cover"}}, Doc: "How the strip gets into its diffuser.", Example: `"cord"`},
		{Name: "capacitor", Kind: Measure, Dim: quantity.Capacitance, Above: true, Most: 10, Doc: "Capacitor across its feed.", Example: `"1000 uF"`},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, OneOf: "geometry", Doc: "Its length, when the shape does not matter.", Example: `"3.6 m"`},
		{Name: "through", Kind: Polyline, Dim: quantity.Length, Least: -mostLength, Most: mostLength, OneOf: "geometry", Doc: "Places that it passes, from start to end.", Example: `[["0 m", "0 m"], ["1 m", "0 m"]]`},
		{Name: "shape", Kind: Choice, Default: `"straight"`, Choices: []Option{{"straight", "straight from place to place"}, {"smooth", "a smooth curve through the places"}}, Doc: "How it gets from place to place of through.", Example: `"smooth"`},
		{Name: "closed", Kind: Boolean, Default: "false", Doc: "Whether through goes on from its last place to its first.", Example: "true"},
		{Name: "corner", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Radius that the corners of through are rounded to.", Example: `"5 cm"`},
		{Name: "beside", Kind: Reference, Types: []string{"run"}, OneOf: "geometry", Doc: "Another run that it follows at a distance, all along.", Detail: "Unlike a copy that is shifted it keeps the same distance in bends: outside they are wider, inside tighter, and its length is another.", Example: "run.outer"},
		{Name: "distance", Kind: Measure, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Doc: "How far it lies beside the other run: to the left as one goes from its start to its end, and to the right where negative.", Example: `"30 mm"`},
		{Name: "mitred", Kind: Boolean, Default: "false", Doc: "Whether it is mitred at each edge of its surfaces that it passes: its channel cut, and its strip cut and joined by wire.", Example: "true"},
		mirror("Mirrors the geometry at the corner that its places are counted from, before it is turned and shifted; start and end stay those of the drawing."),
		turn("Turns the geometry about the corner that its places are counted from, counter-clockwise, before it is shifted; of copies, each from the one before."),
		spot("shift", `["0 cm", "40 cm"]`, "Moves the geometry taken over with like, one that is mirrored or turned, or each copy that times makes from the one before, right and up."),
		{Name: "pixels", Kind: Integer, Least: 1, Most: mostPixels, Doc: "Pixels as counted on the real strip; checked against the length.", Detail: "Without any geometry the length follows from it.", Example: "216"},
		{Name: "data_enters", Kind: Choice, Default: `"start"`, Choices: []Option{{"start", "the arrows on the strip point from start to end"}, {"end", "the arrows point from end to start"}}, Doc: "The end at which data comes in.", Example: `"start"`},
		exposure(inheritsExposure),
		times("Makes so many runs of this kind, each moved by shift from the one before.", "12"),
	},
	Blocks: []*BlockType{pathType, circleType, rectangleType, polygonType},
	form:   func() former { return new(Run) },
}

var pathType = &BlockType{
	Name: "path", Once: true, OneOf: "geometry",
	Doc: "Draws the run step by step with lines, arcs and curves.",
	Example: `path {
  start = ["0 cm", "0 cm"]
  line { to = ["0 cm", "140 cm"] }
  arc {
    to     = ["90 cm", "140 cm"]
    radius = "45 cm"
    turn   = "right"
  }
}`,
	Attrs: []Attr{
		spot("start", `["0 cm", "0 cm"]`, "Where the run starts; the corner of the surface when not given."),
		{Name: "heading", Kind: Measure, Dim: quantity.Angle, Default: `"90 deg"`, Least: -360, Most: 360, Doc: "Direction of the first step: 0 deg to the right, 90 deg up.", Example: `"90 deg"`},
		{Name: "closed", Kind: Boolean, Default: "false", Doc: "Whether a straight line leads from its last place back to its start, where it is not there already.", Example: "true"},
	},
	Blocks: []*BlockType{lineType, arcType, curveType},
	form:   func() former { return new(Path) },
}

var lineType = &BlockType{
	Name: "line",
	Doc:  "Goes straight, to a place or for a length.",
	Attrs: []Attr{
		{Name: "to", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, OneOf: "way", Doc: "Where it ends.", Example: `["0 cm", "140 cm"]`},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, OneOf: "way", Doc: "How far it goes along the present heading.", Example: `"1.4 m"`},
	},
	form: func() former { return new(Line) },
}

var arcType = &BlockType{
	Name: "arc",
	Doc:  "Goes round an arc of a circle, to a place or through an angle.",
	Attrs: []Attr{
		{Name: "to", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, OneOf: "way", Doc: "Where it ends.", Example: `["90 cm", "140 cm"]`},
		{Name: "radius", Kind: Measure, Dim: quantity.Length, Required: true, Above: true, Most: mostLength, Doc: "Radius of the circle.", Example: `"45 cm"`},
		{Name: "sweep", Kind: Measure, Dim: quantity.Angle, Above: true, Most: 360, OneOf: "way", Doc: "Angle that it goes through, tangent to what comes before.", Example: `"90 deg"`},
		{Name: "turn", Kind: Choice, Required: true, Choices: []Option{{"left", "counter-clockwise"}, {"right", "clockwise"}}, Doc: "Which way it turns.", Example: `"right"`},
		{Name: "long", Kind: Boolean, Default: "false", Doc: "Whether it takes the longer way round to its place.", Example: "true"},
	},
	form: func() former { return new(Arc) },
}

var curveType = &BlockType{
	Name: "curve",
	Doc:  "Goes along a cubic Bezier curve to a place.",
	Detail: "It leaves in the direction of its first control point, away, and comes in from the direction of its second, toward: " +
		"the handles of a curve in a drawing program. It goes on evenly from the step before where away lies straight ahead.",
	Example: `curve {
  away   = ["0 cm", "30 cm"]
  toward = ["60 cm", "70 cm"]
  to     = ["90 cm", "70 cm"]
}`,
	Attrs: []Attr{
		{Name: "to", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "Where it ends.", Example: `["90 cm", "70 cm"]`},
		{Name: "away", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "First control point: the place that it leaves towards, the handle at its beginning.", Example: `["0 cm", "30 cm"]`},
		{Name: "toward", Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Required: true, Doc: "Second control point: the place that it comes in from, the handle at its end.", Example: `["60 cm", "70 cm"]`},
	},
	form: func() former { return new(Curve) },
}

func (run *Run) check(r *resolver, e *effective) {
	if run.Beside.Set && !run.Distance.Set {
		run.Distance.Bad = true
		if !run.torn() && !orphaned(&run.Header) {
			r.report(RuleAttrMissing, run.At(run.Beside.At), "%s lies beside another run; write how far to its left, such as distance = \"30 mm\", or to its right, \"-30 mm\"", describe(&run.Header)).
				fix("Add distance", GradeChoice, InsertAttr(run.Node, "distance", `"30 mm"`))
		}
	}
	if !run.Length.Set && !run.Through.Set && !run.Beside.Set && run.Drawing() == nil && !run.Pixels.Set {
		run.Broken = true
		if !run.torn() && !orphaned(&run.Header) {
			r.report(RuleAttrMissing, run.Head(), "%s has no geometry; write length = \"…\", through = [[…], …], a path, circle, rectangle or polygon block, or at least pixels = …", describe(&run.Header)).
				fix("Add length", GradeChoice, InsertAttr(run.Node, "length", `"1 m"`))
		}
	}
	if run.frame == nil && e.draws() { // where what it is like is placed is no matter to it
		run.placed = path.Motion{}
	}
	run.moved(r, e)
	if run.Shift.Set && !run.Shift.Bad {
		if run.Like == nil && !run.Turn.Set && !run.Mirror.Set && (run.Copy == 0 || run.frame != nil && len(run.numbers) == len(run.frame.numbers)) {
			r.report(RuleAttrClash, run.Shift.At, "shift has nothing to move in %s, which has no like, times, turn or mirror; draw it where it lies, and remove shift", describe(&run.Header))
		}
	}
}

// Motion is what is done to the run's geometry as it is written: it is mirrored, turned and shifted, and put where an assembly has it.
func (run *Run) Motion() path.Motion {
	if run.Beside.Set { // of a run that is in its place
		return run.motion
	}
	return run.motion.Then(run.placed)
}

// draws reports whether a run draws its geometry itself.
func (e *effective) draws() bool {
	own := slices.ContainsFunc(e.assigns, func(a scoped) bool {
		x, ok := runType.Attr(a.Name)
		return ok && a.own && x.OneOf == "geometry"
	})
	return own || slices.ContainsFunc(e.blocks, func(n scopedNode) bool {
		t, ok := runType.Block(n.Type)
		return ok && n.own && t.OneOf == "geometry"
	})
}

// Moves reports whether an attribute of a run moves its geometry: of what it is like too.
func Moves(name string) bool { return name == "shift" || name == "turn" || name == "mirror" }

// moved puts together what moves the run along like, what it is like first. A block's own
// counts once; in copies, once for each copy before it, and once more where the
// geometry that it moves is taken over.
func (run *Run) moved(r *resolver, e *effective) {
	type move struct {
		mirror, turn path.Motion
		shift        XY
		own          bool
		steps        float64
	}
	var along []move
	for _, a := range e.assigns {
		if !Moves(a.Name) {
			continue
		}
		x, ok := r.convert(runType.must(a.Name), a.Val, r.scopeOf(a.lib), &run.Header, false)
		if !ok {
			continue
		}
		for len(along) <= a.like {
			along = append(along, move{})
		}
		m := &along[a.like]
		m.own, m.steps = a.own, a.steps
		switch x := x.(type) {
		case XY:
			m.shift = x
		case Quantity:
			m.turn = path.TurnAbout(path.Point{}, x.SI)
		case string:
			m.mirror = mirrored(x)
		}
	}
	run.motion, run.Shift.V = path.Motion{}, XY{}
	for _, m := range slices.Backward(along) {
		by := path.Shift(m.steps*m.shift.X, m.steps*m.shift.Y)
		if at := m.mirror.Then(m.turn); !at.None() {
			by = at.Then(path.Shift(m.shift.X, m.shift.Y)).Times(int(m.steps))
		}
		if m.own && run.frame == nil && !run.placed.None() { // from where an assembly has put it
			run.placed = run.placed.Then(by)
			continue
		}
		run.motion = run.motion.Then(by)
		run.Shift.V.X += m.steps * m.shift.X
		run.Shift.V.Y += m.steps * m.shift.Y
	}
}

func (p *Path) check(r *resolver, _ *effective) {
	if len(p.Steps) == 0 {
		p.Broken = true
		if p.torn() {
			return
		}
		r.report(RuleBlockShape, p.Head(), "a path without steps; write line { to = [\"0 cm\", \"140 cm\"] }, arc { … } or curve { … } in it")
	}
}

func (l *Line) check(r *resolver, _ *effective) {
	if !l.To.Set && !l.Length.Set {
		l.Broken = true
		if l.torn() {
			return
		}
		r.report(RuleAttrMissing, l.Head(), "a line needs to = [\"right\", \"up\"] or length = \"…\"").
			fix("Add length", GradeChoice, InsertAttr(l.Node, "length", `"1 m"`))
	}
}

func (a *Arc) check(r *resolver, _ *effective) {
	if !a.To.Set && !a.Sweep.Set {
		a.Broken = true
		if a.torn() {
			return
		}
		r.report(RuleAttrMissing, a.Head(), "an arc needs to = [\"right\", \"up\"] or sweep = \"90 deg\"").
			fix("Add sweep", GradeChoice, InsertAttr(a.Node, "sweep", `"90 deg"`))
	}
}

// followBeside reports runs that lie beside themselves, through others or not.
func (r *resolver) followBeside() {
	for _, run := range r.plan.Runs {
		seen := map[*Run]bool{}
		for o := run; o != nil && !seen[o]; {
			seen[o] = true
			if o = o.Beside.V; o == run {
				r.report(RuleRefCycle, run.At(run.Beside.At), "%s lies beside itself; break the circle and draw one of its runs", run.ID())
			}
		}
	}
}

// countFeeds reports runs at which more leads end than are worked out.
func (r *resolver) countFeeds() {
	leads := map[*Run]int{}
	for _, l := range r.plan.Leads {
		for _, pt := range []Value[*Point]{l.From, l.To} {
			if pt.V != nil && pt.V.Run != nil {
				leads[pt.V.Run]++
			}
		}
	}
	for _, run := range r.plan.Runs {
		if leads[run] > MostFeeds {
			r.report(RuleTooLarge, run.Head(), "%d leads end at %s; at most %d are worked out at one run, so nothing is judged of what hangs together with it: feed it at fewer places, or write it as several runs",
				leads[run], run.ID(), MostFeeds)
		}
	}
}
