package ide

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// extract gives a name to a quantity that the plan says several times: each
// place of the same attribute with the same text then uses the name.
func (v *View) extract(h *hit) []Action {
	val := h.val()
	if h.part != onValue || val == nil || val.Kind != schema.TextVal || h.attr == nil || h.attr.Kind == schema.Values || ownText(h.nodes[0]) {
		return nil
	}
	if _, ok := v.quantityIn(h); !ok {
		return nil
	}
	if _, _, _, ok := v.Plan.Locate(val.At); !ok {
		return nil
	}
	var places []source.Span
	for _, p := range pieces(v.Plan.Files) {
		places = append(places, textsIn(p, h.assign.Name, val.Text)...)
	}
	if len(places) < 2 {
		return nil
	}
	name := h.assign.Name
	for i := 2; ; i++ {
		if _, taken := v.Plan.Let(name); !taken {
			break
		}
		name = h.assign.Name + "_" + strconv.Itoa(i)
	}
	var edits []schema.Edit
	for _, at := range places {
		edits = append(edits, schema.Edit{At: at, New: "let." + name})
	}
	where, ok := v.letInsert(name, strconv.Quote(val.Text))
	if !ok {
		return nil
	}
	return v.offer(Action{Title: fmt.Sprintf("Name %q, written %d times, let.%s", val.Text, len(places), name), Kind: RefactorExtract}, append(edits, where))
}

// ownText reports that a block's values are its own: those of lets, and readings, whose digits say how finely was read.
func ownText(n *schema.Node) bool { return n.Type == "let" || n.Type == "reading" }

// textsIn finds a text in the values of attributes of a name.
func textsIn(p *source.Piece, attr, written string) []source.Span {
	var out []source.Span
	var walk func(v *schema.Val)
	walk = func(v *schema.Val) {
		if v.Kind == schema.TextVal && v.Text == written {
			out = append(out, v.At)
		}
		for _, x := range v.Items {
			walk(x)
		}
	}
	var block func(n *schema.Node)
	block = func(n *schema.Node) {
		for _, a := range n.Assigns {
			if a.Name == attr {
				walk(a.Val)
			}
		}
		for _, c := range n.Blocks {
			block(c)
		}
	}
	for _, n := range schema.NodesIn(p) {
		if !ownText(n) {
			block(n)
		}
	}
	return out
}

// letInsert is the edit that adds a named value: to the plan's let block, else
// in one behind the plan block, else at the top.
func (v *View) letInsert(name, value string) (schema.Edit, bool) {
	var after *schema.Node
	for _, p := range pieces(v.Plan.Files) {
		for _, n := range schema.NodesIn(p) {
			switch n.Type {
			case "let":
				return schema.InsertAttr(n, name, value), true
			case "plan":
				after = n
			}
		}
	}
	block := fmt.Sprintf("let {\n  %s = %s\n}", name, value)
	if after != nil {
		return schema.InsertBehind(after, block), true
	}
	if len(v.Plan.Files) == 0 || len(v.Plan.Files[0].Pieces) == 0 {
		return schema.Edit{}, false
	}
	return schema.Edit{At: source.Span{Piece: v.Plan.Files[0].Pieces[0]}, New: block + "\n\n"}, true
}

// convertUnit writes a quantity in another unit.
func (v *View) convertUnit(h *hit) []Action {
	val := h.val()
	if h.part != onValue || val == nil || val.Kind != schema.TextVal {
		return nil
	}
	q, ok := v.quantityIn(h)
	// Gauges of the two systems are different wires, prices have no fixed rate.
	if !ok || q.Dim() == quantity.Gauge || q.Dim() == quantity.Money {
		return nil
	}
	var out []Action
	offer := func(written string) {
		again, err := quantity.ParseFor(q.Dim(), written)
		if err != nil || written == val.Text || len(out) == 6 {
			return
		}
		title := fmt.Sprintf("Write it as %q", written)
		if d := math.Abs(again.SI - q.SI); d > 1e-9*math.Abs(q.SI) {
			if d > 0.02*math.Abs(q.SI) {
				return
			}
			title += " (rounded)"
		}
		out = append(out, v.offer(Action{Title: title, Kind: RefactorRewrite}, []schema.Edit{{At: val.At, New: strconv.Quote(written)}})...)
	}
	if q.Dim() == quantity.Length && q.SI >= 0.3048 && !strings.Contains(val.Text, "ft") {
		offer(feetInches(q.SI))
	}
	for _, u := range quantity.Units(q.Dim()) {
		n := quantity.InUnit(q.SI, u)
		if u.Symbol == q.Unit.Symbol && !strings.Contains(strings.TrimSpace(val.Text), " ft ") || n != 0 && (math.Abs(n) < 0.01 || math.Abs(n) >= 1e5) {
			continue
		}
		offer(inUnit(q, u))
	}
	return out
}

// rounded is what a length may be off in another unit, m: less than moves a pad (see
// pixels.Tolerance), and far less than what a shape that closes may be off.
const rounded = 3e-6

// inUnit writes a quantity in another unit: a length with as few digits as it can, anything
// else with six.
func inUnit(q schema.Quantity, u quantity.Unit) string {
	n := quantity.InUnit(q.SI, u)
	text := ""
	for digits := 3; digits <= 6; digits++ {
		text = quantity.Number(n, digits) + unitGap(u.Symbol) + u.Symbol
		if again, err := quantity.ParseFor(q.Dim(), text); q.Dim() == quantity.Length && err == nil && math.Abs(again.SI-q.SI) <= rounded {
			break
		}
	}
	return text
}

// measure writes a length in the unit of another, as a value.
func measure(like schema.Quantity, metres float64) string {
	like.SI = metres
	return strconv.Quote(inUnit(like, like.Unit))
}

// placeAt writes a place in a unit, as a value; x and y in m.
func placeAt(x, y float64, u quantity.Unit) string {
	in := schema.Quantity{Unit: u}
	return "[" + measure(in, x) + ", " + measure(in, y) + "]"
}
