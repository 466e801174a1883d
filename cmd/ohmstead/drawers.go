package main

import (
	"slices"

	"ohmstead/cmd/ohmstead/internal/compare"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/schema/plans"
)

// shareDrawers tells once what several plans take from one drawer: what is there can
// be used only once, so the needs of all plans of that stock count together, those of
// plans that did not change too.
func shareDrawers(v *versions, r *compare.Report) error {
	var parts, dirs []string
	for _, p := range r.Plans {
		for _, part := range p.Drawn() {
			if !slices.Contains(parts, part) {
				parts = append(parts, part)
				dirs = append(dirs, p.Dir)
			}
		}
	}
	if len(parts) == 0 {
		return nil
	}
	users, err := v.users(dirs)
	if err != nil || len(users) < 2 {
		return err
	}
	was, is := make([]*figures.Figures, len(users)), make([]*figures.Figures, len(users))
	for i, u := range users {
		was[i], is[i] = measured(v.base, u.base), measured(v.head, u.head)
	}
	for _, part := range parts {
		var of []string
		var a, b []*figures.Figures
		for i, u := range users {
			before, after := takes(was[i], part), takes(is[i], part)
			if before {
				a = append(a, was[i])
			}
			if after {
				b = append(b, is[i])
			}
			if before || after {
				of = append(of, u.key)
			}
		}
		if len(of) > 1 {
			r.Share(part, of, a, b)
		}
	}
	return nil
}

// users lists the plans, changed or not, that have stock in common with some.
func (v *versions) users(dirs []string) ([]planPair, error) {
	if len(v.open) == 0 { // of two directories all plans are compared
		return v.pairs, nil
	}
	known := map[string]planPair{}
	for _, p := range v.pairs {
		known[p.key] = p
	}
	var stock []string
	for _, d := range dirs {
		for _, w := range []*workspace.Workspace{v.base, v.head} {
			stock = append(stock, plans.Follow(d, func(d string) []string { return w.Look(d).Stock })...)
		}
	}
	was, err := v.base.Users(stock...)
	if err != nil {
		return nil, err
	}
	is, err := v.head.Users(stock...)
	if err != nil {
		return nil, err
	}
	var out []planPair
	for _, d := range is {
		p, ok := known[d]
		if !ok {
			p = planPair{key: d, base: d, head: d}
		}
		out = append(out, p)
	}
	for _, d := range was {
		if p, ok := known[d]; ok && p.head == "" {
			out = append(out, p)
		}
	}
	return out, nil
}

func takes(f *figures.Figures, part string) bool {
	return f != nil && slices.ContainsFunc(lists.Shop(f).Items, func(x lists.Item) bool { return x.Part == part && compare.Stocked(x) })
}

// measured is a plan whose lengths are known and of which nothing is solved; nil where
// it is not there or cannot be read.
func measured(w *workspace.Workspace, dir string) *figures.Figures {
	if dir == "" || !w.IsPlan(dir) {
		return nil
	}
	plan, err := w.Decode(dir)
	if err != nil || plan == nil {
		return nil
	}
	return figures.Prepare(plan, figures.NewMemo())
}
