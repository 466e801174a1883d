package source

import (
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// repair mends the ranges that the HCL parser leaves unset or turned around in unfinished expressions, which all end
// at or before end, so that every range of the tree can be used to slice the piece.
func repair(body *hclsyntax.Body, end int) {
	for _, a := range body.Attributes {
		closeCalls(a.Expr, a.SrcRange.End)
		if !ordered(a.Expr, end) {
			a.Expr = &hclsyntax.ExprSyntaxError{
				Placeholder: cty.DynamicVal,
				SrcRange:    hcl.Range{Start: a.EqualsRange.End, End: a.SrcRange.End},
			}
		}
	}
	for _, b := range body.Blocks {
		repair(b.Body, end)
	}
}

// closeCalls ends each function call that has no closing parenthesis where its statement ends.
func closeCalls(e hclsyntax.Expression, end hcl.Pos) {
	hclsyntax.VisitAll(e, func(n hclsyntax.Node) hcl.Diagnostics {
		if call, ok := n.(*hclsyntax.FunctionCallExpr); ok && call.CloseParenRange.End.Byte == 0 {
			call.CloseParenRange = hcl.Range{Start: end, End: end}
		}
		return nil
	})
}

// ordered reports whether no range in an expression ends before its start or behind end.
func ordered(e hclsyntax.Expression, end int) bool {
	ok := true
	hclsyntax.VisitAll(e, func(n hclsyntax.Node) hcl.Diagnostics {
		r := n.Range()
		ok = ok && r.Start.Byte <= r.End.Byte && r.End.Byte <= end
		return nil
	})
	return ok
}
