package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/lint"
	"ohmstead/lint/sizing"
)

var FuseNonstandard = &lint.Rule{
	Name:  "fuse-nonstandard",
	Title: "No fuse of this rating is sold",
	Level: lint.Warning,
	Why: `Fuses come in fixed ratings, by kind, and what is bought instead of one that does not exist is a guess.
The kind is that of the lead's holder; without one it is a blade, or what else comes in the rating.
What a resettable fuse holds is in no standard, and is not judged; nor is a fuse above 40 A of which no holder says the kind, as circuit breakers are common there.`,
	Formula: "Blade: 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40 A, in the large size up to 100 A. Cartridge: 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10 A. Bolted: 30 to 500 A.",
	Do:      `Write the standard rating that carries the load and protects the wire.`,
	Sources: []string{"ISO 8820-3, blade fuse-links (ratings as in a fuse maker's selection guide; above 30 A a maker's sheets and from memory)", "IEC 60127-7, miniature fuse-links (ratings from 1 A; below from memory)", "ISO 8820-5, bolt-in fuse-links (from memory)"},
	Bad:     func() string { return instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "6 A"`) },
	Good:    func() string { return shelf },
	Check:   checkFuseNonstandard,
}

func checkFuseNonstandard(p *lint.Pass) {
	faults := p.Figures.Faults()
	for _, l := range p.Figures.Leads {
		if !l.Fused() || l.Holder.Bad || l.Holder.V != nil && !l.Holder.V.Kind.Known() || l.Device.Standard == "" || l.Device.Sold(l.Fuse.V.SI) || fuseTooLarge(faults, l) ||
			l.Holder.V == nil && l.Fuse.V.SI > fuse.Everyday {
			continue
		}
		if _, small := fuseTooSmall(p.Figures, l); small {
			continue // the remedy there is a standard fuse
		}
		beside := beside(*l.Device, l.Fuse.V.SI)
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At),
			Value:   &lint.Value{Got: l.Fuse.V.SI, Limit: beside[len(beside)-1], Unit: "A"},
			Message: fmt.Sprintf("%s: no %s fuse of %s is sold", l.ID(), l.Device.Name, l.Fuse.V),
		}
		f.Message += fmt.Sprintf("; the ratings beside it are %s", sizing.AnyFuse(beside))
		if l.OK {
			f.Propose = func() [][]lint.Proposal { return each(refuse(p.Figures, l)) }
		}
		p.Report(f)
	}
}

// beside lists a kind's ratings next to one that is none.
func beside(k fuse.Kind, amps float64) []float64 {
	var out []float64
	for _, r := range k.Ratings {
		if r < amps {
			out = []float64{r}
		} else {
			return append(out, r)
		}
	}
	return out
}
