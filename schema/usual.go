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
		"What each block has for itself (its places, its shape, like, times) cannot be usual; parts of stock and of the catalogue do not ask for it. " +
		"Several kinds may stand behind it, as in usual \"run\" \"joint\" { on = surface.wall }: what only some of them have holds for those.",
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
	return a.Name == "times" || Moves(a.Name)
}

// TypeOf is the declaration of a top-level block with a type and labels: what
// a usual block takes depends on the kinds that its labels name.
func TypeOf(name string, labels ...string) (*BlockType, bool) {
	t, ok := TypeNamed(name)
	if t != usualType || len(labels) == 0 {
		return t, ok
	}
	if len(labels) > 1 {
		return usualOf(labels), true
	}
	if u := usualTypes[labels[0]]; u != nil {
		return u, true
	}
	return t, ok
}

// usualOf is the declaration of one that speaks of several kinds: it has what any of
// them has, and stands for one of each. It is of none where a label names no kind.
func usualOf(kinds []string) *BlockType {
	u := *usualType
	u.makes = makeUsual
	all := &BlockType{Name: strings.Join(kinds, " or ")}
	for _, kind := range kinds {
		k := usualTypes[kind]
		if k == nil {
			all = nil
			break
		}
		all.Attrs = append(all.Attrs, k.Of.Attrs...)
		all.Blocks = append(all.Blocks, k.Of.Blocks...)
	}
	u.Of = all
	for _, kind := range kinds {
		if k := usualTypes[kind]; k != nil {
			u.Attrs = append(u.Attrs, slices.DeleteFunc(slices.Clone(k.Attrs), func(a Attr) bool { _, has := u.Attr(a.Name); return has })...)
		}
	}
	return &u
}

// makeUsual makes one for each kind, with what that has.
func makeUsual(m *making) {
	for _, kind := range m.node.Labels {
		t := usualTypes[kind.Text]
		if t == nil {
			continue // the block itself says so
		}
		var has []*Assign
		for _, a := range m.node.Assigns {
			if _, ok := t.Attr(a.Name); ok {
				has = append(has, a)
			}
		}
		m.add(usualType.Name, kind.Text, kind.At, has...)
	}
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
	for _, kind := range u.Node.Labels {
		if usualTypes[kind.Text] != nil {
			continue
		}
		u.Broken = true
		kinds := UsualKinds()
		p := r.report(RuleValueUnknown, kind.At, "usual is about a kind of block, and %q is none that it can be about; it takes %s%s", kind.Text, strings.Join(kinds, ", "), suggestion(kind.Text, kinds))
		if best, ok := nearest(kind.Text, kinds); ok {
			p.fix("Write "+best, GradeChoice, Edit{kind.At, strconv.Quote(best)})
		}
	}
	for _, a := range e.assigns {
		said := u.Node.Quiet
		for _, kind := range u.Node.Labels {
			t := usualTypes[kind.Text]
			if t == nil {
				continue
			}
			attr, ok := t.Attr(a.Name)
			if !ok {
				continue
			}
			_, ok = r.convert(attr, a.Val, r.scope, &u.Header, !said)
			if !ok && said && !u.Node.Quiet { // fine for the kind before
				r.convert(attr, a.Val, r.scope, &u.Header, true)
			}
			if said = true; !ok {
				u.Broken = true
				break
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
