package server

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// published is what the client was last told about a document.
type published struct {
	uri    uri.URI
	digest string
	buffer *buffer
}

// queue tells diagnose which plans are not what they were. What is added while
// one of them is judged cancels that, if it is one of these.
type queue struct {
	wake chan struct{}

	mu      sync.Mutex
	plans   map[planID]bool
	judging planID
	cancel  context.CancelFunc // nil when no judgement can be cancelled
}

func (q *queue) add(ids []planID) {
	q.mu.Lock()
	for _, id := range ids {
		q.plans[id] = true
		if q.cancel != nil && id == q.judging {
			q.cancel()
		}
	}
	q.mu.Unlock()
	select {
	case q.wake <- struct{}{}:
	default: // diagnose has not looked yet and will see these
	}
}

// take moves what is queued to where it is waited for.
func (q *queue) take(into map[planID]bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	maps.Copy(into, q.plans)
	clear(q.plans)
}

// begin says which plan is judged. The context ends when there is a newer
// version of it.
func (q *queue) begin(life context.Context, id planID) (ctx context.Context, end func()) {
	ctx, cancel := context.WithCancel(life)
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.judging, q.cancel = id, cancel; q.plans[id] {
		cancel()
	}
	return ctx, func() {
		cancel()
		q.mu.Lock()
		defer q.mu.Unlock()
		q.cancel = nil
	}
}

// diagnoser judges what changes and pushes what is found.
type diagnoser struct {
	*server
	waiting  map[planID]bool      // plans to look at
	anew     map[planID]bool      // those of them whose documents are told again whatever is found, as the settings changed
	judged   map[planID]*plan     // as last looked at
	reports  map[planID]report    // of these
	pending  map[string]bool      // documents that may have other findings than published
	last     map[string]published // by key
	settings Settings
	dropped  int // judgements given up in a row
}

// diagnoser is one that has not looked yet.
func (s *server) diagnoser() *diagnoser {
	return &diagnoser{
		server:  s,
		waiting: map[planID]bool{},
		anew:    map[planID]bool{},
		judged:  map[planID]*plan{},
		reports: map[planID]report{},
		pending: map[string]bool{},
		last:    map[string]published{},
	}
}

// diagnose judges what changed, for as long as the connection lasts. There is
// one judgement at a time; a newer version of its plan cancels it, unless that
// happened twice in a row: when someone types faster than plans are judged,
// they would never see anything.
func (s *server) diagnose() {
	d := s.diagnoser()
	var rested <-chan time.Time
	for {
		select {
		case <-s.life.Done():
			return
		case <-rested:
			rested = nil
			snap := s.current.Load()
			s.beside("searching remedies", func() {
				s.searchRemedies(snap)
				s.searchLimits(snap)
			})
			continue
		case <-s.queue.wake:
			rested = s.opts.rest()
		}
		if s.phase.Load() == serving && !s.can.pull {
			d.look()
			if d.dropped == 0 {
				s.idle()
			}
		}
	}
}

// idle tells who embeds the server that nobody waits, if that is so.
func (s *server) idle() {
	if s.opts.Idle != nil && s.running.none() {
		s.opts.Idle()
	}
}

// patience is how many judgements in a row are given up for newer ones.
const patience = 2

// look judges what changed, the plans of the document edited last before the
// others, and publishes what is news.
func (d *diagnoser) look() {
	defer func() {
		if caught := recover(); caught != nil {
			d.log(protocol.MessageTypeError, "judging: a defect: %v\n%s", caught, debug.Stack())
		}
	}()
	d.queue.take(d.waiting)
	snap := d.current.Load() // after taking, so that it is no older than what was taken
	if d.settings != snap.settings {
		d.settings = snap.settings
		for id := range d.judged {
			d.waiting[id], d.anew[id] = true, true
		}
	}
	near, far := d.byNearness(snap)
	for _, ids := range [][]planID{near, far} {
		for _, id := range ids {
			if !d.judge(snap.plan(id), snap, id) {
				return
			}
		}
		if d.life.Err() != nil || d.dropped < patience && d.current.Load() != snap {
			d.dropped++ // what came meanwhile has woken us already
			return
		}
		for _, key := range slices.Sorted(maps.Keys(d.pending)) {
			d.publish(snap, key)
		}
		clear(d.pending)
	}
	d.dropped = 0
}

// judge works out what is found in a plan, and notes the documents that may
// have other findings. It is false when it was given up.
func (d *diagnoser) judge(p *plan, snap *snapshot, id planID) bool {
	before := d.judged[id]
	was, now := d.reports[id], report(nil)
	if r, ok := snap.root(id.root); ok && p != nil && r.judged[id.dir] {
		ctx, end := patient(d.life), func() {}
		if d.dropped < patience {
			ctx, end = d.queue.begin(ctx, id)
		}
		_, _ = p.figures(ctx) // requests want them as well; report tells of an error
		d.running.quiet(ctx)
		var err error
		now, err = d.report(ctx, p)
		end()
		if err != nil {
			d.dropped++
			return false
		}
	}
	delete(d.waiting, id)
	delete(d.judged, id)
	delete(d.reports, id)
	d.touch(before, p, was, now)
	d.touch(p, before, now, was)
	if d.anew[id] { // p may have been replaced by its like meanwhile
		d.touch(p, p, now, now)
		delete(d.anew, id)
	}
	if p != nil {
		d.judged[id], d.reports[id] = p, now
	}
	return true
}

// touch notes the documents of a plan that may have other findings than in
// another version of it. What both say the same about is left out: stock that
// a thousand plans share is not gone through with every keystroke in one.
func (d *diagnoser) touch(p, other *plan, said, otherSaid report) {
	if p == nil {
		return
	}
	for path, doc := range p.byPath() {
		if other == nil || other == p || other.byPath()[path] != doc || digest(said[doc.key]) != digest(otherSaid[doc.key]) {
			d.pending[doc.key] = true
		}
	}
}

// byNearness parts the plans that wait into those that have the document
// edited last and the others.
func (d *diagnoser) byNearness(snap *snapshot) (near, far []planID) {
	first := map[planID]bool{}
	if key := d.edited.Load(); key != nil {
		for _, r := range snap.roots {
			for _, dir := range r.holds(*key) {
				for _, p := range r.plansWith(dir) {
					first[p.id] = true
				}
			}
		}
	}
	for id := range d.waiting {
		if first[id] {
			near = append(near, id)
		} else {
			far = append(far, id)
		}
	}
	order := func(a, b planID) int {
		return cmp.Or(cmp.Compare(a.root.kind, b.root.kind), strings.Compare(a.root.path, b.root.path), strings.Compare(a.dir, b.dir))
	}
	slices.SortFunc(near, order)
	slices.SortFunc(far, order)
	return near, far
}

// publish tells the client what is found in a document if that is news, or
// news for this version of it.
func (d *diagnoser) publish(snap *snapshot, key string) {
	was, known := d.last[key]
	doc, ok := snap.document(key)
	if !ok {
		if known {
			d.send(&protocol.PublishDiagnosticsParams{URI: was.uri, Diagnostics: []protocol.Diagnostic{}})
			delete(d.last, key)
		}
		return
	}
	ds, err := d.diagnosticsOf(d.life, snap, key)
	if err != nil {
		return // the connection is over
	}
	now := published{uri: doc.uri, digest: digest(ds), buffer: doc.buffer}
	if known && was == now || !known && len(ds) == 0 && !doc.open() {
		return
	}
	if known && was.uri != now.uri {
		d.send(&protocol.PublishDiagnosticsParams{URI: was.uri, Diagnostics: []protocol.Diagnostic{}})
	}
	d.last[key] = now
	params := &protocol.PublishDiagnosticsParams{URI: doc.uri, Diagnostics: ds}
	if doc.open() && d.can.version {
		params.Version = protocol.NewOptional(doc.buffer.version)
	}
	d.send(params)
}

func (s *server) send(params *protocol.PublishDiagnosticsParams) {
	if err := s.client.PublishDiagnostics(s.life, params); err != nil && s.life.Err() == nil {
		fmt.Fprintf(s.opts.Log, "publishing diagnostics: %v\n", err)
	}
}
