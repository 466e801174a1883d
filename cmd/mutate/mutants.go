package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"

	"golang.org/x/tools/go/packages"
)

// mutant is one small change. It is written as text put in or replaced, so that
// any number of them stand in one file.
type mutant struct {
	pkg   *packages.Package
	file  string
	at    string // file:line:column, for people
	what  string
	edits []edit
}

// edit puts text, in which # is the mutant's number, in place of some bytes.
type edit struct {
	at, out int
	text    string
	side    side
	number  int // of its mutant
}

// side orders edits at one offset: what ends there, what stands there, what
// begins there.
type side int

const (
	suffix side = iota
	middle
	prefix
)

// mutants finds every change in a package, from its first file's top down, an
// outer expression before what it holds.
func mutants(p *packages.Package) ([]*mutant, error) {
	cwd, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	f := finder{p: p, cwd: cwd}
	for _, file := range p.Syntax {
		if !ast.IsGenerated(file) {
			ast.PreorderStack(file, nil, f.visit)
		}
	}
	return f.found, nil
}

type finder struct {
	p     *packages.Package
	cwd   string
	found []*mutant
}

// wrap notes a mutant that stands around a node.
func (f *finder) wrap(n ast.Node, what, before, after string, more ...edit) {
	a, z := f.p.Fset.Position(n.Pos()), f.p.Fset.Position(n.End())
	name := a.Filename
	if rel, err := filepath.Rel(f.cwd, a.Filename); err == nil {
		name = rel
	}
	f.found = append(f.found, &mutant{
		pkg: f.p, file: a.Filename, what: what, at: fmt.Sprintf("%s:%d:%d", name, a.Line, a.Column),
		edits: append([]edit{{at: a.Offset, text: before, side: prefix}, {at: z.Offset, text: after, side: suffix}}, more...),
	})
}

func (f *finder) visit(n ast.Node, stack []ast.Node) bool {
	var parent ast.Node
	if len(stack) > 0 {
		parent = stack[len(stack)-1]
	}
	switch n := n.(type) {
	case *ast.ArrayType:
		return false
	case *ast.GenDecl:
		return n.Tok == token.VAR
	case ast.Stmt:
		f.statement(n, parent, stack)
	case ast.Expr:
		return f.expression(n, parent)
	}
	return true
}

func (f *finder) statement(s ast.Stmt, parent ast.Node, stack []ast.Node) {
	if r, ok := s.(*ast.ReturnStmt); ok {
		f.results(r, stack)
		return
	}
	switch parent.(type) {
	case *ast.BlockStmt, *ast.CaseClause:
	default:
		return
	}
	switch s := s.(type) {
	case *ast.ExprStmt:
		if c, ok := s.X.(*ast.CallExpr); ok {
			if id, ok := c.Fun.(*ast.Ident); ok && id.Name == "panic" {
				return // what follows would lack a return
			}
		}
	case *ast.AssignStmt:
		if s.Tok == token.DEFINE {
			return
		}
	case *ast.IncDecStmt:
	case *ast.BranchStmt:
		if s.Tok != token.BREAK && s.Tok != token.CONTINUE {
			return
		}
	default:
		return
	}
	f.wrap(s, "leave out the statement", "if !mutantOn(#) { ", " }")
}

// results notes mutants of what a function returns.
func (f *finder) results(r *ast.ReturnStmt, stack []ast.Node) {
	var sig *types.Signature
	for _, n := range slices.Backward(stack) {
		if fn, ok := n.(*ast.FuncLit); ok {
			sig, _ = f.p.TypesInfo.TypeOf(fn).(*types.Signature)
		} else if fn, ok := n.(*ast.FuncDecl); ok {
			sig, _ = f.p.TypesInfo.TypeOf(fn.Name).(*types.Signature)
		}
		if sig != nil {
			break
		}
	}
	if sig == nil || sig.Results().Len() != len(r.Results) {
		return
	}
	for i, x := range r.Results {
		tv := f.p.TypesInfo.Types[x]
		_, binary := x.(*ast.BinaryExpr) // has mutants of its own
		switch want := sig.Results().At(i).Type(); {
		case binary || tv.IsNil():
		case types.Identical(want, types.Typ[types.Bool]):
			f.wrap(x, "return the opposite", "mutantOn(#) != (", ")")
		case tv.Value == nil && types.Identical(tv.Type, want):
			f.wrap(x, "return nothing", "mutantZero(#, ", ")")
		}
	}
}

func (f *finder) expression(x ast.Expr, parent ast.Node) bool {
	tv := f.p.TypesInfo.Types[x]
	if tv.IsType() {
		return false
	}
	if kv, ok := parent.(*ast.KeyValueExpr); ok && kv.Key == x {
		return false
	}
	if tv.Value != nil {
		f.constant(x, tv.Type)
		return false
	}
	b, ok := x.(*ast.BinaryExpr)
	if !ok {
		switch s := parent.(type) {
		case *ast.IfStmt:
			if s.Cond == x {
				f.wrap(x, "the opposite", "mutantOn(#) != (", ")")
			}
		case *ast.ForStmt:
			if s.Cond == x {
				f.wrap(x, "the opposite", "mutantOn(#) != (", ")")
			}
		}
		return true
	}
	at := f.p.Fset.Position(b.OpPos).Offset
	between := func(text string) edit { return edit{at: at, out: len(b.Op.String()), text: text, side: middle} }
	operand := f.p.TypesInfo.TypeOf(b.X)
	if t := f.p.TypesInfo.TypeOf(b.Y); is(operand, types.IsUntyped) {
		operand = t
	}
	if _, generic := operand.(*types.TypeParam); generic {
		return true
	}
	switch b.Op {
	case token.EQL, token.NEQ:
		f.wrap(b, "the opposite of "+b.Op.String(), "(mutantOn(#) != (", "))")
	case token.LSS, token.LEQ, token.GTR, token.GEQ:
		f.wrap(b, "the opposite of "+b.Op.String(), "(mutantOn(#) != (", "))")
		f.wrap(b, b.Op.String()+" with or without equal", "mutant"+compared[b.Op]+"(#, ", ")", between(","))
	case token.LAND:
		f.wrap(b, "|| for &&", "mutantAnd(#, ", " })", between(", func() bool { return"))
	case token.LOR:
		f.wrap(b, "&& for ||", "mutantOr(#, ", " })", between(", func() bool { return"))
	case token.ADD, token.SUB, token.MUL, token.QUO:
		if is(operand, types.IsInteger|types.IsFloat) {
			f.wrap(b, "another operator than "+b.Op.String(), "mutant"+computed[b.Op]+"(#, ", ")", between(","))
		}
	}
	return true
}

var compared = map[token.Token]string{token.LSS: "Less", token.LEQ: "LessEqual", token.GTR: "Greater", token.GEQ: "GreaterEqual"}

var computed = map[token.Token]string{token.ADD: "Add", token.SUB: "Sub", token.MUL: "Mul", token.QUO: "Div"}

// constant notes a mutant of a number that is written out.
func (f *finder) constant(x ast.Expr, t types.Type) {
	basic, ok := t.(*types.Basic)
	if !ok || basic.Kind() != types.Float64 && basic.Kind() != types.Int {
		return
	}
	written := false
	ast.Inspect(x, func(n ast.Node) bool {
		_, lit := n.(*ast.BasicLit)
		written = written || lit
		return true
	})
	if written {
		f.wrap(x, "another number", "mutantNumber["+basic.Name()+"](#, ", ")")
	}
}

func is(t types.Type, what types.BasicInfo) bool {
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&what != 0
}
