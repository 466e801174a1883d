package lint

import (
	"fmt"
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
	for i := range in {
		f := &in[i]
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
			in[worst].Message += "; so it is " + among(plan, in[worst].Members)
		}
	}
	out := in[:0]
	for i, f := range in {
		if !drop[i] {
			out = append(out, f)
		}
	}
	return out
}

// among says which blocks some are: of the copies of one block how many, and their
// numbers, as "in 12 of 40: 3, 7 and 9 to 18"; of others which there are besides the first.
func among(plan *schema.Plan, ids []string) string {
	of := func(id string) *schema.Header {
		b, ok := plan.Find(id)
		if !ok {
			return &schema.Header{}
		}
		return schema.HeaderOf(b)
	}
	first := of(ids[0])
	if slices.ContainsFunc(ids, func(id string) bool { h := of(id); return h.Copy == 0 || h.Base() != first.Base() }) {
		return "with " + quantity.List(ids[1:])
	}
	all := 0
	var rows [][]string // the numbers of copies that follow one another
	next := false
	for _, b := range plan.Blocks {
		h := schema.HeaderOf(b)
		if h.Type != first.Type || h.Copy == 0 || h.Base() != first.Base() {
			continue
		}
		all++
		if !slices.Contains(ids, h.ID()) {
			next = false
			continue
		}
		if !next {
			rows = append(rows, nil)
		}
		rows[len(rows)-1], next = append(rows[len(rows)-1], h.Numbers()), true
	}
	var out []string
	for _, r := range rows {
		if len(r) > 2 {
			r = []string{r[0] + " to " + r[len(r)-1]}
		}
		out = append(out, r...)
	}
	return fmt.Sprintf("in %d of %d: %s", len(ids), all, quantity.List(out))
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
