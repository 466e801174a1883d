package ide

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

// value proposes what a value may start with.
func (p *proposer) value() {
	a := p.declaration()
	if a == nil {
		return
	}
	_, inner := p.block()
	var in frame
	if len(inner) > 0 {
		in = inner[len(inner)-1]
	}
	switch {
	case p.inside(templateFrame):
		return
	case in.kind == mapFrame && in.open > 0 && in.equal < 0:
		p.letterKeys(a)
		return
	case in.kind == indexFrame:
		p.indexes(a)
		return
	case in.kind == callFrame:
		p.argument(a, in)
		return
	}
	switch a.Kind {
	case schema.Choice, schema.Enclosure, schema.Letters, schema.Colour:
		for _, o := range p.options(a) {
			p.add(0, p.option(a, o, true))
		}
	case schema.Boolean:
		for _, o := range []string{"true", "false"} {
			it := Item{Label: o, Kind: ValueItem}
			if a.Default == o {
				it.Detail = "default"
			}
			p.add(0, it)
		}
	case schema.Integer:
		p.integers(a)
		if a.Name != "pin" {
			p.lets(a, "")
		}
	case schema.Measure:
		p.measures(a)
	case schema.Measures, schema.Coordinates, schema.Polyline:
		if in.kind == listFrame {
			p.measures(a)
		} else {
			p.example(a)
		}
	case schema.LetterMeasure, schema.LetterShare:
		if in.kind == 0 && a.Kind == schema.LetterShare {
			p.example(a)
			return
		}
		p.measures(a)
		if in.kind == 0 {
			p.example(a)
		}
	case schema.Reference:
		p.propose(p.blocks(a), "")
		p.entries(2, a.Types, "")
	case schema.References, schema.OrderedRuns:
		p.listOf(a, in)
	case schema.Place:
		p.propose(p.places(a), "")
	case schema.RuleNames:
		if in.kind == listFrame {
			p.rules(true, p.ruleNamesHere())
		} else {
			p.example(a)
		}
	case schema.Directories:
		if in.kind == listFrame {
			p.folders(true)
		} else {
			p.example(a)
		}
	case schema.Values:
		p.lets(a, "")
		p.functions()
	case schema.Date, schema.Text:
		p.example(a)
	}
}

// listOf proposes runs for a list; outside of the brackets a whole list.
func (p *proposer) listOf(a *schema.Attr, in frame) {
	runs := p.runs(a)
	if in.kind != listFrame {
		for _, c := range runs {
			p.add(c.rank, Item{Label: "[" + c.text + "]", Kind: ReferenceItem, Detail: c.note, Key: c.key, Filter: c.text})
		}
		return
	}
	p.propose(runs, "")
	if a.Kind == schema.OrderedRuns {
		for _, name := range []string{"from_end", "in_turn"} {
			p.function(name)
		}
	}
}

// example proposes the value that the declaration shows, to be typed over.
func (p *proposer) example(a *schema.Attr) {
	if a.Example == "" {
		return
	}
	s := &snippet{}
	s.value(a, a.Example)
	p.add(4, Item{Label: a.Example, Kind: ValueItem, Detail: "example", Text: s.plain.String(), Snippet: s.stops.String()})
}

// option makes an item of one of a fixed set of values.
func (p *proposer) option(a *schema.Attr, o schema.Option, quotes bool) Item {
	it := Item{Label: o.Value, Kind: ValueItem, Detail: o.Doc}
	if a.Kind == schema.Colour {
		it.Kind = ColourItem
	}
	if quotes {
		it.Text = strconv.Quote(o.Value)
		it.Label = it.Text
		it.Filter = o.Value
	}
	if a.Default == strconv.Quote(o.Value) {
		it.Note = "default"
	}
	if len(a.Choices) > 0 {
		it.Key = "option:" + typePath(p.types()) + "." + a.Name + "=" + o.Value
	}
	return it
}

// options lists the values of an attribute that has a set of usual ones.
func (p *proposer) options(a *schema.Attr) []schema.Option {
	switch a.Kind {
	case schema.Choice:
		return a.Choices
	case schema.Enclosure: // the codes that strips, supplies and boxes are sold with; IEC 60529
		return []schema.Option{{Value: "IP20", Doc: "no protection from water"}, {Value: "IP44", Doc: "splashing water"}, {Value: "IP54", Doc: "dust and splashing water"},
			{Value: "IP65", Doc: "dust-tight, water jets"}, {Value: "IP67", Doc: "dust-tight, short immersion"}, {Value: "IP68", Doc: "dust-tight, lasting immersion"}}
	case schema.Letters:
		var out []schema.Option
		for _, l := range []string{"GRB", "RGB", "BGR", "BRG", "GRBW", "RGBW", "GRBCW", "RGBCW", "W"} {
			var names []string
			for _, c := range l {
				names = append(names, strings.Fields(letterNames[string(c)])[0])
			}
			out = append(out, schema.Option{Value: l, Doc: strings.Join(names, ", ")})
		}
		return out
	case schema.Colour:
		return []schema.Option{{Value: "#ffffff", Doc: "all channels full"}, {Value: "#ffb070", Doc: "warm"}, {Value: "#ff9040", Doc: "lantern"}, {Value: "#ff0000", Doc: "red"},
			{Value: "#00ff00", Doc: "green"}, {Value: "#0000ff", Doc: "blue"}, {Value: "#000000", Doc: "dark"}}
	}
	return nil
}

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
	if p.v.Figures == nil {
		return 0, false
	}
	for _, r := range p.v.Figures.Runs {
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
		it := Item{Label: strconv.Quote(o.Value), Kind: ValueItem, Detail: o.Doc, Filter: o.Value}
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
		return out
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

// fuses lists the standard ratings for the lead at the cursor: those that carry
// its current and protect its wire first.
func (p *proposer) fuses() []schema.Option {
	suits := func(float64) string { return "" }
	var out, rest []schema.Option
	if f := p.v.Figures; f != nil {
		for i, l := range f.Leads {
			if l.Node != p.outer() || !l.OK {
				continue
			}
			load, known := p.v.load(i)
			suits = func(r float64) string {
				switch {
				case !fuse.Protects(r, l.Ampacity):
					return ""
				case !known:
					return "protects the wire"
				case fuse.Carries(r, load):
					return "carries the current and protects the wire"
				}
				return ""
			}
			break
		}
	}
	for _, r := range fuse.Ratings() {
		o := schema.Option{Value: quantity.Number(r, 3) + " A"}
		if o.Doc = suits(r); o.Doc != "" {
			out = append(out, o)
		} else {
			rest = append(rest, o)
		}
	}
	return append(out, rest...)
}

// functions proposes the functions that give a quantity.
func (p *proposer) functions() {
	for _, f := range schema.Functions {
		if f.Name != "from_end" && f.Name != "in_turn" {
			p.function(f.Name)
		}
	}
}

func (p *proposer) function(name string) {
	f, ok := schema.FunctionNamed(name)
	if !ok {
		return
	}
	label, _ := call(f)
	it := Item{Label: name, Kind: FunctionItem, Detail: label, Key: "function:" + name, Again: true}
	next := p.token(p.last + 1)
	if p.token(p.last).Range.End.Byte < p.at || next.Type != hclsyntax.TokenOParen {
		it.Text, it.Snippet = name+"()", name+"($0)"
	}
	p.add(4, it)
}

// argument proposes what stands in the parentheses of a function.
func (p *proposer) argument(a *schema.Attr, in frame) {
	switch in.word {
	case "from_end":
		p.propose(p.runs(a), "")
	case "in_turn":
		var all []candidate
		for _, c := range p.runs(a) {
			if strings.HasSuffix(c.text, "-all") {
				all = append(all, c)
			}
		}
		p.propose(all, "")
	case "scale":
		if in.items == 1 {
			p.add(0, Item{Label: `"50 %"`, Kind: ValueItem, Detail: "a share"})
			p.add(0, Item{Label: "2", Kind: ValueItem, Detail: "a number"})
			p.lets(&schema.Attr{Kind: schema.Measure, Dim: quantity.Share}, "")
			return
		}
		p.measures(a)
	default:
		p.measures(a)
	}
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
	t, ok := p.v.find(steps[0], steps[1])
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
		if p.v.Figures != nil {
			if i := p.v.runIndex(b); i >= 0 && p.v.Figures.Runs[i].OK {
				n := p.v.Figures.Runs[i].Pixels
				p.add(0, Item{Label: strconv.Itoa(n / 2), Kind: ValueItem, Detail: fmt.Sprintf("its middle; it has %s", quantity.Count(n, "pixel"))})
			}
		}
		p.lets(&schema.Attr{Kind: schema.Measure, Dim: quantity.Length}, "")
	}
}

// stepsUpTo reads the steps of the reference whose last word is a token.
func (p *proposer) stepsUpTo(last int) []string {
	t := p.token(last)
	if t.Type != hclsyntax.TokenIdent {
		return nil
	}
	return append(p.stepsBefore(last-1), string(t.Bytes))
}

// letterKeys proposes the channel letters that a map does not have yet: those
// of the strip, where it says.
func (p *proposer) letterKeys(a *schema.Attr) {
	if a.Kind != schema.LetterMeasure && a.Kind != schema.LetterShare {
		return
	}
	letters := schema.ChannelLetters
	for _, b := range p.v.copies(p.outer()) {
		if s, ok := b.(*schema.Strip); ok && s.Channels.Known() {
			letters = s.Channels.V
		}
	}
	have := map[string]bool{}
	f := p.top()
	depth := 0
	for i := f.open + 1; i < len(p.tokens) && depth >= 0; i++ {
		switch p.tokens[i].Type {
		case hclsyntax.TokenOBrace:
			depth++
		case hclsyntax.TokenCBrace:
			depth--
		case hclsyntax.TokenEqual, hclsyntax.TokenColon:
			if depth == 0 {
				have[string(p.tokens[i-1].Bytes)] = true
			}
		}
	}
	for _, l := range letters {
		if have[string(l)] {
			continue
		}
		it := Item{Label: string(l), Kind: AttributeItem, Detail: letterNames[string(l)], Text: string(l) + ` = ""`}
		s := &snippet{}
		s.text(string(l) + ` = "`)
		s.stop(map[bool]string{true: "100 %", false: quantity.Example(a.Dim)}[a.Kind == schema.LetterShare])
		s.text(`"`)
		it.Text, it.Snippet = s.plain.String(), s.stops.String()
		p.add(0, it)
	}
}

// wantedDimension is the dimension of a quantity at the place.
func (p *proposer) wantedDimension(a *schema.Attr) quantity.Dimension {
	if p.top().kind == indexFrame {
		return quantity.Length
	}
	return dimensionOf(a)
}
