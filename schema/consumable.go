package schema

import "ohmstead/calc/quantity"

// Consumable is what is used up in the making and stands for nothing on the wall:
// heat-shrink, ferrules, sleeving, screws, labels, solder.
type Consumable struct {
	Header
	What       Value[string]   `attr:"what"`
	Count      Value[int]      `attr:"count"`
	Length     Value[Quantity] `attr:"length"`
	For        Value[string]   `attr:"for"`
	Every      Value[Quantity] `attr:"every"`
	Wire       Value[*Wire]    `attr:"wire"`
	Pack       Value[int]      `attr:"pack"`
	Reel       Value[Quantity] `attr:"reel"`
	Price      Value[Quantity] `attr:"price"`
	Have       Value[Quantity] `attr:"have"`
	HavePieces Value[int]      `attr:"have_pieces"`
	Source     Value[string]   `attr:"source"`
}

// What a consumable is needed for.
const (
	ForPlan   = "plan"
	ForRun    = "run"
	ForLead   = "lead"
	ForSignal = "signal"
	ForJoint  = "joint"
	ForEnd    = "end"
)

var consumableType = &BlockType{
	Name: "consumable", Label: "name", Part: true,
	Doc:    "Describes what is used up in the making and that no other block stands for: heat-shrink, ferrules, sleeving, screws, labels.",
	Detail: "It is bought: so many, or so much, for each run, lead, signal, joint or end of a conductor, or once for the plan.",
	Example: `consumable "ferrule" {
  what  = "ferrule 1.5 mm2, 8 mm"
  count = 1
  for   = "end"
  wire  = wire.trunk
  pack  = 100
}`,
	Attrs: []Attr{
		{Name: "what", Kind: Text, Doc: "What it is, as one asks for it in a shop; its name when not given.", Example: `"heat-shrink 6 mm, with glue"`},
		{Name: "count", Kind: Integer, OneOf: "amount", Least: 1, Most: 1e6, Doc: "Pieces of it, for each that it is for; 1 when neither this nor length is given.", Example: "4"},
		{Name: "length", Kind: Measure, Dim: quantity.Length, OneOf: "amount", Above: true, Most: mostLength, Doc: "Length of it, for each that it is for.", Example: `"4 cm"`},
		{Name: "for", Kind: Choice, Default: `"plan"`, Choices: []Option{
			{ForPlan, "so much in all"}, {ForRun, "so much for each run"}, {ForLead, "so much for each lead"}, {ForSignal, "so much for each signal"},
			{ForJoint, "so much for each joint"}, {ForEnd, "so much for each end of each conductor of leads and signals"}}, Doc: "What it is needed for.", Example: `"lead"`},
		{Name: "every", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "So much not once for each run, lead or signal, but on every such length of it.", Detail: "A count is rounded up for each.", Example: `"30 cm"`},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Doc: "Only for leads, signals or conductors of this wire.", Example: "wire.trunk"},
		{Name: "pack", Kind: Integer, Default: "1", Least: 1, Most: 100000, Doc: "Pieces in one pack.", Example: "100"},
		reel("", `"5 m"`),
		price(" pack, reel or piece", `"6 EUR"`),
		have(`"1.2 m"`),
		{Name: "have_pieces", Kind: Integer, Most: 1e6, Doc: "Pieces already in the drawer.", Example: "40"},
		cited(`"seller's sheet"`),
	},
	form: func() former { return new(Consumable) },
}

// Title is what to ask for in a shop.
func (c *Consumable) Title() string {
	if c.What.Known() && c.What.V != "" {
		return c.What.V
	}
	return c.Name
}

func (c *Consumable) check(r *resolver, _ *effective) {
	along := c.For.V == ForRun || c.For.V == ForLead || c.For.V == ForSignal
	wired := c.For.V == ForEnd || c.For.V == ForLead || c.For.V == ForSignal
	if c.Every.Set && !along && c.For.Known() {
		c.Broken = true
		r.report(RuleAttrClash, c.At(c.Every.At), "%s has every, but is for %q; only runs, leads and signals have a length: write for = \"run\", \"lead\" or \"signal\"", describe(&c.Header), c.For.V)
	}
	if c.Wire.Set && !wired && c.For.Known() {
		c.Broken = true
		r.report(RuleAttrClash, c.At(c.Wire.At), "%s names a wire, but is for %q; write for = \"end\", \"lead\" or \"signal\"", describe(&c.Header), c.For.V)
	}
	if c.Length.Set && c.HavePieces.Set {
		r.report(RuleAttrClash, c.At(c.HavePieces.At), "%s is needed by length and has have_pieces; write have = \"…\"", describe(&c.Header))
	}
	if !c.Length.Set && c.Have.Set {
		r.report(RuleAttrClash, c.At(c.Have.At), "%s is counted and has a length in the drawer; write have_pieces, or length instead of count", describe(&c.Header))
	}
}
