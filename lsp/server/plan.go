package server

import (
	"context"
	"errors"
	"maps"
	"slices"
	"sync"
	"sync/atomic"

	"go.lsp.dev/protocol"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/limits"
	"ohmstead/lint/remedy"
	"ohmstead/schema"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

// planID names a plan in every snapshot that has it.
type planID struct {
	root rootID
	dir  string
}

// plan is the plan of one directory at one moment. Each stage is worked out
// when it is first asked for, and once for all who ask.
type plan struct {
	id    planID
	own   *directory
	stock map[string]*directory // by path below the root

	decoded  *stage[*schema.Plan]
	worked   *stage[*figures.Figures]
	judged   *stage[lint.Verdict]
	tried    *stage[*remedy.Trials]
	reported *stage[report]                // see diagnostics.go
	limited  atomic.Pointer[limits.Limits] // how far its values may go, as far as that was worked out when the user rested
	byPath   func() map[string]*document

	memo    *figures.Memo // of what was solved for earlier versions
	texts   *schema.Memo  // of the blocks decoded for earlier versions
	past    *past         // what is kept of them
	version int

	newest    context.Context // ends when there is a newer version
	supersede context.CancelFunc
}

func newPlan(id planID, own *directory, stock map[string]*directory, before *plan) *plan {
	p := &plan{
		id: id, own: own, stock: stock,
		decoded: &stage[*schema.Plan]{}, worked: &stage[*figures.Figures]{}, judged: &stage[lint.Verdict]{}, tried: &stage[*remedy.Trials]{}, reported: &stage[report]{},
	}
	if before != nil {
		p.memo, p.texts, p.past, p.version = before.memo, before.texts, before.past, before.version+1
	} else {
		p.memo, p.texts, p.past = figures.NewMemo(), new(schema.Memo), &past{saved: p}
	}
	p.newest, p.supersede = context.WithCancel(context.Background())
	p.byPath = sync.OnceValue(p.index)
	return p
}

// decode gives the typed plan. Errors of the stages are those of [stage.get].
func (p *plan) decode(ctx context.Context) (*schema.Plan, error) {
	return p.decoded.get(ctx, func(context.Context) (*schema.Plan, error) {
		return p.texts.Decode(p.id.dir, p.own.files(), p.fetch), nil
	})
}

// figures gives the plan laid out; what is needed of it is solved then, the rest for findings.
func (p *plan) figures(ctx context.Context) (*figures.Figures, error) {
	return p.worked.get(ctx, func(ctx context.Context) (*figures.Figures, error) {
		decoded, err := p.decode(ctx)
		if err != nil {
			return nil, err
		}
		f := figures.Prepare(decoded, p.memo)
		p.past.note(p.version, f)
		return f, nil
	})
}

// verdict gives what is found in the plan, told or not.
func (p *plan) verdict(ctx context.Context) (lint.Verdict, error) {
	return p.judged.get(ctx, func(ctx context.Context) (lint.Verdict, error) {
		fig, err := p.figures(ctx)
		if err != nil {
			return lint.Verdict{}, err
		}
		return lint.Run(ctx, fig.Plan, fig, allRules())
	})
}

// findings gives what is found in the plan and told.
func (p *plan) findings(ctx context.Context) ([]lint.Finding, error) {
	v, err := p.verdict(ctx)
	return v.Findings, err
}

// whileNewest is ctx, ended also by a newer version of the plan: then its cause
// says that the content was modified.
func (p *plan) whileNewest(ctx context.Context) (_ context.Context, end func()) {
	ctx, cancel := context.WithCancelCause(ctx)
	modified := func() { cancel(protocol.ErrContentModified) }
	stop := context.AfterFunc(p.newest, modified)
	if p.newest.Err() != nil {
		modified() // at once: what is called after the end runs beside us
	}
	return ctx, func() {
		stop()
		cancel(nil)
	}
}

// trials gives what remedies are tried by.
func (p *plan) trials(ctx context.Context) (*remedy.Trials, error) {
	return p.tried.get(ctx, func(ctx context.Context) (*remedy.Trials, error) {
		found, err := p.findings(ctx)
		if err != nil {
			return nil, err
		}
		fig, err := p.figures(ctx)
		if err != nil {
			return nil, err
		}
		return remedy.New(fig.Plan, fig, found, allRules()), nil
	})
}

var errUnsaved = errors.New("save the file as NAME" + plans.Suffix + " first")

// fetch gives the files of a stock directory, as the snapshot has them.
func (p *plan) fetch(dir string) ([]*source.File, error) {
	d, ok := p.stock[dir]
	switch {
	case !ok && p.id.root.kind == single:
		return nil, errUnsaved
	case !ok:
		return nil, nil // the decoder takes it for an empty one
	case d.err != nil && len(d.docs) == 0:
		return nil, d.err
	}
	return d.files(), nil
}

// made reports whether the plan is made of these directories.
func (p *plan) made(own *directory, stock map[string]*directory) bool {
	return p != nil && p.own == own && maps.Equal(p.stock, stock)
}

// with gives the next version of the plan, in which a directory is different.
func (p *plan) with(dir string, d *directory) *plan {
	own, stock := p.own, p.stock
	if dir == p.id.dir {
		own = d
	} else {
		stock = maps.Clone(stock)
		stock[dir] = d
	}
	return newPlan(p.id, own, stock, p)
}

func (p *plan) index() map[string]*document {
	out := map[string]*document{}
	for _, d := range slices.Concat(slices.Collect(maps.Values(p.stock)), []*directory{p.own}) {
		for _, doc := range d.docs {
			out[doc.file.Text.Path()] = doc
		}
	}
	return out
}
