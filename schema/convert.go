package schema

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// convert turns an expression into the value that an attribute wants. Where it
// cannot, it reports why and returns false. Problems of inherited values (own
// is false) are reported where they are written, not again. of is the block
// that the value is for; nil where there is none.
func (r *resolver) convert(a *Attr, v *Val, sc *scope, of *Header, own bool) (any, bool) {
	c := conversion{r: r, a: a, sc: sc, of: of, own: own}
	return c.value(a.Kind, v)
}

// conversion is one attribute on its way to its typed value.
type conversion struct {
	r   *resolver
	a   *Attr
	sc  *scope
	of  *Header // whose value it is; its Copy says what NAME-each means
	own bool
	via []*LetValue // lets being followed
	use *Val        // where the first of them was used

	part string // of the value, for messages: " R" of a map by channel letter
}

// fail reports a problem at v, or at the use of the let that led to it.
func (c *conversion) fail(rule string, v *Val, format string, args ...any) *Problem {
	if !c.own {
		return &Problem{}
	}
	if c.use == nil {
		return c.r.report(rule, v.At, format, args...)
	}
	p := c.r.report(rule, c.use.At, "%s: %s", c.use, fmt.Sprintf(format, args...))
	return p.related(v.At, "its value is written here")
}

func (c *conversion) value(k Kind, v *Val) (any, bool) {
	defer c.back(c.trail())
	v = c.follow(v)
	if v == nil {
		return nil, false
	}
	if v.Kind == BadVal {
		if v.Why != "" && c.own {
			c.r.badValue(v, c.wants(k))
		}
		return nil, false
	}
	switch k {
	case Text:
		return c.text(v, k)
	case Choice:
		return c.choice(v)
	case Integer:
		return c.integer(v)
	case Boolean:
		if v.Kind != BoolVal {
			return c.mismatch(v, k)
		}
		return v.Bool, true
	case Measure:
		return c.measure(v, c.a.Dim)
	case Measures, MeasureEach:
		return list(c, v, func(x *Val) (Quantity, bool) { return c.measure(x, c.a.Dim) })
	case LetterMeasure:
		return c.letters(v)
	case LetterShare:
		return c.shares(v)
	case Coordinates:
		return c.coordinates(v)
	case Polyline:
		return c.polyline(v)
	case Reference:
		return c.reference(v)
	case References:
		return list(c, v, func(x *Val) (*Run, bool) {
			b, ok := c.reference(x)
			run, isRun := b.(*Run)
			return run, ok && isRun
		})
	case OrderedRuns:
		return list(c, v, c.orderedRun)
	case Places:
		return list(c, v, c.fed)
	case Place:
		if len(c.a.Types) > 0 {
			return c.fed(v)
		}
		return c.point(v)
	case Letters:
		return c.channelOrder(v)
	case Colour:
		return c.colour(v)
	case RuleNames:
		return list(c, v, c.ruleName)
	case Directories:
		return list(c, v, func(x *Val) (Name, bool) {
			s, ok := c.text(x, Text)
			if !ok {
				return Name{}, false
			}
			return Name{s.(string), x.At}, true
		})
	case Date:
		return c.date(v)
	case Enclosure:
		return c.enclosure(v)
	}
	return nil, false
}

// wants says what belongs here, as Takes does, with how it is written.
func (c *conversion) wants(k Kind) string {
	what := c.a.takes(k)
	switch k {
	case Text, Boolean:
		return what
	case Choice:
		return "one of " + optionList(c.a.Choices)
	case Integer:
		return what + " without quotes"
	case Measure:
		what += " in quotes"
	case Place: // the kinds that it takes are too many for a sentence
		what = "a place"
	}
	return what + ", such as " + c.a.Example
}

func optionList(os []Option) string {
	var out []string
	for _, o := range os {
		out = append(out, strconv.Quote(o.Value))
	}
	return strings.Join(out, ", ")
}

var valNames = map[ValKind]string{
	TextVal: "text", NumberVal: "a bare number", BoolVal: "a yes or no", RefVal: "a reference",
	ListVal: "a list", MapVal: "a map", CallVal: "a function call",
}

func (c *conversion) mismatch(v *Val, k Kind) (any, bool) {
	is := "is " + valNames[v.Kind]
	if v.Kind == RefVal && len(v.Steps) == 1 {
		is = "stands without quotes"
	}
	p := c.fail(RuleValueKind, v, "%s %s; %s takes %s", clip(v.String()), is, c.a.Name, c.wants(k))
	switch {
	case c.use != nil:
	case v.Kind == TextVal && k == Boolean:
		if b, ok := yesNo[strings.ToLower(v.Text)]; ok {
			p.fix("Write "+b, GradeChoice, Edit{v.At, b})
		}
	case v.Kind == TextVal && (k == Integer && plainNumber().MatchString(v.Text) || (k == Reference || k == Place) && plainPath().MatchString(v.Text)):
		p.fix("Write "+v.Text+" without quotes", GradeChoice, Edit{v.At, v.Text})
	case v.Kind == NumberVal && (k == Text || k == Date):
		p.fix("Write it in quotes", GradeChoice, Edit{v.At, strconv.Quote(v.Text)})
	case v.Kind == RefVal && (k == Text || k == Choice) && len(v.Steps) == 1:
		p.fix("Write it in quotes", GradeChoice, Edit{v.At, strconv.Quote(v.String())})
	}
	return nil, false
}

// What a text in quotes must look like to be meant without them.
var (
	plainNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9]{1,9}$`) })
	plainPath   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z]+(\.[A-Za-z0-9_-]+)+$`) })
	yesNo       = map[string]string{"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}
)

// clip keeps a quoted value short enough for a message.
func clip(s string) string {
	if i := strings.IndexByte(s, '\n'); i >= 0 {
		s = s[:i] + " …"
	}
	if len(s) > 60 {
		s = s[:57] + "…"
	}
	return s
}

func (r *resolver) badValue(v *Val, wants string) {
	if v.Why != "" {
		r.report(RuleValueKind, v.At, "%s is %s (%s belongs here)", clip(v.String()), v.Why, wants)
	}
}

// list reads each item of a list; one by itself is a list of it.
func list[T any](c *conversion, v *Val, each func(*Val) (T, bool)) (any, bool) {
	items := v.Listed()
	if n := c.spreads(items); n > mostItems {
		c.fail(RuleValueRange, v, "a list of %d items; at most %d are read", n, mostItems)
		return nil, false
	}
	out := make([]T, 0, len(items))
	ok := true
	for _, x := range c.spread(items) {
		w := c.trail()
		switch item := c.follow(x); {
		case item == nil:
			ok = false
		case item.Kind == BadVal:
			c.r.badValue(item, "a value as in "+c.a.Example)
			ok = false
		default:
			if t, good := each(item); good {
				out = append(out, t)
			} else {
				ok = false
			}
		}
		c.back(w)
	}
	return out, ok
}

func (c *conversion) text(v *Val, k Kind) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, k)
	}
	return v.Text, true
}

func (c *conversion) choice(v *Val) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, Choice)
	}
	var names []string
	for _, o := range c.a.Choices {
		if o.Value == v.Text {
			return v.Text, true
		}
		names = append(names, o.Value)
	}
	p := c.fail(RuleValueUnknown, v, "%q is not a value of %s; it takes %s%s", v.Text, c.a.Name, optionList(c.a.Choices), suggestion(v.Text, names))
	if best, ok := nearest(v.Text, names); ok {
		p.fix("Write "+best, GradeChoice, Edit{v.At, strconv.Quote(best)})
	}
	return nil, false
}

func (c *conversion) integer(v *Val) (any, bool) {
	if v.Kind == CallVal {
		return c.callInteger(v)
	}
	if v.Kind != NumberVal {
		return c.mismatch(v, Integer)
	}
	if v.Number != float64(int64(v.Number)) || v.Number > 1e15 || v.Number < -1e15 {
		c.fail(RuleValueKind, v, "%s is not a whole number; %s counts in whole numbers", clip(v.Text), c.a.Name)
		return nil, false
	}
	if !c.a.allows(v.Number) {
		c.fail(RuleValueRange, v, "%s is %s; it takes %s", c.a.Name, clip(v.Text), c.a.limits(quantity.Unit{}))
		return nil, false
	}
	return int(v.Number), true
}

// measure reads a quantity and checks its range.
func (c *conversion) measure(v *Val, dim quantity.Dimension) (Quantity, bool) {
	q, ok := c.quantity(v, dim)
	if !ok {
		return q, false
	}
	if !c.a.allows(q.SI) {
		c.outOfRange(v, q)
		return q, false
	}
	return q, true
}

// quantity reads a quantity of a dimension from text or a function.
func (c *conversion) quantity(v *Val, dim quantity.Dimension) (Quantity, bool) {
	defer c.back(c.trail())
	v = c.follow(v)
	if v == nil {
		return Quantity{}, false
	}
	switch v.Kind {
	case TextVal:
		q, err := v.quantity(dim)
		if err == nil {
			return q, true
		}
		c.quantityError(v, dim, err)
	case NumberVal:
		p := c.fail(RuleUnitMissing, v, "%s is a bare number; %s belongs here, in quotes and with its unit, such as %q", clip(v.Text), dim, quantity.Example(dim))
		c.offerUnits(p, v, v.Text, dim)
	case CallVal:
		return c.callQuantity(v, dim)
	case BadVal:
		c.r.badValue(v, dim.String())
	default:
		c.fail(RuleValueKind, v, "%s is %s where %s belongs, such as %q", clip(v.String()), valNames[v.Kind], dim, quantity.Example(dim))
	}
	return Quantity{}, false
}

func (c *conversion) offerUnits(p *Problem, v *Val, number string, dim quantity.Dimension) {
	if c.use != nil || !c.own {
		return
	}
	units := quantity.Units(dim)
	for i, u := range units {
		if i == 4 {
			break
		}
		q := number + " " + u.Symbol
		if strings.HasPrefix(u.Symbol, "/") {
			q = number + u.Symbol
		}
		if _, err := quantity.ParseFor(dim, q); err == nil {
			p.fix(fmt.Sprintf("Write %q", q), onlyOf(len(units)), Edit{v.At, strconv.Quote(q)})
		}
	}
}

func (c *conversion) quantityError(v *Val, dim quantity.Dimension, err error) {
	var qe *quantity.Error
	if !errors.As(err, &qe) {
		return
	}
	rule := RuleValueKind
	switch {
	case errors.Is(err, quantity.ErrNoUnit):
		rule = RuleUnitMissing
	case errors.Is(err, quantity.ErrUnknownUnit):
		rule = RuleUnitUnknown
	case errors.Is(err, quantity.ErrDimension):
		rule = RuleDimension
	case errors.Is(err, quantity.ErrRange):
		rule = RuleValueRange
	}
	p := c.fail(rule, v, "%s", qe.Message)
	switch {
	case rule == RuleUnitMissing:
		c.offerUnits(p, v, qe.Number, dim)
	case rule == RuleUnitUnknown:
		var symbols []string
		for _, u := range quantity.Units(dim) {
			if q, err := quantity.ParseFor(dim, qe.Number+" "+u.Symbol); err == nil && c.a.allows(q.SI) {
				symbols = append(symbols, u.Symbol)
			}
		}
		best, ok := quantity.Meant(dim, qe.Unit)
		if !ok {
			best, ok = nearest(qe.Unit, symbols)
		}
		if ok && c.use == nil {
			p.Message += fmt.Sprintf("; did you mean %q?", qe.Number+" "+best)
			p.fix(fmt.Sprintf("Write %q", qe.Number+" "+best), GradeChoice, Edit{v.At, strconv.Quote(qe.Number + " " + best)})
		}
	case rule == RuleDimension && c.use == nil:
		if meant, ok := quantity.Meant(dim, qe.Unit); ok {
			p.Message = problemOf(p.Message) + fmt.Sprintf("; did you mean %q?", qe.Number+" "+meant)
			p.fix(fmt.Sprintf("Write %q", qe.Number+" "+meant), GradeChoice, Edit{v.At, strconv.Quote(qe.Number + " " + meant)})
		} else if dim == quantity.Current && qe.Found == quantity.Power {
			c.offerAmps(p, v)
		}
		c.offerPlace(p, v, qe.Found)
	case strings.Contains(v.Text, ",") && rule == RuleValueKind && c.use == nil:
		if point := strings.ReplaceAll(v.Text, ",", "."); point != v.Text {
			if _, err := quantity.ParseFor(dim, point); err == nil {
				p.fix(fmt.Sprintf("Write %q", point), GradeNotation, Edit{v.At, strconv.Quote(point)})
			}
		}
	}
}

// problemOf is a message without what to do, where that is an example and better advice follows.
func problemOf(message string) string {
	what, _, _ := strings.Cut(message, "; write one, such as")
	return what
}

// offerAmps offers the current of a power where the block says the voltage too.
func (c *conversion) offerAmps(p *Problem, v *Val) {
	p.Message = problemOf(p.Message) + "; amperes are the watts divided by the volts"
	power, err := quantity.ParseFor(quantity.Power, v.Text)
	if err != nil || c.of == nil {
		return
	}
	for _, name := range []string{"output", "voltage"} {
		a, said := c.of.Node.Assign(name)
		if !said {
			continue
		}
		if volts, err := quantity.ParseFor(quantity.Voltage, a.Val.Text); err == nil && volts.SI > 0 {
			amps := quantity.Number(power.SI/volts.SI, 3) + " A"
			p.Message += fmt.Sprintf(": %s / %s = %s", v.Text, a.Val.Text, amps)
			p.fix(fmt.Sprintf("Write %q", amps), GradeChoice, Edit{v.At, strconv.Quote(amps)})
			return
		}
	}
}

// offerPlace offers to write a value in the attribute that is of its dimension: where that has one of this one's, the two
// were mixed up.
func (c *conversion) offerPlace(p *Problem, v *Val, found quantity.Dimension) {
	if c.of == nil {
		return
	}
	here, own := c.of.Node.Assign(c.a.Name)
	if !own || here.Val != v {
		return
	}
	for i := range c.of.Type.Attrs {
		b := &c.of.Type.Attrs[i]
		if b.Kind != Measure || b.Dim != found {
			continue
		}
		there, said := c.of.Node.Assign(b.Name)
		switch {
		case !said && b.Required:
			p.fix("Write it as "+b.Name, GradeChoice, Edit{here.NameAt, b.Name})
		case said && there.Val.Kind == TextVal:
			if _, err := quantity.ParseFor(c.a.Dim, there.Val.Text); err == nil {
				p.fix(fmt.Sprintf("Exchange %s and %s", c.a.Name, b.Name), GradeChoice, Edit{v.At, there.Val.String()}, Edit{there.Val.At, v.String()})
			}
		}
	}
}

func (c *conversion) letters(v *Val) (any, bool) {
	if v.Kind != MapVal {
		q, ok := c.measure(v, c.a.Dim)
		return ByLetter{All: q}, ok
	}
	by, ok := c.byLetter(v)
	return ByLetter{Letters: by}, ok
}

func (c *conversion) shares(v *Val) (any, bool) {
	if v.Kind != MapVal {
		return c.mismatch(v, LetterShare)
	}
	out := map[string]float64{}
	by, ok := c.byLetter(v)
	for letter, q := range by {
		out[letter] = q.SI
	}
	return out, ok
}

// byLetter reads a map of quantities by channel letter.
func (c *conversion) byLetter(v *Val) (map[string]Quantity, bool) {
	out := map[string]Quantity{}
	ok := true
	for i, key := range v.Keys {
		if !c.letter(key) {
			ok = false
			continue
		}
		c.part = " " + key.Text
		q, good := c.measure(v.Items[i], c.a.Dim)
		ok = ok && good
		out[key.Text] = q
	}
	return out, ok
}

// ChannelLetters are the letters that a channel may have.
const ChannelLetters = "RGBWCA"

func (c *conversion) letter(key Name) bool {
	if len(key.Text) == 1 && strings.Contains(ChannelLetters, key.Text) {
		return true
	}
	c.fail(RuleValueUnknown, &Val{At: key.At}, "%q is not a channel letter; %s takes R, G, B, W, C and A", key.Text, c.a.Name)
	return false
}

func (c *conversion) coordinates(v *Val) (XY, bool) {
	if v.Kind != ListVal || len(v.Items) != 2 {
		c.fail(RuleValueKind, v, "%s is not a place; write it as [right, up], such as [\"3 cm\", \"1 m\"]", clip(v.String()))
		return XY{}, false
	}
	x, okx := c.measure(v.Items[0], c.a.Dim)
	y, oky := c.measure(v.Items[1], c.a.Dim)
	return XY{x.SI, y.SI}, okx && oky
}

func (c *conversion) polyline(v *Val) (any, bool) {
	if v.Kind != ListVal {
		c.fail(RuleValueKind, v, "%s is %s; %s takes a list in brackets, such as %s", clip(v.String()), valNames[v.Kind], c.a.Name, c.a.Example)
		return nil, false
	}
	x, ok := list(c, v, func(x *Val) (XY, bool) { return c.coordinates(x) })
	if !ok {
		return nil, false
	}
	if len(x.([]XY)) < 2 {
		c.fail(RuleValueKind, v, "%s needs at least two places", c.a.Name)
		return nil, false
	}
	return x, true
}

func (c *conversion) channelOrder(v *Val) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, Letters)
	}
	seen := map[rune]bool{}
	for _, l := range v.Text {
		if !strings.ContainsRune(ChannelLetters, l) || seen[l] {
			c.fail(RuleValueUnknown, v, "%q is not an order of channels; each of R, G, B, W, C, A stands in it at most once, such as \"GRB\" or \"GRBW\"", v.Text)
			return nil, false
		}
		seen[l] = true
	}
	if len(seen) == 0 {
		c.fail(RuleValueUnknown, v, "an empty order of channels; write for example \"GRB\"")
		return nil, false
	}
	return v.Text, true
}

var hexColour = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})$`) })

func (c *conversion) colour(v *Val) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, Colour)
	}
	m := hexColour().FindStringSubmatch(v.Text)
	if m == nil {
		c.fail(RuleValueUnknown, v, "%q is not a colour; write # and six hexadecimal digits, such as \"#ffb070\"", clip(v.Text))
		return nil, false
	}
	h := m[1]
	if len(h) == 3 {
		h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
	}
	n, _ := strconv.ParseUint(h, 16, 32)
	return RGB{float64(n>>16&255) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}, true
}

func (c *conversion) ruleName(v *Val) (Name, bool) {
	switch {
	case v.Kind == TextVal:
		return Name{v.Text, v.At}, true
	case v.Kind == RefVal && len(v.Steps) == 1:
		return Name{v.Steps[0].Name, v.At}, true
	}
	c.fail(RuleValueKind, v, "%s is %s; a rule is named in quotes, such as \"rate-low\"", clip(v.String()), valNames[v.Kind])
	return Name{}, false
}

func (c *conversion) date(v *Val) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, Date)
	}
	if _, err := time.Parse(time.DateOnly, v.Text); err != nil {
		c.fail(RuleValueUnknown, v, "%q is not a day; write year, month, day, such as \"2026-05-01\"", clip(v.Text))
		return nil, false
	}
	return v.Text, true
}

// ipCode takes several classes too: "IP66/IP68" is tested for jets and for immersion.
var ipCode = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^IP[0-6X][0-9X]K?(/IP[0-6X][0-9X]K?)*$`) })

func (c *conversion) enclosure(v *Val) (any, bool) {
	if v.Kind != TextVal {
		return c.mismatch(v, Enclosure)
	}
	if !ipCode().MatchString(v.Text) {
		c.fail(RuleValueUnknown, v, "%q is not a protection class; IEC 60529 writes IP and two digits, such as \"IP67\"", clip(v.Text))
		return nil, false
	}
	return v.Text, true
}

// readDefault reads a declared default.
func readDefault(a *Attr) (any, error) {
	text := source.NewText("default", []byte("x = "+a.Default+"\n"))
	f := source.Parse(text)
	r := newResolver("", version{})
	for _, p := range f.Pieces {
		for _, n := range nodesOf(p) {
			if i := slices.IndexFunc(n.Assigns, func(as *Assign) bool { return as.Name == "x" }); i >= 0 {
				v, ok := r.convert(a, n.Assigns[i].Val, r.scope, nil, true)
				if !ok {
					return nil, errors.New(r.plan.Problems[0].Message)
				}
				return v, nil
			}
		}
	}
	return nil, fmt.Errorf("cannot read %s", a.Default)
}
