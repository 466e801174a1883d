package ide

import (
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/quantity"
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
	case schema.Measure, schema.MeasureEach:
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
	case schema.Places:
		p.fed(a, in)
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

// fed proposes places for a list, behind what can be fed as a whole; outside of the brackets a whole list.
func (p *proposer) fed(a *schema.Attr, in frame) {
	list := p.candidates(a)
	if in.kind == listFrame {
		p.propose(list, "")
		return
	}
	for _, c := range list {
		p.add(c.rank, Item{Label: "[" + c.text + "]", Kind: ReferenceItem, Detail: c.note, Key: c.key, Filter: c.text})
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
			{Value: "IP65", Doc: "dust-tight, water jets"}, {Value: "IP67", Doc: "dust-tight, short immersion"}, {Value: "IP68", Doc: "dust-tight, lasting immersion"}, {Value: "IP66/IP67", Doc: "dust-tight, strong jets and short immersion"}}
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
