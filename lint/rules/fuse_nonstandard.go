package rules

import (
	"fmt"

	"ohmstead/calc/fuse"
	"ohmstead/lint"
)

var FuseNonstandard = &lint.Rule{
	Name:  "fuse-nonstandard",
	Title: "No blade fuse of this rating is sold",
	Level: lint.Warning,
	Why: `Blade fuses come in fixed ratings, and what is bought instead of one that does not exist is a guess.
Ratings above 30 A are of other kinds of fuse, and are not judged.`,
	Formula: "1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25 or 30 A; load / 0.75 <= fuse <= ampacity of the wire",
	Do:      `Write the standard rating that carries the load and protects the wire.`,
	Sources: []string{"ISO 8820-3, blade fuse-links (ratings as in a fuse maker's selection guide)"},
	Bad:     instead(shelf, lowLead+`  fuse   = "5 A"`, lowLead+`  fuse   = "6 A"`),
	Good:    shelf,
	Check:   checkFuseNonstandard,
}

func checkFuseNonstandard(p *lint.Pass) {
	faults := p.Figures.Faults()
	largest := fuse.Ratings()[len(fuse.Ratings())-1]
	for _, l := range p.Figures.Leads {
		if !l.Fuse.Set || l.Fuse.Bad || l.Fuse.V.SI > largest || fuse.Standard(l.Fuse.V.SI) || fuseTooLarge(faults, l) {
			continue
		}
		if _, small := fuseTooSmall(p.Figures, l); small {
			continue // the remedy there is a standard fuse
		}
		beside := beside(l.Fuse.V.SI)
		f := lint.Finding{
			Subject: l.ID(), At: l.At(l.Fuse.At),
			Value:   &lint.Value{Got: l.Fuse.V.SI, Limit: beside[len(beside)-1], Unit: "A"},
			Message: fmt.Sprintf("%s: no blade fuse of %s is sold", l.ID(), l.Fuse.V),
		}
		f.Message += fmt.Sprintf("; the ratings beside it are %s", oneOf(beside))
		if l.OK {
			f.Propose = func() [][]lint.Proposal { return each(refuse(p.Figures, l)) }
		}
		p.Report(f)
	}
}

// beside lists the standard ratings next to one that is none.
func beside(amps float64) []float64 {
	var out []float64
	for _, r := range fuse.Ratings() {
		if r < amps {
			out = []float64{r}
		} else {
			return append(out, r)
		}
	}
	return out
}
