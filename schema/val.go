package schema

import (
	"strconv"
	"sync/atomic"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"ohmstead/calc/quantity"
	"ohmstead/schema/source"
)

// ValKind is the shape of an expression as written.
type ValKind int

// The shapes of expressions.
const (
	BadVal    ValKind = iota // not usable; a syntax problem says why, or Why does
	TextVal                  // "3.2 m"
	NumberVal                // 4
	BoolVal                  // true
	RefVal                   // supply.brick.out[2]
	ListVal                  // [a, b]
	MapVal                   // { R = "20 mA" }
	CallVal                  // sum(a, b)
)

// Val is an expression as written: text, number, reference, list, map or call.
type Val struct {
	Kind   ValKind
	At     source.Span
	Text   string  // of TextVal and, as written, of NumberVal; of a RefVal that is put together
	Number float64 // of NumberVal
	Bool   bool
	Steps  []RefStep // of RefVal: the root first
	Items  []*Val    // of ListVal, MapVal (the values) and CallVal (the arguments)
	Keys   []Name    // of MapVal
	Func   Name      // of CallVal
	read   atomic.Pointer[reading]
	Why    string // of BadVal: what is not part of the language
}

// Listed are the items of a list; what is none is a list of itself alone.
func (v *Val) Listed() []*Val {
	if v.Kind == ListVal {
		return v.Items
	}
	return []*Val{v}
}

// reading is the quantity that a text was last read as: pieces of text outlive
// the versions of a plan, and so does what their texts say.
type reading struct {
	dim quantity.Dimension
	q   Quantity
}

// quantity reads a text as a quantity of a dimension.
func (v *Val) quantity(dim quantity.Dimension) (Quantity, error) {
	if r := v.read.Load(); r != nil && r.dim == dim {
		return r.q, nil
	}
	q, err := quantity.ParseFor(dim, v.Text)
	if err == nil {
		v.read.Store(&reading{dim, q})
	}
	return q, err
}

// RefStep is one step of a reference: a name, or an index in brackets.
type RefStep struct {
	Name  string
	Index *Val // nil for a name
	At    source.Span
}

// deepest bounds the nesting of expressions; the parser's guard lies above it.
const deepest = 64

// readVal reads an expression of the language: HCL's literals, tuples,
// objects, traversals and calls. Everything else is refused with a reason.
func readVal(p *source.Piece, e hclsyntax.Expression, depth int) *Val {
	v := &Val{At: span(p, e.Range())}
	bad := func(why string) *Val {
		v.Kind, v.Why = BadVal, why
		return v
	}
	if depth > deepest {
		return bad("nested too deeply")
	}
	switch e := e.(type) {
	case *hclsyntax.TemplateExpr:
		if !e.IsStringLiteral() && len(e.Parts) > 0 {
			return bad("text with ${ } in it; write the reference without quotes")
		}
		v.Kind = TextVal
		if len(e.Parts) > 0 {
			lit, diags := e.Parts[0].Value(nil)
			if diags.HasErrors() || lit.IsNull() || !lit.IsKnown() || lit.Type() != cty.String {
				return bad("")
			}
			v.Text = lit.AsString()
		}
	case *hclsyntax.TemplateWrapExpr:
		return bad("a reference in quotes; write it without \"${ }\"")
	case *hclsyntax.LiteralValueExpr:
		return literal(v, e.Val)
	case *hclsyntax.UnaryOpExpr:
		if e.Op != hclsyntax.OpNegate {
			return bad("an operator; the language has quantities and the functions sum, difference, scale, least, greatest and round_to")
		}
		inner := readVal(p, e.Val, depth+1)
		if inner.Kind != NumberVal {
			return bad("a minus sign before something that is not a number; inside quotes it works: \"-3 cm\"")
		}
		v.Kind, v.Number, v.Text = NumberVal, -inner.Number, "-"+inner.Text
	case *hclsyntax.ParenthesesExpr:
		inner := readVal(p, e.Expression, depth+1)
		inner.At = v.At
		return inner
	case *hclsyntax.ScopeTraversalExpr:
		return traversal(p, v, e.Traversal)
	case *hclsyntax.RelativeTraversalExpr:
		inner := readVal(p, e.Source, depth+1)
		if inner.Kind != RefVal {
			return bad("a path behind something that is not a reference")
		}
		rest := traversal(p, &Val{At: v.At}, e.Traversal)
		v.Kind, v.Steps = RefVal, append(append([]RefStep{}, inner.Steps...), rest.Steps...)
	case *hclsyntax.IndexExpr:
		inner := readVal(p, e.Collection, depth+1)
		if inner.Kind != RefVal {
			return bad("an index behind something that is not a reference")
		}
		v.Kind = RefVal
		v.Steps = append(append([]RefStep{}, inner.Steps...), RefStep{Index: readVal(p, e.Key, depth+1), At: span(p, e.BracketRange)})
	case *hclsyntax.TupleConsExpr:
		v.Kind = ListVal
		for _, x := range e.Exprs {
			v.Items = append(v.Items, readVal(p, x, depth+1))
		}
	case *hclsyntax.ObjectConsExpr:
		v.Kind = MapVal
		for _, item := range e.Items {
			key := Name{At: span(p, item.KeyExpr.Range())}
			if kw := hcl.ExprAsKeyword(item.KeyExpr); kw != "" {
				key.Text = kw
			} else if k := readVal(p, unwrapKey(item.KeyExpr), depth+1); k.Kind == TextVal {
				key.Text = k.Text
			}
			v.Keys = append(v.Keys, key)
			v.Items = append(v.Items, readVal(p, item.ValueExpr, depth+1))
		}
	case *hclsyntax.FunctionCallExpr:
		v.Kind, v.Func = CallVal, Name{e.Name, span(p, e.NameRange)}
		for _, x := range e.Args {
			v.Items = append(v.Items, readVal(p, x, depth+1))
		}
	case *hclsyntax.BinaryOpExpr, *hclsyntax.ConditionalExpr, *hclsyntax.ForExpr, *hclsyntax.SplatExpr:
		return bad("a computed expression; the language has the functions sum, difference, scale, least, greatest and round_to instead")
	default:
		return bad("")
	}
	return v
}

func unwrapKey(e hclsyntax.Expression) hclsyntax.Expression {
	if k, ok := e.(*hclsyntax.ObjectConsKeyExpr); ok {
		return k.Wrapped
	}
	return e
}

func literal(v *Val, x cty.Value) *Val {
	switch {
	case x.IsNull() || !x.IsKnown():
		v.Kind, v.Why = BadVal, "no value; leave the attribute out instead"
	case x.Type() == cty.Bool:
		v.Kind, v.Bool = BoolVal, x.True()
	case x.Type() == cty.Number:
		v.Kind = NumberVal
		v.Number, _ = x.AsBigFloat().Float64()
		v.Text = string(v.At.Piece.Bytes()[v.At.Start:v.At.End])
	default:
		v.Kind = BadVal
	}
	return v
}

func traversal(p *source.Piece, v *Val, t hcl.Traversal) *Val {
	v.Kind = RefVal
	for _, s := range t {
		switch s := s.(type) {
		case hcl.TraverseRoot:
			v.Steps = append(v.Steps, RefStep{Name: s.Name, At: span(p, s.SrcRange)})
		case hcl.TraverseAttr:
			at := span(p, s.SrcRange)
			at.Start = at.End - len(s.Name) // without the dot
			v.Steps = append(v.Steps, RefStep{Name: s.Name, At: at})
		case hcl.TraverseIndex:
			at := span(p, s.SrcRange)
			ix := &Val{At: at}
			switch {
			case !s.Key.IsKnown(): // what looked like a number is none, as 1e-9e-9; the parser has told so
				v.Kind = BadVal
				return v
			case s.Key.Type() == cty.String:
				ix.Kind, ix.Text = TextVal, s.Key.AsString()
			case s.Key.Type() == cty.Number:
				ix.Kind = NumberVal
				ix.Number, _ = s.Key.AsBigFloat().Float64()
				ix.Text = strconv.FormatFloat(ix.Number, 'g', -1, 64)
			}
			v.Steps = append(v.Steps, RefStep{Index: ix, At: at})
		default:
			v.Kind = BadVal
		}
	}
	return v
}

// String shows a reference as written.
func (v *Val) String() string {
	if v.Kind == RefVal && v.Text != "" {
		return v.Text
	}
	if v.At.Piece == nil {
		return ""
	}
	return string(v.At.Piece.Bytes()[v.At.Start:v.At.End])
}
