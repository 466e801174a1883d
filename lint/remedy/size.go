package remedy

import (
	"context"
	"slices"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
	"ohmstead/schema"
)

// sized are the rules whose findings hang on sizes: a plan passes if none of
// them has an error or a warning.
var sized = []string{
	"lead-overcurrent", "wire-unprotected", "wire-overheated", "strip-overcurrent", "connection-loose", "parallel-thin",
	"fuse-too-large", "fuse-too-small", "fuse-nonstandard", "fuse-above-holder", "fuse-breaking",
	"joint-overcurrent", "joint-unprotected", "joint-gauge", "joint-full", "holder-full",
	"supply-overload", "supply-headroom", "supply-derated", "supplies-tied",
	"voltage-low", "drop-excess", "heat-excess",
}

// mostSized bounds the work of a search for sizes, in pixels worked out.
const mostSized = 1_500_000

// Size looks for the cheapest change of sizes with which the plan passes: then no rule
// about sizes has an error or warning that the plan does not allow, nothing else has come,
// and no guarded thing is nearer to harm.
func (t *Trials) Size(ctx context.Context, opt sizing.Options) (sizing.Sized, error) {
	before, err := t.asItStands(ctx)
	if err != nil {
		return sizing.Sized{}, err
	}
	pixels := 0
	for _, r := range t.fig.Runs {
		pixels += r.Pixels
	}
	if opt.Judged == 0 {
		opt.Judged = mostSized / max(pixels, leadPixels*len(t.fig.Leads), leastPixels)
	}
	return sizing.Size(ctx, t.fig, opt, func(ctx context.Context, edits []schema.Edit) (*figures.Figures, []sizing.Obstacle, error) {
		changed, err := t.plan.With(LaidOut(edits))
		if err != nil {
			return nil, nil, nil
		}
		fig, err := t.fig.Try(ctx, changed)
		if err != nil {
			return nil, nil, err
		}
		verdict, err := lint.Run(ctx, changed, fig, t.list)
		if err != nil {
			return nil, nil, err
		}
		after := &judged{found: map[[2]string]found{}, margins: fig.Margins()}
		var out []sizing.Obstacle
		for _, f := range verdict.Findings {
			k := [2]string{f.Rule, f.Subject}
			was := after.found[k]
			after.found[k] = found{max(was.level, f.Level), was.count + 1}
			if f.Level >= lint.Warning && slices.Contains(sized, f.Rule) {
				out = append(out, sizing.Obstacle{Rule: f.Rule, Subject: f.Subject, Hazard: t.hazard(f.Rule)})
			}
		}
		out, ok := t.against(out, before, after)
		if !ok {
			return nil, nil, nil
		}
		return fig, slices.Compact(out), nil
	})
}
