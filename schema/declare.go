// Package schema is the plan language: every block and attribute declared once
// as data, the typed form that a plan's text decodes to, and the decoder.
//
// A block has a file of its own (run.go, lead.go …) that holds its declaration
// and its typed form side by side. Hover, completion, messages and the printed
// language reference all read the declarations.
package schema

import "ohmstead/calc/quantity"

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
	MeasureEach               // "60 cm" for all of the block's parts, or a list with one for each
	LetterMeasure             // "20 mA", or { R = "20 mA", G = … }
	LetterShare               // { R = "100 %", W = "20 %" }
	Coordinates               // ["3 cm", "1 m"]: x to the right, y up
	Polyline                  // [["0 m", "0 m"], ["1 m", "0 m"]]
	Reference                 // strip.arch, catalog.NAME: a block of one of Attr.Types
	References                // [run.a, run.b]
	OrderedRuns               // [run.a, from_end(run.b)]
	Places                    // [run.arch.start, run.shelf]: places as of Place, or all of a block of one of Attr.Types
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
	Least    float64  // SI; values below are refused. Each number has both limits
	Most     float64  // SI; values above are refused
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
	Label   string     // what its label is called; empty when it has none
	Once    bool       // at most one in a plan (or, nested, in its parent)
	OneOf   string     // see Attr.OneOf
	Part    bool       // may stand in a stock directory
	Unlike  bool       // like means nothing in it
	Of      *BlockType // of usual: the kind that its label names, see TypeOf
	Attrs   []Attr
	Blocks  []*BlockType
	Doc     string // one sentence
	Detail  string
	Example string     // a whole block
	Varies  *BlockType // of a copy block: what it takes the attributes of, which are documented there
	form    func() former
	makes   func(*making) // of a type whose blocks stand for others, see made.go
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

// must is the attribute of a name that the block declares.
func (b *BlockType) must(name string) *Attr {
	a, ok := b.Attr(name)
	if !ok {
		panic("schema: " + b.Name + " declares no " + name) // a declaration is wrong; its test says so
	}
	return a
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
	planType, policyType, letType, usualType,
	stripType, diffuserType, wireType, fixingType, surfaceType,
	supplyType, boardType, controllerType, jointType, holderType, consumableType,
	runType, runsType, leadType, signalType, chainType, feedType, assemblyType,
	orderType, universesType, caseType, readingType, markingType,
}

// Likes reports whether a top-level block may say like.
func (b *BlockType) Likes() bool {
	return !b.Unlike
}

// Like declares the attribute that every top-level block but plan and let has
// besides its own.
func (b *BlockType) Like() *Attr {
	return &Attr{Name: "like", Kind: Reference, Types: []string{b.Name}, Example: b.Name + ".NAME",
		Doc: "Copies everything from a block of the same type or from a catalogue entry; what is written beside it wins."}
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

// Limits that keep an absurd value from becoming an absurd computation. What is
// beyond them is a slip of the unit or the decimal point.
const (
	mostLength  = 10e3     // m
	mostPixels  = 1e6      //
	mostTimes   = 1000     //
	mostPrice   = 1e9      // of any currency
	leastGauge  = 0.005e-6 // m2, 40 AWG: winding wire
	mostGauge   = 500e-6   // m2
	mostStrip   = 400      // V, supplies and strips
	mostLogic   = 24       // V, levels of data
	mostBoard   = 100      // V, what boards and chips take
	mostMains   = 1000     // V
	mostCurrent = 2000     // A
	mostCopies  = 20_000   // that times makes in a plan
	mostMade    = 40_000   // blocks that chains, feeds and usual blocks make in a plan
	mostItems   = 10_000   // of a list; a drawing of more points is not one
	mostListed  = 500_000  // runs in all orders of a plan
	leastAir    = -60      // degC, where the line of calc/wire for copper begins
)

// MostFeeds is how many leads may end at one run. With one that comes loose the
// currents of all others change, so that more of them take longer than anybody
// waits; the plan is not worked out then.
const MostFeeds = 100

// Attributes that several blocks have.

func cited(example string) Attr {
	return Attr{Name: "source", Kind: Text, Doc: "Where these values come from.", Example: example}
}

func price(of, example string) Attr {
	return Attr{Name: "price", Kind: Measure, Dim: quantity.Money, Most: mostPrice, Doc: "Price of one" + of + ".", Example: example}
}

func reel(defaults, example string) Attr {
	return Attr{Name: "reel", Kind: Measure, Dim: quantity.Length, Default: defaults, Above: true, Most: mostLength, Doc: "Length of one reel.", Example: example}
}

func have(example string) Attr {
	return Attr{Name: "have", Kind: Measure, Dim: quantity.Length, Most: mostLength, Doc: "Length already in the drawer.", Example: example}
}

func mountedOn() Attr {
	return Attr{Name: "on", Kind: Reference, Types: []string{"surface"}, Doc: "The surface it is mounted on.", Example: "surface.wall"}
}

func spot(name, example, doc string) Attr {
	return Attr{Name: name, Kind: Coordinates, Dim: quantity.Length, Least: -mostLength, Most: mostLength, Doc: doc, Example: example}
}

func turn(doc string) Attr {
	return Attr{Name: "turn", Kind: Measure, Dim: quantity.Angle, Least: -360, Most: 360, Doc: doc, Example: `"90 deg"`}
}

func mirror(doc string) Attr {
	return Attr{Name: "mirror", Kind: Choice, Choices: []Option{{"left-right", "left becomes right"}, {"up-down", "up becomes down"}}, Doc: doc, Example: `"left-right"`}
}

func times(doc, example string) Attr {
	return Attr{Name: "times", Kind: Integer, Least: 1, Most: mostTimes, Doc: doc, Example: example,
		Detail: "The copies are called NAME-1, NAME-2 and so on; in them, NAME-each is the copy with the same number and NAME-next the one after."}
}
