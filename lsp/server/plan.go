package server

import (
	"context"
	"errors"
	"sync"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// plan is the plan of one directory at one moment. Each stage is worked out
// when it is first asked for, and once for all who ask.
type plan struct {
	root  *root
	dir   string
	own   *directory
	stock map[string]*directory // by path below the root

	decoded    func() *schema.Plan
	figures    func() *figures.Figures
	findings   func() []lint.Finding
	byPath     func() map[string]*document
	reportOnce sync.Once
	reported   report // see diagnostics.go

	memo  *figures.Memo // of the islands solved for earlier versions
	texts *schema.Memo  // of the blocks decoded for earlier versions
}

func newPlan(r *root, dir string, own *directory, stock map[string]*directory, before *plan) *plan {
	p := &plan{root: r, dir: dir, own: own, stock: stock}
	if before != nil {
		p.memo, p.texts = before.memo, before.texts
	} else {
		p.memo, p.texts = figures.NewMemo(), new(schema.Memo)
	}
	p.decoded = sync.OnceValue(func() *schema.Plan { return p.texts.Decode(dir, own.files(), p.fetch) })
	p.figures = sync.OnceValue(func() *figures.Figures { return worked(p.decoded(), p.memo) })
	p.findings = sync.OnceValue(func() []lint.Finding { return judged(p.decoded(), p.figures()) })
	p.byPath = sync.OnceValue(p.index)
	return p
}

// worked works a plan out to the end.
func worked(p *schema.Plan, memo *figures.Memo) *figures.Figures {
	f, _ := figures.Work(context.Background(), p, memo) // fails only where its context ends
	return f
}

// judged judges a plan to the end.
func judged(p *schema.Plan, f *figures.Figures) []lint.Finding {
	found, _ := lint.Run(context.Background(), p, f, allRules()) // fails only where its context ends
	return found
}

var errUnsaved = errors.New("save the file as NAME" + planSuffix + " first")

// fetch gives the files of a stock directory, as the snapshot has them.
func (p *plan) fetch(dir string) ([]*source.File, error) {
	d, ok := p.stock[dir]
	switch {
	case !ok && p.root.kind == single:
		return nil, errUnsaved
	case !ok:
		return nil, nil // the decoder takes it for an empty one
	case d.err != nil && len(d.docs) == 0:
		return nil, d.err
	}
	return d.files(), nil
}

// concerned reports whether one of the directories is part of the plan.
func (p *plan) concerned(changes map[string]*directory) bool {
	for dir := range changes {
		if dir == p.dir || p.stock[dir] != nil {
			return true
		}
	}
	return false
}

func (p *plan) index() map[string]*document {
	out := map[string]*document{}
	add := func(d *directory) {
		for _, doc := range d.docs {
			out[doc.file.Text.Path()] = doc
		}
	}
	for _, d := range p.stock {
		add(d)
	}
	add(p.own)
	return out
}
