package compare

import (
	"slices"
	"testing"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// What bounds a lead's current is the lower of its wire and its fuse.
func TestLimitOfLead(t *testing.T) {
	fuse := func(amps float64) schema.Value[schema.Quantity] {
		return schema.Value[schema.Quantity]{V: quantity.Of(quantity.Current, amps), Set: true}
	}
	broken := fuse(3)
	broken.Bad = true
	for _, c := range []struct {
		name  string
		fuse  schema.Value[schema.Quantity]
		known bool
		limit float64 // A
		of    string
	}{
		{"no fuse", schema.Value[schema.Quantity]{}, true, 8, "wire"},
		{"a lower fuse", fuse(5), true, 5, "fuse"},
		{"a fuse of as much", fuse(8), true, 8, "wire"},
		{"a higher fuse", fuse(10), true, 8, "wire"},
		{"a fuse that cannot be read", broken, true, 8, "wire"},
		{"a lead that is not known", fuse(5), false, 0, ""},
	} {
		var mv Move
		limitLead(&mv, &figures.Lead{Lead: &schema.Lead{Fuse: c.fuse}, OK: c.known, Ampacity: 8})
		got := 0.0
		if mv.Limit != nil {
			got = *mv.Limit
		}
		if got != c.limit || mv.LimitOf != c.of {
			t.Errorf("%s: %g A of the %q, want %g A of the %q", c.name, got, mv.LimitOf, c.limit, c.of)
		}
	}
}

// A profile of many pixels keeps the least of each stretch, none left out.
func TestThinned(t *testing.T) {
	few := []float64{5, 4.99949, 4.9}
	if got, want := thinned(few), []float64{5, 4.999, 4.9}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	many := make([]float64, 3*mostPoints)
	for i := range many {
		many[i] = 5
	}
	many[0], many[4], many[len(many)-1] = 1, 2, 3
	got := thinned(many)
	want := make([]float64, mostPoints)
	for i := range want {
		want[i] = 5
	}
	want[0], want[1], want[mostPoints-1] = 1, 2, 3
	if !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}
