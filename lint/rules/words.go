package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// after is the edit that puts top-level blocks behind one, or behind that which it stands in.
func after(n *schema.Node, text string) schema.Edit { return schema.InsertBehind(n.Outermost(), text) }

// freeName is a name that no block of the type has yet.
func freeName(p *schema.Plan, typeName, wish string) string {
	name := wish
	for n := 2; ; n++ {
		if !p.Taken(typeName, name) {
			return name
		}
		name = fmt.Sprintf("%s-%d", wish, n)
	}
}

// named joins names in a sentence: "a", "a and b", "a, b, c and 3 more".
func named(ids []string) string {
	if n := len(ids); n > 4 {
		return fmt.Sprintf("%s and %d more", strings.Join(ids[:3], ", "), n-3)
	}
	return quantity.And(ids)
}

// idsOf lists the addresses of blocks.
func idsOf[B interface{ ID() string }](blocks []B) []string {
	var out []string
	for _, b := range blocks {
		out = append(out, b.ID())
	}
	return out
}

// anyOf writes values of which each will do: "5 V, 9 V or 12 V".
func anyOf(qs []schema.Quantity) string {
	var out []string
	for _, q := range qs {
		out = append(out, q.String())
	}
	return quantity.Or(out)
}

// count writes a number with the noun that goes with it.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// lengthLike writes a length to cut or measure, m, in the unit of another,
// rounded up to what a tape shows: a millimetre, or a sixteenth of an inch.
func lengthLike(q schema.Quantity, si float64) string {
	inch := quantity.Quantity{SI: si}
	for _, u := range quantity.Units(quantity.Length) {
		if u.Symbol == "in" {
			inch.Unit = u
		}
	}
	switch q.Unit.Symbol {
	case "in", "ft", "yd", "inch", "inches", "foot", "feet":
		m := upTo(si, 0.0254/16)
		if feet := math.Floor(m/0.3048 + 1e-9); feet >= 3 && q.Unit.Symbol[0] == 'f' { // "14 ft 2 in" beside "5 ft", and not "170 in"
			out := strconv.Itoa(int(feet)) + " ft"
			if rest := m - feet*0.3048; rest > 1e-9 {
				out += " " + inch.With(rest).Exact()
			}
			return out
		}
		return inch.With(m).Exact()
	case "":
		q = quantity.Of(quantity.Length, si)
	}
	if si >= 1 && (q.Unit.Symbol == "cm" || q.Unit.Symbol == "mm") {
		q = quantity.Of(quantity.Length, si) // "10.3 m" beside "30 cm", and not "1030 cm"
	}
	return q.With(upTo(si, 0.001)).Exact()
}

// upTo rounds up to a multiple of a step, allowing for noise of one part in a million.
func upTo(x, step float64) float64 { return math.Ceil(x/step-1e-6) * step }
