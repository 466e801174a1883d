package schema

import "ohmstead/calc/quantity"

// The built-in cases, which are always there. Any stands for every pattern that
// the ceilings allow.
const (
	Full = "full" // every channel at 100 %, ceilings ignored
	Held = "held" // the same under the ceilings
	Any  = "any"
)

// Case is a load case: which colours at which level.
type Case struct {
	Header
	Color    Value[RGB]                `attr:"color"`
	Channels Value[map[string]float64] `attr:"channels"`
	Level    Value[Quantity]           `attr:"level"`
	Runs     Value[[]*Run]             `attr:"runs"`
	Held     Value[bool]               `attr:"held"`
}

// Share is the share of full current that the case asks of a channel letter.
// A colour says nothing of white channels: they stay dark unless channels
// names them.
func (c *Case) Share(letter string) float64 {
	level := 1.0
	if c.Level.Known() {
		level = c.Level.V.SI
	}
	if s, ok := c.Channels.V[letter]; ok {
		return s * level
	}
	if c.Color.Set && !c.Color.Bad {
		switch letter {
		case "R":
			return c.Color.V.R * level
		case "G":
			return c.Color.V.G * level
		case "B":
			return c.Color.V.B * level
		}
		return 0
	}
	if c.Channels.Set {
		return 0
	}
	return level
}

var caseType = &BlockType{
	Name: "case", Label: "name",
	Doc:     "Describes a load case to judge the plan in: which colours at which level.",
	Detail:  "Every plan is judged in the built-in cases full (every channel at 100 %, ceilings ignored) and held (the same under the ceilings) besides its own.",
	Example: "case \"evening\" {\n  color = \"#ffb070\"\n  level = \"70 %\"\n}",
	Attrs: []Attr{
		{Name: "color", Kind: Colour, Doc: "Colour of the pixels; duty of red, green and blue as they are sent.", Example: `"#ffb070"`},
		{Name: "channels", Kind: LetterShare, Dim: quantity.Share, Most: 1, Doc: "Duty of single channels by letter; wins over color.", Example: `{ W = "100 %" }`},
		{Name: "level", Kind: Measure, Dim: quantity.Share, Default: `"100 %"`, Most: 1, Doc: "Scales all of it.", Example: `"70 %"`},
		{Name: "runs", Kind: References, Types: []string{"run"}, Doc: "Runs that are lit; all when not given.", Example: "[run.arch]"},
		{Name: "held", Kind: Boolean, Default: "true", Doc: "Whether the controllers' ceilings apply.", Example: "false"},
	},
	form: func() former { return new(Case) },
}

// check refuses the names of the cases that are always there.
func (c *Case) check(r *resolver, _ *effective) {
	if c.Name == Full || c.Name == Held || c.Name == Any {
		c.Broken = true
		r.report(RuleNameDuplicate, c.Node.Labels[0].At, "case %q is always there (%s, %s and %s are); give this one another name", c.Name, Full, Held, Any).rename(c.Node.Labels[0].At, c.Name+"-2")
	}
}
