package schema

import (
	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// exposures are the values of every exposure: the water of a place, after the
// classes AD1 to AD8 of IEC 60364-5-51.
var exposures = []Option{
	{"dry", "no water: indoors"},
	{"damp", "drops that fall, or condensation: a cellar, under a roof outdoors"},
	{"wet", "splashes from all sides, rain"},
	{"jets", "hosed down, or open to driving rain"},
	{"buried", "in the ground, or under water for a while"},
	{"bath", "in or within reach of a bath, a shower or a pool"},
}

// Water is the second numeral of IEC 60529 that each exposure asks for. Source:
// IEC 60364-5-51 table 51A, AD1, AD2, AD4, AD5 and AD7; of the two numerals that
// it gives for drops the higher one. Buried: IEC 60598-2-13, recessed into the
// ground (from memory). In and at a bath the zone decides; this is the least.
var Water = map[string]int{"dry": 0, "damp": 2, "wet": 4, "jets": 5, "buried": 7, "bath": 4}

// exposure is the attribute of plans, surfaces and what stands in a place.
func exposure(detail string) Attr {
	return Attr{Name: "exposure", Kind: Choice, Choices: exposures, Doc: "The water of the place: what enclosures are judged by, and what voltage may be touched.", Detail: detail, Example: `"wet"`}
}

const inheritsExposure = "Its surface's when not given, else the plan's."

func enclosure(doc string) Attr {
	return Attr{Name: "enclosure", Kind: Enclosure, Doc: doc, Example: `"IP67"`}
}

// coldest is the attribute of plans and surfaces.
func coldest(detail string) Attr {
	return Attr{Name: "coldest", Kind: Measure, Dim: quantity.Temperature, Least: leastAir, Most: 90, Doc: "Coldest air temperature of the place. What does not stand cold and what shrinks is judged by it.", Detail: detail, Example: `"-15 degC"`}
}

// occupied is the attribute of plans and surfaces.
func occupied(detail string) Attr {
	return Attr{Name: "occupied", Kind: Boolean, Doc: "Whether people stay in this light for long: to live, to read, to work.", Detail: detail, Example: "true"}
}

// minTemperature is the attribute of parts that the cold is hard on.
func minTemperature(doc, example string) Attr {
	return Attr{Name: "min_temperature", Kind: Measure, Dim: quantity.Temperature, Least: leastAir, Most: 90, Doc: doc, Example: example}
}

// Inherited is a fact of a place: what counts, the block that says it, and where.
type Inherited[T any] struct {
	V  T
	Of *Header // nil where nobody says it: V is what is taken then
	At source.Span
}

// firstSaid is what the first of several blocks says. ok is false where one that
// would count says something that cannot be used.
func firstSaid[T any](otherwise T, said ...Inherited[Value[T]]) (out Inherited[T], ok bool) {
	for _, s := range said {
		if s.V.Set {
			return Inherited[T]{s.V.V, s.Of, s.Of.At(s.V.At)}, !s.V.Bad
		}
	}
	return Inherited[T]{V: otherwise}, true
}

// ofPlace is what those say who may say a fact of a place: the surface, then the plan.
func ofPlace[T any](p *Plan, on Value[*Surface], surface func(*Surface) Value[T], plan func(*PlanHead) Value[T]) (said [2]Inherited[Value[T]]) {
	if s := on.V; s != nil && on.Known() {
		said[0] = Inherited[Value[T]]{V: surface(s), Of: &s.Header}
	}
	if h := p.Head; h != nil {
		said[1] = Inherited[Value[T]]{V: plan(h), Of: &h.Header}
	}
	return said
}

// Exposure is the water of a run's, supply's, joint's or controller's place:
// what it says itself, else its surface, else the plan; "dry" where nobody says.
// ok is false where that cannot be known.
func (p *Plan) Exposure(b Block) (Inherited[string], bool) {
	own, on := standing(b)
	place := ofPlace(p, on, func(s *Surface) Value[string] { return s.Exposure }, func(h *PlanHead) Value[string] { return h.Exposure })
	out, ok := firstSaid("dry", Inherited[Value[string]]{V: own, Of: b.header()}, place[0], place[1])
	return out, ok && !on.Bad
}

// standing is what a block says of the water of its place, and its surface.
func standing(b Block) (own Value[string], on Value[*Surface]) {
	switch b := b.(type) {
	case *Run:
		return b.Exposure, b.On
	case *Supply:
		return b.Exposure, b.On
	case *Joint:
		return b.Exposure, b.On
	case *Controller:
		return b.Exposure, b.On
	}
	return own, on
}

// Coldest is the coldest air on a surface, or in the plan as a whole where that
// says nothing or there is none. ok is false where nobody says.
func (p *Plan) Coldest(on Value[*Surface]) (Inherited[Quantity], bool) {
	place := ofPlace(p, on, func(s *Surface) Value[Quantity] { return s.Coldest }, func(h *PlanHead) Value[Quantity] { return h.Coldest })
	out, ok := firstSaid(Quantity{}, place[:]...)
	return out, ok && out.Of != nil && !on.Bad
}

// Occupied reports whether people stay for long where a surface is, or in the
// plan's place where that says nothing or there is none.
func (p *Plan) Occupied(on Value[*Surface]) (Inherited[bool], bool) {
	place := ofPlace(p, on, func(s *Surface) Value[bool] { return s.Occupied }, func(h *PlanHead) Value[bool] { return h.Occupied })
	out, ok := firstSaid(false, place[:]...)
	return out, ok && !on.Bad
}
