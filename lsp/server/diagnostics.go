package server

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"hash/maphash"
	"slices"

	"go.lsp.dev/protocol"

	"ohmstead/lint"
	"ohmstead/lsp/ide"
)

// report is the findings of a plan by document.
type report map[string][]protocol.Diagnostic

// report converts the findings of a plan, once for each version of it. Its
// error is that of ctx.
func (s *server) report(ctx context.Context, p *plan) (report, error) {
	s.running.awaits(ctx)
	return p.reported.get(ctx, func(ctx context.Context) (report, error) {
		out, err := caught(ctx, func(ctx context.Context) (report, error) { return s.converted(ctx, p) })
		var bug *defect
		if errors.As(err, &bug) {
			s.log(protocol.MessageTypeError, "judging %s: %v\n%s", p.id.dir, bug, bug.stack)
			return failedReport(p, bug), nil
		}
		return out, err
	})
}

func (s *server) converted(ctx context.Context, p *plan) (report, error) {
	v, err := s.view(ctx, &question{plan: p}, needFigures|needFindings)
	if err != nil {
		return nil, err
	}
	out := report{}
	for _, d := range ide.Diagnostics(v, lint.Hint) {
		if f, ok := p.document(d.Path); ok && f.doc != nil {
			out[f.doc.key] = append(out[f.doc.key], s.diagnostic(p, f, &d))
		}
	}
	for _, d := range ide.Unjudged(v) {
		if f, ok := p.document(d.Path); ok && f.doc != nil {
			unjudged := s.diagnostic(p, f, &d)
			unjudged.Severity = protocol.DiagnosticSeverityInformation
			out[f.doc.key] = append(out[f.doc.key], unjudged)
		}
	}
	return out, nil
}

// failedReport says that a plan could not be judged: silence would look as if
// nothing was wrong with it.
func failedReport(p *plan, bug *defect) report {
	return report{p.own.docs[0].key: {{
		Severity: protocol.DiagnosticSeverityError,
		Code:     protocol.String("defect"),
		Source:   protocol.NewOptional("ohmstead"),
		Message:  protocol.String(fmt.Sprintf("the program failed on this plan, which is a mistake in it, and nothing of the plan is judged: %v", bug.caught)),
	}}}
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
func (s *server) diagnosticsOf(ctx context.Context, snap *snapshot, key string) ([]protocol.Diagnostic, error) {
	out := []protocol.Diagnostic{}
	least := severity(snap.settings.leastLevel())
	sources := 0
	for _, r := range snap.roots {
		for _, dir := range r.holds(key) {
			for _, p := range r.plansWith(dir) {
				if !r.judged[p.id.dir] {
					continue
				}
				sources++
				found, err := s.report(ctx, p)
				if err != nil {
					return nil, err
				}
				for _, d := range found[key] {
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
	return out, nil
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
		for _, dir := range r.holds(key) {
			return r.dir(dir).find(key)
		}
	}
	return nil, false
}
