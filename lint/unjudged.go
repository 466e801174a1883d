package lint

import (
	"errors"
	"fmt"
	"strings"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Unjudged is wiring whose currents and voltages could not be worked out, since
// something in it cannot be read: no rule has looked at these.
type Unjudged struct {
	At     source.Span // what cannot be read
	Blocks []string    // what hangs together with it, by address
}

func (u Unjudged) String() string {
	const most = 4
	named := u.Blocks[:min(most, len(u.Blocks))]
	text := strings.Join(named, ", ")
	if more := len(u.Blocks) - len(named); more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return "not judged until this is known: currents and voltages, and with them the wires and fuses, of " + text
}

// UnjudgedIn lists the wiring of a plan that was not judged, each stretch with the
// first thing in it that cannot be read.
func UnjudgedIn(plan *schema.Plan, fig *figures.Figures) (out []Unjudged) {
	for _, is := range fig.Islands {
		if !errors.Is(is.Err, figures.ErrPartial) {
			continue // a rule says why
		}
		u := Unjudged{At: unreadIn(plan, is.Unread)}
		for _, r := range is.Runs {
			u.Blocks = append(u.Blocks, r.ID())
		}
		for _, l := range is.Leads {
			u.Blocks = append(u.Blocks, l.ID())
		}
		out = append(out, u)
	}
	return out
}

// unreadIn is where the text of some block, or of one that it is made of, is wrong;
// the head of the first where no problem says so.
func unreadIn(plan *schema.Plan, unread []schema.Block) source.Span {
	for _, b := range unread {
		for _, about := range append([]schema.Block{b}, schema.NamedBy(b)...) {
			h := schema.HeaderOf(about)
			for _, p := range plan.Problems {
				if p.At.Piece == h.Node.Piece() && p.At.Start >= h.Node.Whole.Start && p.At.Start <= h.Node.Whole.End {
					return p.At
				}
			}
		}
	}
	return schema.HeaderOf(unread[0]).Head()
}
