package fuse

import (
	"math"
	"slices"
	"testing"
)

const (
	maker = "PC-8R installation guide, \"Fuse selection\", quoting a fuse maker's note: 75 % of the rating at 25 degC"
	iso   = "ISO 8820-3, blade fuse-links (ratings as listed in PC-8R installation guide, figure 7)"
	large = "ISO 8820-3: up to 100 A (abstract); 35 and 40 A on a maker's sheet of the regular size, above from memory"
)

var blade = kinds[0]

func sourced(t *testing.T, source string) {
	t.Helper()
	if source == "" {
		t.Error("a published number has no source beside it")
	}
}

func TestSmallestFor(t *testing.T) {
	for _, row := range []struct {
		load, want float64
		ok         bool
		source     string
	}{
		{7.5, 10, true, maker},
		{4.8, 7.5, true, maker + ", example 2"},
		{10, 15, true, maker + ", example 3"},
		{15, 20, true, maker},
		{3.0, 4, true, "75 % rule, recomputed"},
		{7.0, 10, true, "75 % rule, recomputed"},
		{3.75, 5, true, "75 % rule, recomputed: exactly at the limit"},
		{3.76, 7.5, true, "75 % rule, recomputed"},
		{4.0, 7.5, true, "75 % rule, recomputed: 80 % would allow 5 A"},
		{0, 1, true, iso},
		{22.5, 30, true, "75 % rule, recomputed"},
		{22.6, 35, true, large},
		{75, 100, true, large},
		{75.1, 0, false, large},
		{math.NaN(), 0, false, iso},
	} {
		sourced(t, row.source)
		got, ok := blade.SmallestFor(row.load)
		if got != row.want || ok != row.ok {
			t.Errorf("%g A: got %g A, %v, want %g A, %v (%s)", row.load, got, ok, row.want, row.ok, row.source)
		}
	}
}

func TestRatings(t *testing.T) {
	want := []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30}
	if got := blade.Ratings[:len(want)]; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v (%s)", got, want, iso)
	}
	for _, r := range want {
		if !blade.Sold(r) || !blade.Sold(r*(1+1e-12)) {
			t.Errorf("%g A is standard (%s)", r, iso)
		}
	}
	for _, r := range []float64{0, -5, 6, 8, 12, 7.4, 45, 120, math.NaN(), math.Inf(1)} {
		if blade.Sold(r) {
			t.Errorf("%g A is not standard (%s)", r, iso)
		}
	}
}

func TestLargestFor(t *testing.T) {
	// The default ampacities of 10 to 26 AWG, and what the fuse may carry.
	for _, row := range []struct {
		ampacity, want, load float64
	}{
		{30, 30, 22.5},
		{20, 20, 15},
		{15, 15, 11.25},
		{8, 7.5, 5.625},
		{6, 5, 3.75},
		{5, 5, 3.75},
		{3, 3, 2.25},
		{2, 2, 1.5},
		{1, 1, 0.75},
	} {
		got, ok := blade.LargestFor(row.ampacity)
		if !ok || got != row.want {
			t.Errorf("%g A: got %g A, %v, want %g A", row.ampacity, got, ok, row.want)
		}
		if !blade.Carries(got, row.load) || blade.Carries(got, row.load+0.001) {
			t.Errorf("%g A fuse carries %g A and no more", got, row.load)
		}
	}
	for _, ampacity := range []float64{0.8, 0, -1, math.NaN()} {
		if got, ok := blade.LargestFor(ampacity); ok {
			t.Errorf("%g A: got %g A", ampacity, got)
		}
	}
}

// TestWindow holds the worked choices: a load, a wire, and what lies between.
func TestWindow(t *testing.T) {
	for _, row := range []struct {
		name           string
		load, ampacity float64
		want           []float64
	}{
		{"3 A on 20 AWG", 3, 5, []float64{4, 5}},
		{"3 A on 22 AWG is refused", 3, 3, nil},
		{"4.8 A on 16 AWG", 4.8, 8, []float64{7.5}},
		{"4.8 A on 18 AWG is refused", 4.8, 6, nil},
		{"7 A on 14 AWG", 7, 15, []float64{10, 15}},
		{"7 A on 16 AWG is refused", 7, 8, nil},
		{"3.75 A on 18 AWG: exactly 75 % of 5 A", 3.75, 6, []float64{5}},
		{"no load", 0, 3, []float64{1, 2, 3}},
		{"not a number", math.NaN(), 3, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := blade.Window(row.load, row.ampacity); !slices.Equal(got, row.want) {
				t.Errorf("got %v, want %v", got, row.want)
			}
		})
	}
}

// TestWindowAgrees checks that the window, its two ends and the two conditions
// say the same over a sweep.
func TestWindowAgrees(t *testing.T) {
	for load := 0.0; load < 25; load += 0.35 {
		for ampacity := 0.2; ampacity < 35; ampacity += 0.45 {
			w := blade.Window(load, ampacity)
			low, okLow := blade.SmallestFor(load)
			high, okHigh := blade.LargestFor(ampacity)
			if open := okLow && okHigh && low <= high; open != (len(w) > 0) {
				t.Fatalf("%g A on a wire for %g A: window %v, ends %g and %g", load, ampacity, w, low, high)
			} else if open && (w[0] != low || w[len(w)-1] != high) {
				t.Fatalf("%g A on a wire for %g A: window %v, want %g to %g", load, ampacity, w, low, high)
			}
		}
	}
}
