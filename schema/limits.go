package schema

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// SizeLimit is how much of something is read or made at most.
type SizeLimit struct {
	What string
	Most int
}

// SizeLimits are what keeps the largest text from taking more time or memory
// than a machine has. Beyond them a finding says so, and nothing is judged that
// hangs on what is left out.
var SizeLimits = []SizeLimit{
	{"bytes of a file", source.MaxFile},
	{"top-level blocks of a file", source.MaxPieces},
	{"bytes of a top-level block", source.MaxPiece},
	{"brackets, blocks and operators open at one place", source.MaxDepth},
	{"lines of a heredoc", source.MaxLines},
	{"items of a list, copies included", mostItems},
	{"copies of one block that times makes", mostTimes},
	{"copies in a plan", mostCopies},
	{"blocks that short forms make in a plan", mostMade},
	{"runs listed in all orders of a plan", mostListed},
	{"leads that end at one run", MostFeeds},
	{"problems of the text that are shown of a plan", mostProblems},
}

// Limits says the range that a measure or number of the attribute must lie in,
// as "more than 0 V and at most 400 V"; "" where its values are no numbers.
func (a *Attr) Limits() string {
	switch {
	case a.Kind == Integer:
		return a.limits(quantity.Unit{})
	case a.Dim != quantity.None:
		return a.limits(quantity.Of(a.Dim, 0).Unit)
	}
	return ""
}

// limits says the range in a unit; what it names is allowed.
func (a *Attr) limits(unit quantity.Unit) string {
	low, high := "at least ", "at most "
	switch {
	case a.Above:
		low = "more than "
	case a.Dim == quantity.Gauge:
		low, high = "no thinner than ", "no thicker than "
	}
	show := func(si float64, below bool) string {
		if a.Kind == Integer {
			return quantity.Number(si, 12)
		}
		return quantity.Bound(si, unit, below)
	}
	return low + show(a.Least, false) + " and " + high + show(a.Most, true)
}

// allows reports whether an SI value lies in the attribute's range. What the
// detour over another unit adds to a limit is none of the reader's.
func (a *Attr) allows(si float64) bool {
	const rounding = 1e-12
	if a.Above && si <= a.Least {
		return false
	}
	return si >= a.Least-rounding*math.Abs(a.Least) && si <= a.Most+rounding*math.Abs(a.Most)
}

// outOfRange reports a quantity that is not allowed, and what may have been
// meant: the same without its minus, or the same number in another unit.
func (c *conversion) outOfRange(v *Val, q Quantity) {
	p := c.fail(RuleValueRange, v, "%s%s is %s; it takes %s", c.a.Name, c.part, q, c.a.limits(q.Unit))
	if v.Kind != TextVal || c.use != nil {
		return
	}
	meant := q.With(-q.SI)
	if q.SI >= 0 || !c.a.allows(meant.SI) {
		far := func(u quantity.Unit) float64 {
			powers := math.Abs(math.Log10(u.Factor / q.Unit.Factor))
			if math.Abs(powers-math.Round(powers)) > 1e-9 {
				powers += 10 // inches for metres only where nothing metric will do
			}
			return powers
		}
		units := slices.DeleteFunc(quantity.Units(q.Dim()), func(u quantity.Unit) bool {
			return u.Dim == quantity.Gauge || u.Dim == quantity.Money || !c.a.allows(q.As(u).SI)
		})
		if len(units) == 0 || len(strings.Fields(v.Text)) > 2 { // "16 ft 4 in" is no slip of the unit
			return
		}
		meant = q.As(slices.MinFunc(units, func(a, b quantity.Unit) int { return cmp.Compare(far(a), far(b)) }))
	}
	p.Message += "; did you mean " + strconv.Quote(meant.Exact()) + "?"
	p.fix("Write "+meant.Exact(), GradeChoice, Edit{v.At, strconv.Quote(meant.Exact())})
}
