package server

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"go.lsp.dev/protocol"

	"ohmstead/schema/bigplan"
)

// BenchmarkEdit is what an edit costs without the pipes and the client: for
// profiles.
func BenchmarkEdit(b *testing.B) {
	for _, lines := range []int{2_000, 20_000} {
		b.Run(fmt.Sprintf("%d lines", lines), func(b *testing.B) {
			e := start(b, "-- a/.keep --\n", setup{})
			text := bigplan.Islands(lines)
			u := e.openText("a/a.ohm.hcl", text)
			seen := func(version int32) func() bool {
				return func() bool {
					p := e.shown[u]
					if p == nil {
						return false
					}
					v, _ := p.Version.Get()
					return v >= version
				}
			}
			e.eventually("the first findings", seen(1))
			line, char := find(b, text, `length    = "2.|5`)
			version := int32(1)
			for b.Loop() {
				version++
				p := &protocol.DidChangeTextDocumentParams{ContentChanges: []protocol.TextDocumentContentChangeEvent{&protocol.TextDocumentContentChangePartial{
					Range: protocol.Range{Start: protocol.Position{Line: line, Character: char}, End: protocol.Position{Line: line, Character: char + 1}},
					Text:  strconv.Itoa(4 + int(version)%3),
				}}}
				p.TextDocument.URI, p.TextDocument.Version = u, version
				e.must(e.DidChange(e.ctx(), p))
				e.eventually("the findings", seen(version))
			}
			e.mu.Lock()
			b.ReportMetric(float64(len(strings.Join(e.codes(u), ""))), "codes")
			e.mu.Unlock()
		})
	}
}

// BenchmarkWhole is what questions about a whole large document cost.
func BenchmarkWhole(b *testing.B) {
	e := start(b, "-- a/.keep --\n", setup{})
	u := e.openText("a/a.ohm.hcl", bigplan.Islands(20_000))
	id := protocol.TextDocumentIdentifier{URI: u}
	b.Run("formatting", func(b *testing.B) {
		for b.Loop() {
			must(e.Formatting(e.ctx(), &protocol.DocumentFormattingParams{TextDocument: id}))
		}
	})
	b.Run("tokens", func(b *testing.B) {
		for b.Loop() {
			must(e.SemanticTokensFull(e.ctx(), &protocol.SemanticTokensParams{TextDocument: id}))
		}
	})
	b.Run("symbols", func(b *testing.B) {
		for b.Loop() {
			must(e.DocumentSymbol(e.ctx(), &protocol.DocumentSymbolParams{TextDocument: id}))
		}
	})
}
