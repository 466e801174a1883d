package server

import (
	"errors"
	"slices"
	"sync"

	"ohmstead/lint/figures"
)

// past is what is kept of earlier versions of a plan, shared by all of them: the version
// that was saved last, and the figures of the last in which every network could be judged.
type past struct {
	mu    sync.Mutex
	saved *plan
	whole *figures.Figures
	at    int // the version that whole is of
}

// save notes that a version is what was saved.
func (p *past) save(as *plan) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.saved = as
}

func (p *past) lastSaved() *plan {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.saved
}

// note keeps the figures of a version in which all can be judged.
func (p *past) note(version int, f *figures.Figures) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if version >= p.at && !partial(f) {
		p.whole, p.at = f, version
	}
}

// before gives the last figures in which all could be judged, where not all can be in f.
func (p *past) before(f *figures.Figures) *figures.Figures {
	if !partial(f) {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.whole
}

// last gives the last figures in which all could be judged, without waiting for any.
func (p *past) last() *figures.Figures {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.whole
}

func partial(f *figures.Figures) bool {
	return slices.ContainsFunc(f.Islands, func(is *figures.Island) bool { return errors.Is(is.Err, figures.ErrPartial) }) ||
		slices.ContainsFunc(f.Leads, func(l *figures.Lead) bool { return l.From.Bad || l.To.Bad })
}
