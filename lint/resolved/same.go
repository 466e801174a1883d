package resolved

import (
	"math"
	"slices"
	"strings"

	"ohmstead/schema"
)

// Rename gives the address that a block has in the other version of a plan.
type Rename func(id string) string

// Same reports whether two values mean the same: quantities whatever their
// unit, references through renamed blocks. The first value's addresses go
// through rename, which may be nil.
func Same(a, b any, rename Rename) bool {
	if rename == nil {
		rename = func(id string) string { return id }
	}
	switch a := a.(type) {
	case schema.Quantity:
		b, ok := b.(schema.Quantity)
		return ok && a.Equal(b)
	case []schema.Quantity:
		b, ok := b.([]schema.Quantity)
		return ok && slices.EqualFunc(a, b, schema.Quantity.Equal)
	case schema.ByLetter:
		b, ok := b.(schema.ByLetter)
		return ok && sameLetters(a, b)
	case map[string]float64:
		b, ok := b.(map[string]float64)
		if !ok || len(a) != len(b) {
			return false
		}
		for l, x := range a {
			if y, has := b[l]; !has || !near(x, y) {
				return false
			}
		}
		return true
	case schema.XY:
		b, ok := b.(schema.XY)
		return ok && sameXY(a, b)
	case []schema.XY:
		b, ok := b.([]schema.XY)
		return ok && slices.EqualFunc(a, b, sameXY)
	case *schema.Point:
		b, ok := b.(*schema.Point)
		return ok && a != nil && b != nil && samePoint(a, b, rename)
	case []*schema.Run:
		b, ok := b.([]*schema.Run)
		return ok && slices.EqualFunc(a, b, func(x, y *schema.Run) bool { return rename(x.ID()) == y.ID() })
	case []schema.RunRef:
		b, ok := b.([]schema.RunRef)
		return ok && slices.EqualFunc(a, b, func(x, y schema.RunRef) bool {
			return rename(x.Run.ID()) == y.Run.ID() && x.FromEnd == y.FromEnd
		})
	case []schema.Name:
		b, ok := b.([]schema.Name)
		return ok && slices.EqualFunc(a, b, func(x, y schema.Name) bool { return x.Text == y.Text })
	case []schema.Block:
		b, ok := b.([]schema.Block)
		return ok && slices.EqualFunc(a, b, func(x, y schema.Block) bool {
			return rename(schema.HeaderOf(x).ID()) == schema.HeaderOf(y).ID()
		})
	case schema.Block:
		b, ok := b.(schema.Block)
		return ok && rename(schema.HeaderOf(a).ID()) == schema.HeaderOf(b).ID()
	case string, int, bool, schema.RGB:
		return a == b
	}
	return a == nil && b == nil
}

func samePoint(a, b *schema.Point, rename Rename) bool {
	if a.Kind == schema.RunPlace && b.Kind == schema.RunPlace && a.Where == schema.AtDistance && b.Where == schema.AtDistance {
		return a.Distance.Equal(b.Distance) && rename(a.Run.ID()) == b.Run.ID()
	}
	return RenamePoint(a.String(), schema.HeaderOf(a.Block()).ID(), rename) == b.String()
}

// RenamePoint puts a block's new address into a place that begins with its
// old one.
func RenamePoint(point, id string, rename Rename) string {
	if renamed := rename(point); renamed != point { // the place itself has moved, as at a run that was split
		return renamed
	}
	return rename(id) + strings.TrimPrefix(point, id)
}

func sameLetters(a, b schema.ByLetter) bool {
	if (a.Letters == nil) != (b.Letters == nil) {
		all, some := a, b
		if a.Letters != nil {
			all, some = b, a
		}
		for _, q := range some.Letters { // one value for all, or the same one for each letter
			if !q.Equal(all.All) {
				return false
			}
		}
		return len(some.Letters) > 0
	}
	if a.Letters == nil {
		return a.All.Equal(b.All)
	}
	if len(a.Letters) != len(b.Letters) {
		return false
	}
	for l, q := range a.Letters {
		if o, ok := b.Letters[l]; !ok || !q.Equal(o) {
			return false
		}
	}
	return true
}

func sameXY(a, b schema.XY) bool { return near(a.X, b.X) && near(a.Y, b.Y) }

func near(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}
