// Package schema is the plan language: every block and attribute declared once
// as data, the typed form that a plan's text decodes to, and the decoder.
//
// A block has a file of its own (run.go, lead.go …) that holds its declaration
// and its typed form side by side. Hover, completion, messages and the printed
// language reference all read the declarations.
package schema

import (
	"math"

	"ohmstead/calc/quantity"
)

// Kind is the shape of an attribute's value.
type Kind int

// The shapes that values take.
const (
	Text          Kind = iota // "free text"
	Choice                    // one of Attr.Choices, as text
	Integer                   // 4
	Boolean                   // true
	Measure                   // "3.2 m", of dimension Attr.Dim
	Measures                  // ["120 V", "230 V"]
	LetterMeasure             // "20 mA", or { R = "20 mA", G = … }
	LetterShare               // { R = "100 %", W = "20 %" }
	Coordinates               // ["3 cm", "1 m"]: x to the right, y up
	Polyline                  // [["0 m", "0 m"], ["1 m", "0 m"]]
	Reference                 // strip.arch, catalog.NAME: a block of one of Attr.Types
	References                // [run.a, run.b]
	OrderedRuns               // [run.a, from_end(run.b)]
	Place                     // supply.brick.out, run.arch["1.5 m"]: one of Attr.Places
	Letters                   // "GRB": the order of the channels on the wire
	Colour                    // "#ffb070"
	RuleNames                 // ["rate-low"]
	Directories               // ["../workshop"]
	Date                      // "2026-05-01"
	Enclosure                 // "IP67"
	Values                    // named values of any kind: the body of let
)

// Attr declares one attribute.
type Attr struct {
	Name     string
	Kind     Kind
	Dim      quantity.Dimension // of Measure, Measures and LetterMeasure
	Required bool
	Default  string   // as it would be written; empty when there is none
	Least    float64  // SI; values below are refused
	Most     float64  // SI; values above are refused; 0 means no limit
	Above    bool     // Least itself is refused too
	Choices  []Option // of Choice
	Types    []string // block types that a Reference may name
	Places   []PlaceKind
	OneOf    string // attributes and blocks with the same OneOf exclude each other
	Doc      string // one sentence: what it is
	Detail   string // more, where it helps
	Example  string // as it would be written after the "="
}

// Option is one value of a Choice.
type Option struct{ Value, Doc string }

// BlockType declares one block type.
type BlockType struct {
	Name    string
	Label   string // what its label is called; empty when it has none
	Once    bool   // at most one in a plan (or, nested, in its parent)
	OneOf   string // see Attr.OneOf
	Part    bool   // may stand in a stock directory
	Attrs   []Attr
	Blocks  []*BlockType
	Doc     string // one sentence
	Detail  string
	Example string // a whole block
	form    func() former
}

// Attr finds a declared attribute by name.
func (b *BlockType) Attr(name string) (*Attr, bool) {
	for i := range b.Attrs {
		if b.Attrs[i].Name == name {
			return &b.Attrs[i], true
		}
	}
	return nil, false
}

// Block finds a declared nested block by name.
func (b *BlockType) Block(name string) (*BlockType, bool) {
	for _, n := range b.Blocks {
		if n.Name == name {
			return n, true
		}
	}
	return nil, false
}

// Language lists every top-level block type in the order of the job.
var Language = []*BlockType{
	planType, policyType, letType,
	stripType, diffuserType, wireType, fixingType, surfaceType,
	supplyType, boardType, controllerType, jointType,
	runType, leadType, signalType,
	orderType, universesType, caseType, readingType, markingType,
}

// TypeNamed finds a top-level block type.
func TypeNamed(name string) (*BlockType, bool) {
	for _, b := range Language {
		if b.Name == name {
			return b, true
		}
	}
	return nil, false
}

// Limits that keep an absurd value from becoming an absurd computation.
const (
	mostLength = 10e3 // m
	mostPixels = 1e6
	mostTimes  = 1000
)

// limits says the attribute's allowed range as a sentence part.
func (a *Attr) limits(unit quantity.Unit) string {
	show := func(si float64) string { return quantity.Quantity{SI: si, Unit: unit}.String() }
	if a.Kind == Integer {
		show = func(n float64) string { return quantity.Number(n, 12) }
	}
	low := "at least " + show(a.Least)
	if a.Above {
		low = "more than " + show(a.Least)
	}
	if a.Most == 0 {
		return low
	}
	return low + " and at most " + show(a.Most)
}

// allows reports whether an SI value lies in the attribute's range.
func (a *Attr) allows(si float64) bool {
	if a.Dim == quantity.Temperature && a.Least == 0 {
		return si >= -273.15
	}
	if math.IsNaN(si) || si < a.Least || a.Above && si == a.Least {
		return false
	}
	return a.Most == 0 || si <= a.Most
}
