package schema

import (
	"ohmstead/calc/quantity"

	"strings"
)

// Policy says which rules hold here, and the limits that are a matter of taste.
type Policy struct {
	Header
	Off     Value[[]Name]   `attr:"off"`
	Error   Value[[]Name]   `attr:"error"`
	Warning Value[[]Name]   `attr:"warning"`
	Hint    Value[[]Name]   `attr:"hint"`
	Because Value[string]   `attr:"because"`
	Drop    Value[Quantity] `attr:"drop"`
	Load    Value[Quantity] `attr:"load"`
	Slack   Value[Quantity] `attr:"slack"`
	Tail    Value[Quantity] `attr:"tail"`
	Spare   Value[Quantity] `attr:"spare"`
}

var policyType = &BlockType{
	Name: "policy", Part: true,
	Doc:    "Sets the level of rules, and the limits that are a matter of judgement.",
	Detail: "A policy in the plan itself wins over one that comes from a stock directory. Rules that guard against fire and shock cannot be switched off, only silenced at a block with a reason.",
	Example: `policy {
  off     = ["rate-low"]
  because = "a still picture: one frame a second is plenty"
  drop    = "8 %"
}`,
	Attrs: []Attr{
		{Name: "off", Kind: RuleNames, Doc: "Rules that do not hold for this plan; needs because.", Example: `["rate-low"]`},
		{Name: "error", Kind: RuleNames, Doc: "Rules whose findings count as errors.", Example: `["drop-excess"]`},
		{Name: "warning", Kind: RuleNames, Doc: "Rules whose findings count as warnings.", Example: `["fuse-nonstandard"]`},
		{Name: "hint", Kind: RuleNames, Doc: "Rules whose findings count as hints.", Example: `["order-jump"]`},
		{Name: "because", Kind: Text, Doc: "Why rules are off.", Example: `"the hall is dark: colour shift does not show"`},
		{Name: "drop", Kind: Measure, Dim: quantity.Share, Default: `"10 %"`, Above: true, Most: 1, Doc: "Most of the nominal voltage that may be lost between supply and pixel.", Example: `"10 %"`},
		{Name: "load", Kind: Measure, Dim: quantity.Share, Default: `"80 %"`, Above: true, Most: 1, Doc: "Most of a supply's rating that may be in use for long.", Example: `"80 %"`},
		{Name: "slack", Kind: Measure, Dim: quantity.Share, Default: `"15 %"`, Most: 5, Doc: "Added to lead lengths that are estimated from positions.", Example: `"15 %"`},
		{Name: "tail", Kind: Measure, Dim: quantity.Length, Default: `"10 cm"`, Most: 10, Doc: "Least length that a lead estimated from positions has over at each end, to be stripped, led in and joined.", Detail: "Where slack makes less of both ends together, this counts.", Example: `"10 cm"`},
		{Name: "spare", Kind: Measure, Dim: quantity.Share, Default: `"5 %"`, Most: 5, Doc: "Bought over the computed need.", Example: `"5 %"`},
	},
	form: func() former { return new(Policy) },
}

func (p *Policy) check(r *resolver, _ *effective) {
	if p.Off.Set && len(p.Off.V) > 0 && strings.TrimSpace(p.Because.V) == "" && !p.Because.Bad {
		r.report(RuleAttrMissing, p.Off.At, "rules are off without a reason; write because = \"…\" beside them")
	}
	seen := map[string]Name{}
	for _, l := range [][]Name{p.Off.V, p.Error.V, p.Warning.V, p.Hint.V} {
		for _, n := range l {
			if first, dup := seen[n.Text]; dup {
				r.report(RuleAttrClash, n.At, "%s is named twice in the policy; it can have one level", n.Text).related(first.At, "the other one")
			}
			seen[n.Text] = n
		}
	}
}
