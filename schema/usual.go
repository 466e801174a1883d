package schema

import (
	"slices"
	"strconv"
	"strings"
)

// Usual says what the blocks of one type have unless they, or what they are
// like, say otherwise.
type Usual struct{ Header }

var usualType = &BlockType{
	Name: "usual", Label: "kind of block", Unlike: true,
	Doc: "Says once what all blocks of a kind in the plan have, unless one says otherwise.",
	Detail: "What a block says itself or takes over with like wins, attribute by attribute. " +
		"What each block has for itself (its places, its shape, like, times) cannot be usual; parts of stock and of the catalogue do not ask for it.",
	Example: "usual \"signal\" {\n  wire = wire.data\n}",
	form:    func() former { return new(Usual) },
}

// usualTypes are the declarations of usual by the type that it speaks of.
var usualTypes = map[string]*BlockType{}

func init() {
	for _, t := range Language {
		if t.Label == "" || t.makes != nil || t == planType || t == usualType || t == orderType || t == assemblyType {
			continue
		}
		u := *usualType
		u.Of = t
		for _, a := range t.Attrs {
			if a.each() {
				continue
			}
			a.Required, a.Default = false, ""
			u.Attrs = append(u.Attrs, a)
		}
		usualTypes[t.Name] = &u
	}
}

// each reports whether an attribute is a block's own affair, and so never usual.
func (a *Attr) each() bool {
	switch a.Kind {
	case Place, Places, MeasureEach, Coordinates, Polyline, OrderedRuns, References:
		return true
	}
	return a.Name == "times"
}

// TypeOf is the declaration of a top-level block with a type and a label: what
// a usual block takes depends on the kind that its label names.
func TypeOf(name, label string) (*BlockType, bool) {
	t, ok := TypeNamed(name)
	if u := usualTypes[label]; t == usualType && u != nil {
		return u, true
	}
	return t, ok
}

// UsualKinds are the types of blocks that usual may speak of.
func UsualKinds() []string {
	var out []string
	for _, t := range Language {
		if usualTypes[t.Name] != nil {
			out = append(out, t.Name)
		}
	}
	return out
}

func (u *Usual) check(r *resolver, e *effective) {
	if u.Type.Of == nil {
		u.Broken = true
		kinds := UsualKinds()
		p := r.report(RuleValueUnknown, u.Node.Labels[0].At, "usual is about a kind of block, and %q is none that it can be about; it takes %s%s", u.Name, strings.Join(kinds, ", "), suggestion(u.Name, kinds))
		if best, ok := nearest(u.Name, kinds); ok {
			p.fix("Write "+best, GradeChoice, Edit{u.Node.Labels[0].At, strconv.Quote(best)})
		}
		return
	}
	for _, a := range e.assigns {
		if attr, ok := u.Type.Attr(a.Name); ok {
			if _, ok := r.convert(attr, a.Val, r.scope, &u.Header, true); !ok {
				u.Broken = true
			}
		}
	}
}

// usualFor is the block that says what is usual for one; nil where there is none.
func (r *resolver) usualFor(h *Header) Block {
	if !r.anyUsual || h.Home != InPlan || usualTypes[h.Type.Name] == nil {
		return nil
	}
	return r.scope.named[usualType.Name+"."+h.Type.Name]
}

// notUsual says why a block type's attribute cannot stand in a usual block; "" where it does not have it either.
func (t *BlockType) notUsual(name string) string {
	if t.Of == nil {
		return ""
	}
	a, ok := t.Of.Attr(name)
	if name != "like" && (!ok || !a.each()) && !slices.ContainsFunc(t.Of.Blocks, func(b *BlockType) bool { return b.Name == name }) {
		return ""
	}
	return name + " is each " + t.Of.Name + "'s own; write it in the " + t.Of.Name + " blocks"
}
