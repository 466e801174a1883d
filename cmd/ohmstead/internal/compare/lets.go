package compare

import (
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// letChange is the entry of a named value.
func (t *teller) letChange(name string) *Block {
	if b, ok := t.lets[name]; ok {
		return b
	}
	was, _ := t.base.Plan.Let(name)
	is, _ := t.head.Plan.Let(name)
	b := &Block{What: BlockChanged, ID: "let." + name, Type: "let", Stock: is.Home == schema.InStock, Reach: []string{},
		Attrs: []Attr{{Name: "value", Was: letText(was.Val), Is: letText(is.Val)}}}
	t.lets[name] = b
	return b
}

func letText(v *schema.Val) string {
	if v.Kind == schema.TextVal {
		return v.Text
	}
	return strings.Join(strings.Fields(v.String()), " ")
}

// changedLets lists the named values used in a stretch of head, through others
// too, whose own text means something else than in base.
func (t *teller) changedLets(at source.Span) []string {
	var out []string
	seen := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		is, ok := t.head.Plan.Let(name)
		if !ok {
			return
		}
		if was, ok := t.base.Plan.Let(name); ok && !sameVal(was.Val, is.Val) {
			out = append(out, name)
		}
		for _, n := range letsIn(is.Val) {
			visit(n)
		}
	}
	for u := range t.head.Plan.Uses {
		if u.Let != nil && u.At.Piece == at.Piece && u.At.Start >= at.Start && u.At.End <= at.End {
			visit(u.Let.Name)
		}
	}
	slices.Sort(out)
	return out
}

func letsIn(v *schema.Val) []string {
	if v.Kind == schema.RefVal && len(v.Steps) == 2 && v.Steps[0].Name == "let" {
		return []string{v.Steps[1].Name}
	}
	var out []string
	for _, x := range v.Items {
		out = append(out, letsIn(x)...)
	}
	return out
}

// sameVal reports whether two expressions say the same, quantities whatever
// their unit.
func sameVal(a, b *schema.Val) bool {
	if a.Kind != b.Kind || len(a.Items) != len(b.Items) || a.Func.Text != b.Func.Text {
		return false
	}
	switch a.Kind {
	case schema.TextVal:
		return a.Text == b.Text || sameQuantity(a.Text, b.Text)
	case schema.NumberVal:
		return a.Number == b.Number
	case schema.ListVal, schema.CallVal:
		return slices.EqualFunc(a.Items, b.Items, sameVal)
	}
	return same(a.String(), b.String())
}

// sameQuantity reads two texts in every dimension until both make sense.
func sameQuantity(a, b string) bool {
	for d := quantity.Length; d <= quantity.Money; d++ {
		x, err := quantity.ParseFor(d, a)
		if err != nil {
			continue
		}
		y, err := quantity.ParseFor(d, b)
		return err == nil && x.Equal(y)
	}
	return false
}
