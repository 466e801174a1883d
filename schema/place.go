package schema

import (
	"fmt"

	"ohmstead/calc/quantity"
)

// PlaceKind is a kind of place that a lead, signal or reading may name.
type PlaceKind int

// The kinds of places.
const (
	SupplyOut       PlaceKind = iota // supply.brick.out, supply.brick.out[2]
	JointPlace                       // joint.hub
	ControllerPower                  // controller.brain.power
	ControllerPort                   // controller.brain.port.a
	RunEnds                          // run.arch.start, run.arch.end
	RunPlace                         // the ends, run.arch["1.5 m"], run.arch[90]
	LeadPlace                        // lead.left, lead.left.from, lead.left.wire
)

// Example shows how such a place is written.
func (k PlaceKind) Example() string {
	return [...]string{"supply.NAME.out", "joint.NAME", "controller.NAME.power", "controller.NAME.port.NAME", "run.NAME.start", `run.NAME["1.5 m"]`, "lead.NAME"}[k]
}

// Where on a run a place lies.
type Where int

// A place on a run is an end, a distance from the start, or the pad before a pixel. One on a lead is the connection
// at its start (from) or end (to), all of it, its copper alone, its fuse in the holder, or what lies from its start to
// behind the fuse: that connection and the fuse in one.
const (
	AtStart Where = iota
	AtEnd
	AtDistance
	AtPixel
	Along
	AtWire
	AtFuse
	ToFuse
)

// leadSteps is how the places on a lead are written behind its name.
var leadSteps = map[Where]string{Along: "", AtStart: ".from", AtWire: ".wire", AtFuse: ".fuse", ToFuse: ".to_fuse", AtEnd: ".to"}

// LeadPlaces lists them in the order of the current.
var LeadPlaces = []Where{Along, ToFuse, AtFuse, AtStart, AtWire, AtEnd}

// Point is a resolved place.
type Point struct {
	Kind       PlaceKind // never RunEnds: a run's end is a RunPlace
	Supply     *Supply
	Output     int // of a supply, counted from 1
	Joint      *Joint
	Controller *Controller
	Port       *Port
	Run        *Run
	Lead       *Lead
	Where      Where
	Distance   Quantity // of AtDistance, from the start
	Pixel      int      // of AtPixel, counted from 0
}

// Block is the block that the point belongs to.
func (p *Point) Block() Block {
	switch p.Kind {
	case SupplyOut:
		return p.Supply
	case JointPlace:
		return p.Joint
	case ControllerPower, ControllerPort:
		return p.Controller
	case LeadPlace:
		return p.Lead
	}
	return p.Run
}

// renewed is the same point on the block that stands in the place of its own.
func (p *Point) renewed(to func(Block) Block) *Point {
	n := *p
	switch b := to(p.Block()).(type) {
	case *Supply:
		n.Supply = b
	case *Joint:
		n.Joint = b
	case *Run:
		n.Run = b
	case *Lead:
		n.Lead = b
	case *Controller:
		if n.Controller = b; p.Port != nil {
			port := *p.Port
			port.Controller = b
			n.Port = &port
		}
	}
	return &n
}

// String writes the point as a plan does.
func (p *Point) String() string {
	switch p.Kind {
	case SupplyOut:
		if p.Supply.Outputs.V > 1 {
			return fmt.Sprintf("%s.out[%d]", p.Supply.ID(), p.Output)
		}
		return p.Supply.ID() + ".out"
	case JointPlace:
		return p.Joint.ID()
	case ControllerPower:
		return p.Controller.ID() + ".power"
	case ControllerPort:
		return p.Port.ID()
	case LeadPlace:
		return p.Lead.ID() + leadSteps[p.Where]
	}
	switch p.Where {
	case AtStart:
		return p.Run.ID() + ".start"
	case AtEnd:
		return p.Run.ID() + ".end"
	case AtDistance:
		return fmt.Sprintf("%s[%q]", p.Run.ID(), p.Distance.Exact())
	}
	return fmt.Sprintf("%s[%d]", p.Run.ID(), p.Pixel)
}

// Same reports whether two points are the same place as written.
func (p *Point) Same(o *Point) bool {
	return p != nil && o != nil && p.Block().header().ID() == o.Block().header().ID() && p.String() == o.String()
}

var indexAttr = &Attr{Name: "place", Kind: Measure, Dim: quantity.Length, Most: mostLength}
