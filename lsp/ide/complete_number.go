package ide

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// integers proposes numbers: pins, counted pixels, else default and example.
func (p *proposer) integers(a *schema.Attr) {
	switch {
	case a.Name == "pin":
		p.pins()
		return
	case a.Name == "pixels":
		if n, ok := p.countedPixels(); ok {
			p.add(0, Item{Label: strconv.Itoa(n), Kind: ValueItem, Detail: "what fits its length"})
			return
		}
	}
	if a.Default != "" {
		p.add(0, Item{Label: a.Default, Kind: ValueItem, Detail: "default"})
	}
	if a.Example != a.Default && a.Example != "" {
		p.add(4, Item{Label: a.Example, Kind: ValueItem, Detail: "example"})
	}
}

// countedPixels is how many pixels fit the run at the cursor.
func (p *proposer) countedPixels() (int, bool) {
	f := p.figures()
	if f == nil {
		return 0, false
	}
	for _, r := range f.Runs {
		if r.Node == p.outer() && r.Counted.Pixels > 0 {
			return r.Counted.Pixels, true
		}
	}
	return 0, false
}

// pins proposes the pins of the controller's board: good ones first, those that
// another port has and those that never work last.
func (p *proposer) pins() {
	var c *schema.Controller
	for _, b := range p.v.copies(p.outer()) {
		c, _ = b.(*schema.Controller)
	}
	if c == nil || c.Board.V == nil {
		return
	}
	here := p.node()
	taken := map[int]string{}
	for _, port := range c.Ports {
		if port.Node != here && port.Pin.Set && !port.Pin.Bad {
			taken[port.Pin.V] = port.Name
		}
	}
	ranks := map[string]int{"good": 0, "care": 1, "never": 3}
	board := schema.HeaderOf(c.Board.V)
	for _, pin := range c.Board.V.Pins {
		n, ok := pin.Number()
		if !ok || !pin.Use.Known() {
			continue
		}
		it := Item{Label: pin.Name, Kind: ValueItem, Detail: pin.Use.V, Key: "pin:" + board.ID() + "/" + pin.Name, Worse: pin.Use.V == "never"}
		if pin.Because.Known() && pin.Because.V != "" {
			it.Detail += ": " + pin.Because.V
		}
		rank := ranks[pin.Use.V]
		if by, ok := taken[n]; ok {
			rank, it.Note = 4, "taken by port "+by
			it.Worse = true
		}
		p.add(rank, it)
	}
}

// measures proposes whole quantities: usual values, then a number to type with
// each unit, then named values and functions.
func (p *proposer) measures(a *schema.Attr) {
	for _, o := range p.usual(a) {
		it := Item{Label: strconv.Quote(o.Value), Kind: ValueItem, Detail: o.Doc, Filter: o.Value, Worse: strings.HasPrefix(o.Doc, not)}
		p.add(0, it)
	}
	p.lets(a, "")
	d := dimensionOf(a)
	for i, u := range quantity.Units(d) {
		if i == 6 {
			break
		}
		between := unitGap(u.Symbol)
		p.add(2, Item{Label: `"…` + between + u.Symbol + `"`, Kind: UnitItem, Detail: d.String(), Text: `"` + between + u.Symbol + `"`, Snippet: `"${1}` + between + escapes.Replace(u.Symbol) + `"`, Filter: u.Symbol})
	}
	p.functions()
}

// unitGap is what stands between a number and its unit.
func unitGap(symbol string) string {
	if strings.HasPrefix(symbol, "/") {
		return ""
	}
	return " "
}

// usual lists values that an attribute often has: computed ones, those of a
// standard, the default.
func (p *proposer) usual(a *schema.Attr) []schema.Option {
	var out []schema.Option
	switch {
	case a.Name == "fuse":
		return p.fuses()
	case len(p.lengths()) > 0:
		return p.lengths()
	case a.Dim == quantity.Gauge:
		for _, awg := range []bool{true, false} {
			for _, g := range wire.Standard(awg) {
				o := schema.Option{Value: g.String(), Doc: quantity.Number(g.Area()*1e6, 3) + " mm2"}
				if amps0, err := wire.BaseAmpacity(g); err == nil {
					o.Doc += ", carries " + amps(amps0)
				}
				out = append(out, o)
			}
		}
		return p.gauges(out)
	case slices.Contains([]string{"mains", "input", "selector"}, a.Name):
		out = append(out, schema.Option{Value: "120 V"}, schema.Option{Value: "230 V"})
	}
	for _, s := range []struct{ text, why string }{{a.Default, "default"}, {a.Example, "example"}} {
		value, err := strconv.Unquote(s.text)
		if err != nil || slices.ContainsFunc(out, func(o schema.Option) bool { return o.Value == value }) {
			continue
		}
		out = append(out, schema.Option{Value: value, Doc: s.why})
	}
	if d := dimensionOf(a); len(out) == 0 && d != quantity.None {
		out = append(out, schema.Option{Value: quantity.Example(d), Doc: "example"})
	}
	return out
}

// not begins what is said of a value that does not do.
const not = "does not "

// fuses lists the standard ratings for the lead at the cursor: those that carry
// its current and protect its wire first.
func (p *proposer) fuses() []schema.Option {
	f, l := p.leadHere()
	kind := fuse.Commonest()
	does := func(float64) string { return "" }
	if l != nil {
		kind = *l.Device
		fit, load, known := fuseFor(f, l)
		if known {
			kind = *fit.Kind
		}
		does = func(r float64) string {
			switch {
			case !kind.Protects(r, l.Ampacity):
				return not + "protect a wire of " + amps(l.Ampacity)
			case !known:
				return "protects the wire"
			case !kind.Carries(r, load):
				return not + "carry " + amps(load)
			case !slices.Contains(fit.Ratings, r):
				return not + "protect what is joined to it, which may carry " + amps(min(f.Behind(l), l.RailLimit()))
			}
			return "carries " + amps(load) + " and protects the wire"
		}
	}
	var out []schema.Option
	for _, r := range kind.Ratings {
		out = append(out, schema.Option{Value: quantity.Number(r, 3) + " A", Doc: does(r)})
	}
	return suitableFirst(out)
}

func suitableFirst(list []schema.Option) []schema.Option {
	slices.SortStableFunc(list, func(a, b schema.Option) int {
		return cmp.Compare(rankOf(a), rankOf(b))
	})
	return list
}

func rankOf(o schema.Option) int {
	if strings.HasPrefix(o.Doc, not) {
		return 1
	}
	return 0
}

// gauges says of sizes of the wire at the cursor whether they carry what the leads do that are made of it.
func (p *proposer) gauges(sizes []schema.Option) []schema.Option {
	n, f := p.outer(), p.figured()
	if n == nil || n.Type != "wire" || f == nil {
		return sizes
	}
	most, of := 0.0, ""
	var by *figures.Lead
	for _, l := range f.Leads {
		if !l.OK || l.Wire.V == nil || l.Wire.V.Node.Type != "wire" || l.Wire.V.Node.Label() != n.Label() {
			continue
		}
		f.Need(l.Lead)
		if w := f.WorstLead(l); w.OK && w.Value/l.Shared/float64(l.Parallel.V) > most {
			most, of, by = w.Value/l.Shared/float64(l.Parallel.V), l.ID(), l
		}
	}
	if by == nil {
		return sizes
	}
	for i := range sizes {
		q, err := quantity.ParseFor(quantity.Gauge, sizes[i].Value)
		if err != nil {
			continue
		}
		if carries, err := f.TableAmpacity(wire.Of(q), by.Wire.V); err == nil && carries < most {
			sizes[i].Doc = not + "carry the " + amps(most) + " of " + of
		}
	}
	return suitableFirst(sizes)
}

// indexes proposes what stands in brackets behind a reference: outputs of a
// supply, places along a run.
func (p *proposer) indexes(a *schema.Attr) {
	_, inner := p.block()
	open := inner[len(inner)-1].open
	steps := p.stepsUpTo(open - 1)
	if a.Kind != schema.Place || len(steps) < 2 {
		return
	}
	t, ok := p.v.findIn(p.outer(), steps[0], steps[1])
	if !ok {
		return
	}
	switch b := t.block.(type) {
	case *schema.Supply:
		if len(steps) == 3 && steps[2] == "out" && b.Outputs.Known() {
			for i := 1; i <= min(b.Outputs.V, 64); i++ {
				p.add(0, Item{Label: strconv.Itoa(i), Kind: ValueItem, Detail: "output"})
			}
		}
	case *schema.Run:
		p.add(0, Item{Label: `"1 m"`, Kind: ValueItem, Detail: "a distance from the start", Snippet: `"${1:1 m}"`})
		if f := p.figures(); f != nil {
			if r, ok := f.Run(b); ok && r.OK {
				p.add(0, Item{Label: strconv.Itoa(r.Pixels / 2), Kind: ValueItem, Detail: fmt.Sprintf("its middle; it has %s", quantity.Count(r.Pixels, "pixel"))})
			}
		}
		p.lets(&schema.Attr{Kind: schema.Measure, Dim: quantity.Length}, "")
	}
}

// wantedDimension is the dimension of a quantity at the place.
func (p *proposer) wantedDimension(a *schema.Attr) quantity.Dimension {
	if p.top().kind == indexFrame {
		return quantity.Length
	}
	return dimensionOf(a)
}
