package remedy

import (
	"context"

	"ohmstead/lint"
	"ohmstead/lint/figures"
)

// Bears tries edits that answer no finding but that somebody asks for. It gives the figures of the plan with
// them, and whether it bears them: no warning or error has come, and no guarded thing is nearer to harm.
// Blocks that the edits make are held against those that they come from, by was. The only error is that of ctx.
func (t *Trials) Bears(ctx context.Context, edits []lint.Edit, was map[string]string) (*figures.Figures, bool, error) {
	fig, before, after, err := t.tried(ctx, LaidOut(edits))
	if fig == nil || err != nil {
		return nil, false, err
	}
	for k, is := range after.found {
		if of, made := was[k[1]]; made {
			if old, there := before.found[[2]string{k[0], of}]; there && old.level >= is.level {
				delete(after.found, k)
			}
		}
	}
	for k := range after.margins {
		if of, made := was[k.ID]; made && after.margins[k] <= before.margins[figures.Guarded{ID: of, Hazard: k.Hazard}]*(1+same) {
			delete(after.margins, k)
		}
	}
	return fig, len(after.added(before)) == 0 && len(after.endangered(before)) == 0, nil
}
