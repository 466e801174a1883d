package schema

import "ohmstead/calc/quantity"

// Lead is a pair of conductors (or one of them) that carries power.
type Lead struct {
	Header
	From     Value[*Point]   `attr:"from"`
	To       Value[*Point]   `attr:"to"`
	Wire     Value[*Wire]    `attr:"wire"`
	Length   Value[Quantity] `attr:"length"`
	Fuse     Value[Quantity] `attr:"fuse"`
	Holder   Value[*Holder]  `attr:"holder"`
	Carries  Value[string]   `attr:"carries"`
	Parallel Value[int]      `attr:"parallel"`
	Within   Value[*Lead]    `attr:"within"`
	Times    Value[int]      `attr:"times"`
}

// Plus reports whether the lead carries the plus side; Minus likewise.
func (l *Lead) Plus() bool  { return l.Carries.V != "minus" }
func (l *Lead) Minus() bool { return l.Carries.V != "plus" }

var powerPlaces = []PlaceKind{SupplyOut, JointPlace, ControllerPower, RunPlace}

var leadType = &BlockType{
	Name: "lead", Label: "name",
	Doc:    "Describes a pair of conductors that carries power from one place to another.",
	Detail: "A fuse sits in the plus conductor at the from end.",
	Example: `lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = "1.2 m"
  fuse   = "7.5 A"
}`,
	Attrs: []Attr{
		{Name: "from", Kind: Place, Places: powerPlaces, Required: true, Doc: "Where it comes from: the supply's side.", Example: "supply.brick.out"},
		{Name: "to", Kind: Place, Places: powerPlaces, Required: true, Doc: "Where it goes to.", Example: "run.arch.start"},
		{Name: "wire", Kind: Reference, Types: []string{"wire"}, Required: true, Doc: "What it is made of.", Example: "wire.feed"},
		{Name: "length", Kind: Measure, Dim: quantity.Length, Above: true, Most: mostLength, Doc: "Length of the pair, one way.", Detail: "Without it, the distance between its two places counts, plus the policy's slack, with its tail at each end at the least.", Example: `"1.2 m"`},
		{Name: "fuse", Kind: Measure, Dim: quantity.Current, Above: true, Most: mostCurrent, Doc: "Rating of the fuse in its plus conductor, at the from end.", Example: `"7.5 A"`},
		{Name: "holder", Kind: Reference, Types: []string{"holder"}, Doc: "What the fuse sits in, which says its kind.", Detail: "Without it the fuse is taken as the commonest kind that comes in its rating: a blade, else a glass cartridge, else one that is bolted down.", Example: "holder.block"},
		{Name: "carries", Kind: Choice, Default: `"pair"`, Choices: []Option{{"pair", "plus and minus"}, {"plus", "only plus"}, {"minus", "only minus"}}, Doc: "Which conductors it has.", Example: `"pair"`},
		{Name: "parallel", Kind: Integer, Default: "1", Least: 1, Most: 32, Doc: "Conductors side by side for each of plus and minus.", Example: "2"},
		{Name: "within", Kind: Reference, Types: []string{"lead"}, Doc: "The lead whose cable, conduit or bundle it shares.", Detail: "Pairs that lie together warm each other: each may carry less, by their number.", Example: "lead.right"},
		times("Makes so many leads of this kind.", "12"),
	},
	form: func() former { return new(Lead) },
}

func (l *Lead) check(r *resolver, _ *effective) {
	if l.From.Known() && l.To.Known() && l.From.V.Same(l.To.V) {
		l.Broken = true
		r.report(RuleValueUnknown, l.At(l.To.At), "%s goes from %s to the same place", describe(&l.Header), l.From.V)
	}
	if l.Holder.Set && !l.Holder.Bad && !l.Fuse.Set && !l.Broken {
		r.report(RuleAttrMissing, l.At(l.Holder.At), "%s names a holder and no fuse; write fuse = \"…\", or remove holder", describe(&l.Header))
	}
	if l.Fuse.Set && !l.Fuse.Bad && l.Carries.V == "minus" {
		p := r.report(RuleAttrClash, l.At(l.Fuse.At), "a fuse in a lead that carries only minus; a fuse sits in the plus conductor")
		if a, ok := l.Node.Assign("fuse"); ok {
			p.fix("Remove fuse", GradeChoice, Edit{WholeLines(a.Whole), ""})
		}
	}
}
