package remedy

import (
	"cmp"
	"context"
	"slices"

	"ohmstead/lint"
)

// mostWork bounds what is tried for a whole plan, in pixels worked out, and
// leastPixels is what a trial of a small plan counts: some six hundred trials
// of a small plan, thirty of one with 10,000 pixels, none from 30,000 on, where
// one trial is longer than anybody waits. A lead takes as long as a few pixels.
const (
	mostWork    = 300_000
	leastPixels = 500
	mostPixels  = 30_000
	leadPixels  = 4
)

// All gives the findings with the fixes that hold what they promise. The worst
// come first where not everything can be tried, and the outcome is the same
// each time. The only error is that of ctx.
func (t *Trials) All(ctx context.Context) ([]lint.Finding, error) {
	pixels := 0
	for _, r := range t.fig.Runs {
		pixels += r.Pixels
	}
	pixels = max(pixels, leadPixels*len(t.fig.Leads))
	left := mostWork / max(pixels, leastPixels)
	if pixels > mostPixels {
		left = 0
	}
	order := make([]int, len(t.found))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(t.found[b].Level, t.found[a].Level) })
	out := slices.Clone(t.found)
	for _, i := range order {
		out[i].Fixes = nil
		if left <= 0 && t.worksOut(&t.found[i]) {
			continue
		}
		fixes, trials, err := t.try(ctx, i)
		if err != nil {
			return nil, err
		}
		out[i].Fixes = fixes
		left -= trials
	}
	return out, nil
}
