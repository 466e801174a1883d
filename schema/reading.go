package schema

import "ohmstead/calc/quantity"

// Reading is a meter reading taken on the wall.
type Reading struct {
	Header
	Place     Value[*Point]   `attr:"at"`
	Case      Value[*Case]    `attr:"case"`
	Volts     Value[Quantity] `attr:"volts"`
	Amps      Value[Quantity] `attr:"amps"`
	Ohms      Value[Quantity] `attr:"ohms"`
	Taken     Value[string]   `attr:"taken"`
	Accuracy  Value[Quantity] `attr:"accuracy"`
	Digits    Value[int]      `attr:"digits"`
	Tolerance Value[Quantity] `attr:"tolerance"`
}

var readingType = &BlockType{
	Name: "reading", Label: "name",
	Doc:     "Records a meter reading taken on the wall, to compare with what was worked out.",
	Example: "reading \"far end\" {\n  at    = run.arch.end\n  case  = case.evening\n  volts = \"11.4 V\"\n  taken = \"2026-05-01\"\n}",
	Attrs: []Attr{
		{Name: "at", Kind: Place, Places: []PlaceKind{SupplyOut, JointPlace, RunPlace, LeadPlace}, Required: true, Doc: "Where the meter's probes were.", Detail: "On a supply, joint or run they lie between plus and minus. `lead.left` is all of a lead, from end to end; `.from` and `.to` are its connections, from the bare copper to the metal that it ends in, `.fuse` its fuse in the holder, `.to_fuse` in one the connection at its start and the fuse that sits there, to the wire just behind it, `.wire` its copper alone: the meter lies along plus, then along minus, and both are added.", Example: "run.arch.end"},
		{Name: "case", Kind: Reference, Types: []string{"case"}, Doc: "What was lit; the case full when not given.", Example: "case.evening"},
		{Name: "volts", Kind: Measure, Dim: quantity.Voltage, OneOf: "read", Most: mostStrip, Doc: "The voltage that the meter showed, with every digit.", Example: `"11.40 V"`},
		{Name: "amps", Kind: Measure, Dim: quantity.Current, OneOf: "read", Most: mostCurrent, Doc: "The current that the meter showed, with every digit: of a supply's output, or anywhere on a lead.", Detail: "Switch off before a conductor is opened to put the meter in; above 10 A use a clamp meter for direct current.", Example: `"4.10 A"`},
		{Name: "ohms", Kind: Measure, Dim: quantity.Resistance, OneOf: "read", Most: 1e8, Doc: "The resistance that the meter showed of a lead or a part of it, with every digit.", Detail: "With the power off and one end of the lead taken out of its connection; a handheld meter tells no less than some tenths of an ohm.", Example: `"0.4 ohm"`},
		{Name: "taken", Kind: Date, Doc: "The day, year first.", Example: `"2026-05-01"`},
		{Name: "accuracy", Kind: Measure, Dim: quantity.Share, Default: `"0.5 %"`, Most: 0.1, Doc: "The meter's accuracy from its sheet, as a share of the reading.", Detail: "For amps 1.5 % where nothing is written.", Example: `"0.5 %"`},
		{Name: "digits", Kind: Integer, Default: "2", Most: 50, Doc: "What its sheet adds to that, in steps of the last digit.", Detail: "For amps 5 where nothing is written.", Example: "2"},
		{Name: "tolerance", Kind: Measure, Dim: quantity.Share, Above: true, Most: 1, Doc: "Share of the computed value that counts instead of what meter and plan leave open.", Detail: "A share of the whole voltage hides what burns in one joint: leave it out unless you know why.", Example: `"3 %"`},
	},
	form: func() former { return new(Reading) },
}

func (x *Reading) check(r *resolver, _ *effective) {
	if !x.Volts.Set && !x.Amps.Set && !x.Ohms.Set {
		x.Broken = true
		if x.torn() {
			return
		}
		r.report(RuleAttrMissing, x.Head(), "%s needs volts = \"…\", amps = \"…\" or ohms = \"…\": what the meter showed", describe(&x.Header)).
			fix("Add volts", GradeChoice, InsertAttr(x.Node, "volts", `"12 V"`))
	}
	if x.Ohms.Set && x.Place.Known() && x.Place.V.Lead == nil {
		x.Broken = true
		r.report(RuleAttrClash, x.At(x.Ohms.At), "%s gives ohms at %s; a resistance is read along a lead, with the power off: at = lead.NAME", describe(&x.Header), x.Place.V)
	}
}

// Read is the one value that the meter showed.
func (x *Reading) Read() Value[Quantity] {
	switch {
	case x.Amps.Set:
		return x.Amps
	case x.Ohms.Set:
		return x.Ohms
	}
	return x.Volts
}
