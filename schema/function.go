package schema

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
)

// Function is one of the language's functions on quantities.
type Function struct {
	Name   string
	Params []Param
	More   bool // the last parameter may be repeated
	Doc    string
	Detail string
	apply  func(args []float64) float64
}

// Param is a parameter of a function.
type Param struct{ Name, Doc string }

// Functions lists the language's functions. from_end and in_turn, which stand
// in an order, are listed for their documentation and compute no quantity.
var Functions = []Function{
	{Name: "sum", Params: []Param{{"value", "a quantity"}}, More: true, Doc: "Adds quantities of one dimension.", Detail: `sum("90 cm", let.gap)`,
		apply: func(xs []float64) float64 {
			t := 0.0
			for _, x := range xs {
				t += x
			}
			return t
		}},
	{Name: "difference", Params: []Param{{"from", "a quantity"}, {"less", "what is taken away"}}, More: true, Doc: "Takes the later quantities away from the first.", Detail: `difference("2 m", let.gap)`,
		apply: func(xs []float64) float64 {
			t := xs[0]
			for _, x := range xs[1:] {
				t -= x
			}
			return t
		}},
	{Name: "scale", Params: []Param{{"value", "a quantity"}, {"factor", "a plain number or a share in percent"}}, Doc: "Multiplies a quantity by a number.", Detail: `scale(let.step, 3)`},
	{Name: "least", Params: []Param{{"value", "a quantity"}}, More: true, Doc: "Picks the smallest of several quantities.", Detail: `least("5 m", let.span)`,
		apply: func(xs []float64) float64 {
			t := xs[0]
			for _, x := range xs {
				t = math.Min(t, x)
			}
			return t
		}},
	{Name: "greatest", Params: []Param{{"value", "a quantity"}}, More: true, Doc: "Picks the largest of several quantities.", Detail: `greatest("5 m", let.span)`,
		apply: func(xs []float64) float64 {
			t := xs[0]
			for _, x := range xs {
				t = math.Max(t, x)
			}
			return t
		}},
	{Name: "round_to", Params: []Param{{"value", "a quantity"}, {"step", "the step to round to"}}, Doc: "Rounds a quantity to the nearest multiple of a step.", Detail: `round_to(let.span, "5 cm")`,
		apply: func(xs []float64) float64 { return math.Round(xs[0]/xs[1]) * xs[1] }},
	{Name: "from_end", Params: []Param{{"run", "a run"}}, Doc: "In an order or a chain, takes a run from its end to its start; an assembly from its last run to its first.", Detail: "from_end(run.right)"},
	{Name: "in_turn", Params: []Param{{"runs", "the copies of a run: run.NAME-all"}}, More: true, Doc: "In an order, takes one run from each of several lists in turn.", Detail: "in_turn(run.out-all, run.back-all)"},
}

// FunctionNamed finds a function.
func FunctionNamed(name string) (*Function, bool) {
	for i := range Functions {
		if Functions[i].Name == name {
			return &Functions[i], true
		}
	}
	return nil, false
}

func functionNames() []string {
	var out []string
	for _, f := range Functions {
		out = append(out, f.Name)
	}
	return out
}

// elsewhere is what our functions are called in other languages.
var elsewhere = map[string]string{
	"add": "sum", "plus": "sum", "subtract": "difference", "minus": "difference", "sub": "difference",
	"multiply": "scale", "times": "scale", "mul": "scale", "min": "least", "max": "greatest", "round": "round_to",
}

// function finds and checks the function that v calls.
func (c *conversion) function(v *Val) (*Function, bool) {
	f, ok := FunctionNamed(v.Func.Text)
	if !ok {
		best, near := elsewhere[v.Func.Text]
		if !near {
			best, near = nearest(v.Func.Text, functionNames())
		}
		say := ""
		if near {
			say = fmt.Sprintf("; did you mean %q?", best)
		}
		p := c.fail(RuleFunction, &Val{At: v.Func.At}, "there is no function %q%s", v.Func.Text, say)
		if near {
			p.fix("Write "+best, GradeChoice, Edit{v.Func.At, best})
		}
		return nil, false
	}
	if f.apply == nil && f.Name != "scale" {
		c.fail(RuleFunction, v, "%s belongs in the runs of an order; it gives no quantity", f.Name)
		return nil, false
	}
	least := len(f.Params)
	if f.Name == "sum" || f.Name == "least" || f.Name == "greatest" {
		least = 1
	}
	if len(v.Items) < least || !f.More && len(v.Items) > least {
		var names []string
		for _, p := range f.Params {
			names = append(names, p.Name)
		}
		more := ""
		if f.More {
			more = ", …"
		}
		c.fail(RuleFunction, v, "%s takes (%s%s), not %s", f.Name, strings.Join(names, ", "), more, quantity.Count(len(v.Items), "argument"))
		return nil, false
	}
	return f, true
}

func (c *conversion) callQuantity(v *Val, dim quantity.Dimension) (Quantity, bool) {
	f, ok := c.function(v)
	if !ok {
		return Quantity{}, false
	}
	first, ok := c.quantity(v.Items[0], dim)
	if !ok {
		return Quantity{}, false
	}
	if f.Name == "scale" {
		k, ok := c.factor(v.Items[1])
		return first.With(first.SI * k), ok
	}
	args := []float64{first.SI}
	for _, x := range v.Items[1:] {
		q, good := c.quantity(x, dim)
		if !good {
			return Quantity{}, false
		}
		if dim == quantity.Money && q.Unit.Symbol != first.Unit.Symbol {
			c.fail(RuleDimension, x, "%s and %s are prices in two currencies; write both in one", first, q)
			return Quantity{}, false
		}
		args = append(args, q.SI)
	}
	if f.Name == "round_to" && args[1] <= 0 {
		c.fail(RuleValueRange, v.Items[1], "round_to needs a step above zero")
		return Quantity{}, false
	}
	return first.With(f.apply(args)), true
}

// factor reads the second argument of scale: 3, or "50 %".
func (c *conversion) factor(v *Val) (float64, bool) {
	defer c.back(c.trail())
	v = c.follow(v)
	if v == nil {
		return 0, false
	}
	if v.Kind == NumberVal {
		return v.Number, !math.IsInf(v.Number, 0)
	}
	q, ok := c.quantity(v, quantity.Share)
	return q.SI, ok
}

// callInteger computes a function of whole numbers.
func (c *conversion) callInteger(v *Val) (any, bool) {
	f, ok := c.function(v)
	if !ok {
		return nil, false
	}
	var args []float64
	for _, x := range v.Items {
		n, ok := c.factor(x)
		if !ok {
			return nil, false
		}
		args = append(args, n)
	}
	var n float64
	switch {
	case f.Name == "scale":
		n = args[0] * args[1]
	case f.Name == "round_to" && args[1] <= 0:
		c.fail(RuleValueRange, v.Items[1], "round_to needs a step above zero")
		return nil, false
	default:
		n = f.apply(args)
	}
	return c.integer(&Val{Kind: NumberVal, At: v.At, Number: n, Text: quantity.Number(n, 9)})
}
