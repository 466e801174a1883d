package server

import (
	"cmp"
	"fmt"
	"hash/maphash"
	"slices"

	"go.lsp.dev/protocol"

	"ohmstead/lint"
	"ohmstead/lsp/ide"
)

// report is the findings of a plan by document.
type report map[string][]protocol.Diagnostic

// report converts the findings of a plan, once for each version of it.
func (s *server) report(p *plan) report {
	p.reportOnce.Do(func() {
		p.reported = report{}
		v := s.view(&question{plan: p}, needFigures|needFindings)
		for _, d := range ide.Diagnostics(v, lint.Hint) {
			if f, ok := p.document(d.Path); ok && f.doc != nil {
				p.reported[f.doc.key] = append(p.reported[f.doc.key], s.diagnostic(p, f, &d))
			}
		}
	})
	return p.reported
}

// diagnostic converts a finding.
func (s *server) diagnostic(p *plan, f found, from *ide.Diagnostic) protocol.Diagnostic {
	d := protocol.Diagnostic{
		Range:    s.span(f.text, from.Start, from.End),
		Severity: severity(from.Level),
		Code:     protocol.String(from.Code),
		Source:   protocol.NewOptional("ohmstead"),
		Message:  protocol.String(from.Message),
	}
	if from.Explained && s.can.codeLink && s.can.virtualDocuments {
		d.CodeDescription.Href = ruleURI(from.Code)
	}
	if from.Unnecessary && slices.Contains(s.can.tags, protocol.DiagnosticTagUnnecessary) {
		d.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if s.can.related {
		for _, r := range from.Related {
			if l, ok := s.relatedPlace(p, r.Location); ok {
				d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{Location: l, Message: r.Message})
			}
		}
	}
	return d
}

// relatedPlace converts a place beside a finding. One in the catalogue is left
// out unless it can be shown without writing a file, which nobody asked for.
func (s *server) relatedPlace(p *plan, l ide.Location) (protocol.Location, bool) {
	if f, ok := p.document(l.Path); !ok || f.doc == nil && !s.can.virtualDocuments {
		return protocol.Location{}, false
	}
	return s.location(p, l)
}

func severity(l lint.Level) protocol.DiagnosticSeverity {
	switch l {
	case lint.Error:
		return protocol.DiagnosticSeverityError
	case lint.Warning:
		return protocol.DiagnosticSeverityWarning
	}
	return protocol.DiagnosticSeverityHint
}

// diagnosticsOf gives what is found in a document by all plans that it is part of.
func (s *server) diagnosticsOf(snap *snapshot, key string) []protocol.Diagnostic {
	out := []protocol.Diagnostic{}
	least := severity(snap.settings.leastLevel())
	sources := 0
	for _, r := range snap.roots {
		for dir := range r.holds(key) {
			for _, p := range r.users(dir) {
				if !r.scanned && !p.own.head {
					continue // what looks like a plan without a plan block may turn out to be stock
				}
				sources++
				for _, d := range s.report(p)[key] {
					if d.Severity <= least {
						out = append(out, d)
					}
				}
			}
		}
	}
	if sources > 1 {
		slices.SortStableFunc(out, byPlace)
		out = slices.CompactFunc(out, func(a, b protocol.Diagnostic) bool {
			return a.Range == b.Range && a.Code == b.Code && a.Message == b.Message
		})
	}
	return out
}

func byPlace(a, b protocol.Diagnostic) int {
	return cmp.Or(cmp.Compare(a.Range.Start.Line, b.Range.Start.Line), cmp.Compare(a.Range.Start.Character, b.Range.Start.Character),
		cmp.Compare(a.Code.(protocol.String), b.Code.(protocol.String)), cmp.Compare(a.Message.(protocol.String), b.Message.(protocol.String)))
}

var seed = maphash.MakeSeed()

// digest tells lists of findings apart.
func digest(ds []protocol.Diagnostic) string {
	var h maphash.Hash
	h.SetSeed(seed)
	place := func(r protocol.Range) {
		maphash.WriteComparable(&h, r)
	}
	for i := range ds {
		d := &ds[i]
		place(d.Range)
		maphash.WriteComparable(&h, d.Severity)
		fmt.Fprint(&h, d.Code, "\x00", d.Message, "\x00")
		for _, r := range d.RelatedInformation {
			place(r.Location.Range)
			h.WriteString(string(r.Location.URI))
			h.WriteString(r.Message)
		}
	}
	return fmt.Sprintf("%016x", h.Sum64())
}

// document finds a document in the root that answers for it.
func (s *snapshot) document(key string) (*document, bool) {
	for _, r := range s.roots {
		for _, d := range r.holds(key) {
			return d.docs[slices.IndexFunc(d.docs, func(doc *document) bool { return doc.key == key })], true
		}
	}
	return nil, false
}
