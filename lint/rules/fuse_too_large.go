package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

var FuseTooLarge = &lint.Rule{
	Name:   "fuse-too-large",
	Title:  "A fuse is rated above what its wire may carry",
	Level:  lint.Error,
	Guard:  true,
	Hazard: figures.Fault,
	Why: `A fuse protects the wire behind it, not the pixels.
Rated above the wire's ampacity it lets a fault through that the wire does not stand: the wire is the fuse then.
A cartridge or a resettable fuse holds twice its rating for minutes, so that its wire must carry more than the rating.
It is reported where nothing else, such as the limit of a small supply, keeps the current down.`,
	Formula: "Fuse <= ampacity of the wire, and what surely opens it <= 1.45 x ampacity. A blade or bolted fuse opens at 1.35 times its rating, so that the first is the stricter; a cartridge of IEC 60127 at 2.1 times: fuse <= 0.69 x ampacity; a resettable one trips at 2 times what it holds: hold <= 0.725 x ampacity.",
	Do: `Fit the standard fuse that carries the load and is rated no higher than the wire's ampacity.
Where no fuse does both, use a thicker wire.`,
	Sources: []string{
		"IEC 60364-4-43, clause 433.1: load <= fuse <= ampacity, and what surely opens it <= 1.45 x ampacity",
		"ISO 8820-3, blade fuse-link ratings and operating times",
		"IEC 60127-2, quick fuse-links: 210 % opens within 30 min (as a maker's sheet prints it)",
		"a maker's datasheet of resettable fuses: trips at 1.7 to 2 times the hold current at 20 degC",
		"a fuse maker's application note, fuse selection: at most 75 % of the rating for long at 25 degC",
	},
	Bad:   func() string { return instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "10 A"`) },
	Good:  func() string { return shelf },
	Check: checkFuseTooLarge,
}

func checkFuseTooLarge(p *lint.Pass) {
	faults, load := p.Figures.Faults(), sizing.Loads{}
	for _, l := range p.Figures.Leads {
		if !fuseTooLarge(faults, l) || l.Ampacity <= 0 {
			continue
		}
		if _, over := overcurrent(p.Figures, l); over {
			continue // the wire is too thin for the load already
		}
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At), Case: schema.Full,
			Value:   &lint.Value{Got: l.Device.Counts(l.Fuse.V.SI), Limit: l.Ampacity, Unit: "A"},
			Message: fmt.Sprintf("%s: its fuse of %s is rated above the %s that its %s may carry, and nothing else protects it", l.ID(), l.Fuse.V, showAmps(l.Ampacity), conductors(l)),
			Related: suppliesOf(faults.Lead(l)),
		}
		if l.Fuse.V.SI <= l.Ampacity {
			f.Message = fmt.Sprintf("%s: its %s surely opens only at %s, above 1.45 times the %s that its %s may carry, and nothing else protects it", l.ID(), fuseWord(l),
				showAmps(l.Device.Opens*l.Fuse.V.SI), showAmps(l.Ampacity), conductors(l))
		}
		fit := sizing.FuseFor(p.Figures, l, load.Of(p.Figures, l))
		remedy := fit.Do
		if fit.Fits && l.Device.Protects(l.Fuse.V.SI, p.Figures.Behind(l)) {
			if g, some := sizing.Thinnest(p.Figures, l, func(ampacity float64) bool { return l.Device.Protects(l.Fuse.V.SI, ampacity) }); some {
				remedy += fmt.Sprintf(", or use %s wire", g)
			}
		}
		f.Message += "; " + remedy
		f.Propose = refit(p.Figures, l)
		p.Report(f)
	}
}

// fuseWord names a lead's fuse, with its kind where that is not a blade; where no holder says the kind, as assumed.
func fuseWord(l *figures.Lead) string {
	switch {
	case l.Device.Name == "blade":
		return l.Fuse.V.String() + " fuse"
	case l.Holder.V == nil:
		return l.Fuse.V.String() + " fuse (" + l.Device.Name + " assumed)"
	}
	return l.Fuse.V.String() + " " + l.Device.Name + " fuse"
}

// fuseTooLarge reports whether a lead's own fuse is what leaves it without
// protection.
func fuseTooLarge(faults *figures.Faults, l *figures.Lead) bool {
	return l.OK && l.Fuse.Set && !l.Fuse.Bad && !l.Device.Protects(l.Fuse.V.SI, l.Ampacity) && exposed(faults.Lead(l))
}
