package lint

import (
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// mergeCopies makes one finding of those that differ only in which copy of a
// block they are about, or which of those that one block makes: these share one
// text, and have one remedy. The one that is farthest from its limit speaks for all.
func mergeCopies(plan *schema.Plan, in []Finding) []Finding {
	type key struct {
		rule string
		at   source.Span
	}
	groups := map[key][]int{}
	for i, f := range in {
		b, ok := plan.Find(f.Subject)
		if !ok {
			continue
		}
		h, at := schema.HeaderOf(b), f.At
		if maker := h.MadeBy(); maker != nil && at == h.Head() { // the word that asks for this one
			at = maker.Head
		} else if maker == nil && h.Copy == 0 {
			continue
		}
		k := key{f.Rule, at}
		groups[k] = append(groups[k], i)
	}
	drop := map[int]bool{}
	for _, same := range groups {
		if len(same) < 2 {
			continue
		}
		worst := slices.MaxFunc(same, func(a, b int) int {
			x, y := excess(in[a]), excess(in[b])
			switch {
			case x > y:
				return 1
			case x < y:
				return -1
			}
			return b - a // of equals the first
		})
		var others []string
		for _, i := range same {
			if i != worst && !slices.Contains(others, in[i].Subject) && in[i].Subject != in[worst].Subject {
				others = append(others, in[i].Subject)
			}
			drop[i] = i != worst
		}
		if len(others) > 0 {
			in[worst].Members = append([]string{in[worst].Subject}, others...)
			in[worst].Message += "; so it is with " + quantity.List(others)
		}
	}
	var out []Finding
	for i, f := range in {
		if !drop[i] {
			out = append(out, f)
		}
	}
	return out
}

// Worse tells whether a finding is more than it was: about blocks that it was not
// about, or farther from its limit by more than a hundredth of how far it was.
func (f *Finding) Worse(was *Finding) bool {
	about := func(f *Finding) []string {
		if len(f.Members) == 0 {
			return []string{f.Subject}
		}
		return f.Members
	}
	before := about(was)
	for _, m := range about(f) {
		if !slices.Contains(before, m) && len(f.Members)+len(was.Members) > 0 {
			return true
		}
	}
	return excess(*f) > 1.01*excess(*was)+1e-9 && f.Value != nil && was.Value != nil
}

// excess is how far a finding's value lies from its limit, as a share of it.
func excess(f Finding) float64 {
	if f.Value == nil {
		return 0
	}
	return math.Abs(f.Value.Got-f.Value.Limit) / math.Max(math.Abs(f.Value.Limit), 1e-12)
}
