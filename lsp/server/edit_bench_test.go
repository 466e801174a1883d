package server

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

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

// BenchmarkDirectories is what an edit costs until its findings are shown, in
// workspaces of 1, 100 and 1,000 directories with a plan, edited in turn. It
// reports medians, and their ratio to that of the smallest workspace.
func BenchmarkDirectories(b *testing.B) {
	sizes := []int{1, 100, 1000}
	const text = "plan \"p\" {\n  stock = [\"../shop\"]\n}\nrun \"r\" {\n  strip  = strip.s\n  length = \"2.5 m\"\n}\n"
	line, char := find(b, text, `length = "2.|5`)
	var editors []*editor
	var us []uri.URI
	for _, n := range sizes {
		var files strings.Builder
		files.WriteString("-- shop/s.ohm.hcl --\nstrip \"s\" {\n  like = catalog.ws2815_12v_60\n}\n")
		for i := range n {
			fmt.Fprintf(&files, "-- d%d/p.ohm.hcl --\n%s", i, text)
		}
		e := start(b, files.String(), setup{})
		e.eventually("all is judged", func() bool { return len(e.shown) >= n })
		editors, us = append(editors, e), append(us, e.open("d0/p.ohm.hcl"))
	}
	times := make([][]time.Duration, len(sizes))
	version := int32(1)
	for b.Loop() {
		version++
		for i, e := range editors {
			p := &protocol.DidChangeTextDocumentParams{ContentChanges: []protocol.TextDocumentContentChangeEvent{&protocol.TextDocumentContentChangePartial{
				Range: protocol.Range{Start: protocol.Position{Line: line, Character: char}, End: protocol.Position{Line: line, Character: char + 1}},
				Text:  strconv.Itoa(4 + int(version)%3),
			}}}
			p.TextDocument.URI, p.TextDocument.Version = us[i], version
			start := time.Now()
			e.must(e.DidChange(e.ctx(), p))
			e.eventually("the findings", func() bool {
				p := e.shown[us[i]]
				if p == nil {
					return false
				}
				v, _ := p.Version.Get()
				return v >= version
			})
			times[i] = append(times[i], time.Since(start))
		}
	}
	var least float64
	for i, n := range sizes {
		slices.Sort(times[i])
		ms := float64(times[i][len(times[i])/2].Microseconds()) / 1000
		if i == 0 {
			least = ms
		}
		b.ReportMetric(ms, fmt.Sprintf("ms/%d-dirs", n))
		b.ReportMetric(ms/least, fmt.Sprintf("ratio/%d-dirs", n))
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
