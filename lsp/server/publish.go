package server

import (
	"fmt"
	"maps"
	"runtime/debug"
	"slices"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

// published is what the client was last told about a document.
type published struct {
	uri    uri.URI
	digest string
	buffer *buffer
}

// diagnoser judges what changes and pushes what is found.
type diagnoser struct {
	*server
	judged   map[*plan]bool       // of the last snapshot looked at
	pending  map[string]bool      // documents that may have other findings than published
	last     map[string]published // by key
	settings Settings
	scanned  map[string]bool // folders, by path
	dropped  int             // judgements given up in a row
}

// diagnose judges what changed, for as long as the connection lasts. There is
// one judgement at a time; a newer snapshot makes it turn to that one, so what
// is out of date is dropped unless it was dropped twice in a row, when someone
// types faster than plans are judged and would never see anything.
func (s *server) diagnose() {
	d := &diagnoser{
		server:  s,
		judged:  map[*plan]bool{},
		pending: map[string]bool{},
		last:    map[string]published{},
		scanned: map[string]bool{},
	}
	for {
		select {
		case <-s.life.Done():
			return
		case <-s.wake:
		}
		if s.phase.Load() == serving && !s.can.pull {
			d.look(s.current.Load())
		}
	}
}

// look judges the plans of a snapshot and publishes what is news.
func (d *diagnoser) look(snap *snapshot) {
	defer func() {
		if caught := recover(); caught != nil {
			d.log(protocol.MessageTypeError, "judging: a defect: %v\n%s", caught, debug.Stack())
		}
	}()
	stale := func() bool { return d.life.Err() != nil || d.dropped < 2 && d.current.Load() != snap }
	d.dropped++
	plans := snap.plansInOrder(d.edited.Load())
	now := make(map[*plan]bool, len(plans))
	for _, p := range plans {
		if !d.judged[p] {
			if stale() {
				return
			}
			d.report(p)
			d.touch(p)
			d.judged[p] = true
		}
		now[p] = true
	}
	for p := range d.judged {
		if !now[p] {
			d.touch(p)
			delete(d.judged, p)
		}
	}
	d.notice(snap)
	if stale() {
		return
	}
	d.dropped = 0
	for _, key := range d.inOrder() {
		d.publish(snap, key)
	}
	clear(d.pending)
}

// touch notes that the documents of a plan may have other findings.
func (d *diagnoser) touch(p *plan) {
	for _, doc := range p.byPath() {
		d.pending[doc.key] = true
	}
}

// notice notes what else decides about what is shown.
func (d *diagnoser) notice(snap *snapshot) {
	all := d.settings != snap.settings
	d.settings = snap.settings
	for _, r := range snap.roots {
		if r.kind == folder && d.scanned[r.path] != r.scanned {
			d.scanned[r.path] = r.scanned
			all = true
		}
	}
	if all {
		for p := range d.judged {
			d.touch(p)
		}
	}
}

// inOrder lists the pending documents, the edited one first.
func (d *diagnoser) inOrder() []string {
	keys := slices.Sorted(maps.Keys(d.pending))
	if first := d.edited.Load(); first != nil {
		if i := slices.Index(keys, *first); i > 0 {
			keys = slices.Insert(slices.Delete(keys, i, i+1), 0, *first)
		}
	}
	return keys
}

// publish tells the client what is found in a document if that is news, or
// news for this version of it.
func (d *diagnoser) publish(snap *snapshot, key string) {
	was, told := d.last[key]
	doc, ok := snap.document(key)
	if !ok {
		if told {
			d.send(&protocol.PublishDiagnosticsParams{URI: was.uri, Diagnostics: []protocol.Diagnostic{}})
			delete(d.last, key)
		}
		return
	}
	ds := d.diagnosticsOf(snap, key)
	now := published{uri: doc.uri, digest: digest(ds), buffer: doc.buffer}
	if told && was == now || !told && len(ds) == 0 && !doc.open() {
		return
	}
	if told && was.uri != now.uri {
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

// plansInOrder lists the plans to judge, the ones of the edited document first.
func (s *snapshot) plansInOrder(edited *string) []*plan {
	var first, rest []*plan
	for _, r := range s.roots {
		var near map[string]*directory
		if edited != nil {
			near = r.holds(*edited)
		}
		for _, dir := range slices.Sorted(maps.Keys(r.plans)) {
			if p := r.plans[dir]; p.concerned(near) {
				first = append(first, p)
			} else {
				rest = append(rest, p)
			}
		}
	}
	return append(first, rest...)
}
