package server

import (
	"go.lsp.dev/protocol"

	"ohmstead/lint/limits"
	"ohmstead/schema"
)

// mostLimited bounds for which plans limits are worked out without being asked for, in
// pixels and leads times values: some seconds beside everything else.
const mostLimited = 60_000

// searchLimits works out how far the values of the document edited last may go, until the
// plan is edited: hovers and lenses say what is known. It lets the requests at work go
// first.
func (s *server) searchLimits(snap *snapshot) {
	key := s.edited.Load()
	if key == nil {
		return
	}
	q, ok := snap.about(*key)
	if !ok {
		return
	}
	ctx, end := q.plan.whileNewest(s.life)
	defer end()
	v, err := s.view(ctx, q, needFigures|needFindings)
	if err != nil || !v.Figures.Complete {
		return
	}
	l := limits.New(v.Plan, v.Figures, allRules())
	size := 0
	for _, r := range v.Figures.Runs {
		size += r.Pixels
	}
	size += len(v.Figures.Leads)
	var here []*limits.Knob
	for _, k := range l.Knobs("") {
		if b, ok := v.Plan.Find(k.Block()); ok {
			if _, _, in := v.File.Range(schema.HeaderOf(b).Head()); in {
				here = append(here, k)
			}
		}
	}
	if size*len(here) > mostLimited {
		return
	}
	if !q.plan.limited.CompareAndSwap(nil, l) {
		return // somebody has asked for them
	}
	for _, k := range here {
		s.running.quiet(ctx)
		if _, err := l.Find(ctx, k); err != nil {
			return // edited, or over
		}
	}
	if s.can.lensRefresh && len(here) > 0 {
		if err := s.client.CodeLensRefresh(ctx); err != nil && ctx.Err() == nil {
			s.log(protocol.MessageTypeWarning, "refreshing: %v", err)
		}
	}
}
