package server

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/lsp/ide"
	"ohmstead/schema/source"
)

// question is what a request is about: a document of a plan at one moment.
type question struct {
	snap *snapshot
	root *root
	dir  string
	plan *plan
	doc  *document // nil for a file of the catalogue
	file *source.File
}

// about finds what a request is about. It is false for a document that is in
// no plan: the answer is then an empty one.
func (s *server) about(ctx context.Context, u uri.URI) (*question, bool) {
	snap := s.snapshot(ctx)
	if f, ok := s.inCatalogue(snap, u); ok {
		return &question{snap: snap, plan: cataloguePlan(), file: f}, true
	}
	key := snap.key(u)
	s.running.supersede(ctx, snap.buffers[key])
	if s.lanes.enter(ctx) != nil {
		return nil, false // cancelled, which is what is answered
	}
	return snap.about(key)
}

// about finds what is to be asked about a document.
func (snap *snapshot) about(key string) (*question, bool) {
	r, dir, ok := snap.rootFor(key)
	if !ok || r.plan(dir) == nil {
		return nil, false
	}
	doc, ok := r.dir(dir).find(key)
	if !ok {
		return nil, false
	}
	return &question{snap: snap, root: r, dir: dir, plan: r.plan(dir), doc: doc, file: doc.file}, true
}

// at is about, with the position as an offset.
func (s *server) at(ctx context.Context, p *protocol.TextDocumentPositionParams) (*question, int, bool) {
	q, ok := s.about(ctx, p.TextDocument.URI)
	if !ok {
		return nil, 0, false
	}
	return q, s.offset(q.file.Text, p.Position), true
}

// judged is the question to the plan whose findings are shown in the document:
// in stock that is no plan itself, the first of the plans that use it.
func (q *question) judged() *question {
	if q.root == nil {
		return q
	}
	users := q.root.plansWith(q.dir)
	if len(users) == 0 || users[0] == q.plan {
		return q
	}
	other := *q
	other.plan = users[0]
	return &other
}

// need says what a feature looks at besides the text, so that nothing else is
// worked out for it.
type need int

const (
	needFigures need = 1 << iota
	needFindings
)

// view is what package ide looks at. Its error is that of ctx, or a defect of
// the work that it needs. Others are worked on while it waits for that.
func (s *server) view(ctx context.Context, q *question, n need) (v *ide.View, err error) {
	s.lanes.leave(ctx)
	defer func() {
		if err == nil {
			err = s.lanes.enter(ctx)
		}
	}()
	v = &ide.View{Rules: allRules(), File: q.file}
	if q.root != nil {
		v.Dirs = q.root.planDirs
	}
	if l := q.plan.limited.Load(); l != nil {
		v.Limits = l.Of
	}
	if v.Plan, err = q.plan.decode(ctx); err != nil {
		return nil, err
	}
	if n&needFigures != 0 {
		if v.Figures, err = q.plan.figures(ctx); err != nil {
			return nil, err
		}
		v.Before = q.plan.past.before(v.Figures)
	}
	if n&needFindings != 0 {
		s.running.awaits(ctx)
		verdict, err := q.plan.verdict(ctx)
		if err != nil {
			return nil, err
		}
		v.Findings, v.Hidden = verdict.Findings, verdict.Hidden
	}
	return v, nil
}
