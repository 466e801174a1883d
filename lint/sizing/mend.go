package sizing

import (
	"context"
	"slices"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Judge works a plan out with some edits and says what stands in their way:
// nothing where they may be offered. The figures are nil where the edits make no
// plan. The only error is that of the context.
type Judge func(context.Context, []schema.Edit) (*figures.Figures, []Obstacle, error)

// Mended is a change that nothing stands in the way of.
type Mended struct {
	*Draft
	Figures *figures.Figures
}

// mostSteps bounds how often a change on its way is judged.
const mostSteps = 12

// Mend looks for changes that clear a finding, one for each way to go about it,
// and says how many plans were judged for that. It judges no more than that
// many. The only error is that of ctx.
func Mend(ctx context.Context, f *figures.Figures, target Obstacle, most int, judge Judge) (out []Mended, judged int, err error) {
	for _, w := range waysFor(f, target) {
		s := newState(newDraft(f.Plan), f)
		now := []Obstacle{target}
		for range mostSteps {
			s.done = map[any]bool{}
			moved := true
			for _, o := range now {
				if o.Rule == target.Rule {
					moved = w(s, o) && moved
				} else {
					moved = repaired(s, o) && moved
				}
			}
			if !moved || judged == most {
				break
			}
			judged++
			fig, left, err := judge(ctx, s.Edits())
			if err != nil {
				return nil, judged, err
			}
			if fig == nil {
				break
			}
			if s.fig, now = fig, left; len(left) == 0 {
				out = append(out, Mended{s.Draft, fig})
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Mended) int { return compare(a.cost(f), b.cost(f)) })
	out = Brightest(f, out, func(m Mended) *figures.Figures { return m.Figures })
	return worthTelling(f, out), judged, nil
}

func newState(d *Draft, f *figures.Figures) *state {
	return &state{Draft: d, fig: f, tried: map[*schema.Node][]size{}, done: map[any]bool{}, halved: map[string]bool{}}
}

// worthTelling keeps the cheapest change, and those that are less work than it or
// cost little more.
func worthTelling(f *figures.Figures, all []Mended) []Mended {
	var out []Mended
	for i, m := range all {
		c, least := m.cost(f), all[0].cost(f)
		title := m.Title()
		if i > 0 && (c.work >= least.work && c.weight() > 1.5*max(least.weight(), partGrams) || slices.ContainsFunc(out, func(o Mended) bool { return o.Title() == title })) {
			continue
		}
		out = append(out, m)
	}
	return out
}
