package lint

import (
	"slices"
	"strings"
)

// followCauses tells findings that follow from another one under that: with a
// strip on the wrong voltage nothing else about its voltages is worth mending. A
// finding follows from one of a rule that its own names where it is about the same
// block or speaks of it. One of a rule that guards stays where it is, without
// fixes of its own.
func followCauses(rules map[string]*Rule, in []Finding) []Finding {
	var out []Finding
	under := make([]int, len(in)) // 1 + the index of the cause
	explains := map[string]bool{}
	for _, r := range rules {
		for _, name := range r.Follows {
			explains[name] = true
		}
	}
	var causes []int
	for i := range in {
		if explains[in[i].Rule] && in[i].Subject != "" {
			causes = append(causes, i)
		}
	}
	if len(causes) == 0 {
		return in
	}
	for i := range in {
		r := rules[in[i].Rule]
		if r == nil || len(r.Follows) == 0 {
			continue
		}
		for _, k := range causes {
			if slices.Contains(r.Follows, in[k].Rule) && speaksOf(&in[i], in[k].Subject) {
				under[i] = 1 + k
				break
			}
		}
	}
	for i := range in {
		if under[i] == 0 {
			continue
		}
		f, cause := &in[i], &in[under[i]-1]
		f.Fixes, f.Propose = nil, nil
		if rules[f.Rule].Guard {
			f.Related = append(slices.Clone(f.Related), Related{At: cause.At, Message: "mend " + cause.Rule + " first"})
			under[i] = 0
			continue
		}
		what, _, _ := strings.Cut(f.Message, ";")
		cause.Related = append(slices.Clone(cause.Related), Related{At: f.At, Message: "follows from it: " + what})
	}
	for i, f := range in {
		if under[i] == 0 {
			out = append(out, f)
		}
	}
	return out
}

// speaksOf tells whether a finding is about a block or names it.
func speaksOf(f *Finding, id string) bool {
	if f.Subject == id {
		return true
	}
	for rest := f.Message; ; {
		_, after, ok := strings.Cut(rest, id)
		if !ok {
			return false
		}
		if after == "" || !strings.ContainsRune("-_0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", rune(after[0])) {
			return true
		}
		rest = after
	}
}
