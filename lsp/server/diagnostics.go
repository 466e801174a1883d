package server

import (
	"cmp"
	"fmt"
	"hash/maphash"
	"slices"

	"go.lsp.dev/protocol"

	"ohmstead/lint"
	"ohmstead/schema/source"
)

// report is the findings of a plan by document.
type report map[string][]protocol.Diagnostic

// report converts the findings of a plan, once for each version of it.
func (s *server) report(p *plan) report {
	if r, ok := p.reports.Load(s); ok {
		return r.(report)
	}
	out := report{}
	for i := range p.findings() {
		f := &p.findings()[i]
		doc, d := s.diagnostic(p, f)
		if doc != nil {
			out[doc.key] = append(out[doc.key], d)
		}
	}
	r, _ := p.reports.LoadOrStore(s, out)
	return r.(report)
}

// diagnostic converts a finding. One about the plan as a whole stands at the
// start of its first file.
func (s *server) diagnostic(p *plan, f *lint.Finding) (*document, protocol.Diagnostic) {
	var doc *document
	var at protocol.Range
	if file, start, end, ok := p.decoded().Locate(f.At); ok {
		doc = p.byPath()[file.Text.Path()]
		at = s.span(file.Text, start, end)
	} else if len(p.own.docs) > 0 {
		doc = p.own.docs[0]
		for _, d := range p.own.docs { // a refused file has no pieces to point into
			if d.file.Refused() != nil && f.Rule == "too-large" {
				doc = d
			}
		}
	}
	d := protocol.Diagnostic{
		Range:    at,
		Severity: severity(f.Level),
		Code:     protocol.String(f.Rule),
		Source:   protocol.NewOptional("ohmstead"),
		Message:  protocol.String(f.Message),
	}
	if s.can.codeLink && s.can.virtualDocuments {
		if _, ok := ruleNamed(f.Rule); ok {
			d.CodeDescription.Href = ruleURI(f.Rule)
		}
	}
	if slices.Contains(s.can.tags, protocol.DiagnosticTagUnnecessary) && f.Rule == lint.RuleAllowUnused {
		d.Tags = protocol.NewDiagnosticTags(protocol.DiagnosticTagUnnecessary)
	}
	if s.can.related {
		for _, r := range f.Related {
			if l, ok := s.relatedPlace(p, r.At); ok {
				d.RelatedInformation = append(d.RelatedInformation, protocol.DiagnosticRelatedInformation{Location: l, Message: r.Message})
			}
		}
	}
	return doc, d
}

// relatedPlace converts a place beside a finding. One in the catalogue is left
// out unless it can be shown without writing a file, which nobody asked for.
func (s *server) relatedPlace(p *plan, at source.Span) (protocol.Location, bool) {
	view := s.view(&question{plan: p}, 0)
	l, ok := view.Locate(at)
	if !ok {
		return protocol.Location{}, false
	}
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
