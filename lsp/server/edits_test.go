package server

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"ohmstead/calc/thorough"
)

// typed is a document as an editor holds it: UTF-16 code units.
type typed []uint16

func (d typed) String() string { return string(utf16.Decode(d)) }

// position counts as the protocol says.
func (d typed) position(offset int) protocol.Position {
	var p protocol.Position
	for _, c := range d[:offset] {
		if p.Character++; c == '\n' {
			p.Line, p.Character = p.Line+1, 0
		}
	}
	return p
}

// splits reports whether an offset lies inside of a character or a line end.
func (d typed) splits(offset int) bool {
	if offset == 0 || offset == len(d) {
		return false
	}
	return utf16.IsSurrogate(rune(d[offset])) && d[offset] >= 0xdc00 || d[offset-1] == '\r' && d[offset] == '\n'
}

func (d typed) place(r *rand.Rand) int {
	for {
		if i := r.IntN(len(d) + 1); !d.splits(i) {
			return i
		}
	}
}

// scraps are what is typed and pasted.
var scraps = []string{
	"x", "1", "\"", "{", "}", "[", "]", "=", ".", " ", "\n", "\r\n", "#", "/*", "*/", "${", "😀", "é", "👩‍👩‍👧", "\u2028", "<<E\n", "E\n",
	"run \"n😀\" {\n  strip = strip.arch\n  length = \"2 m\"\n}\n", "lead \"n\" {\r\n  from = supply.brick.out\r\n  to = run.a.start\r\n}\r\n",
	"let {\n  gap = \"10 cm\"\n}\n", "chain \"d\" {\n  from = run.a.end\n  runs = [run.b, run.a]\n}\n", "chain.c", "run.b-all", "assembly.r", "run.h", "run.r-h-2", "times = 3\n", "copy \"1\" {", "run.all", "from_end(assembly.r)", "runs {\n  v = \"1 m\"\n", "usual \"run\" \"lead\" { ", "assembly \"q\" { like = assembly.r }\n", "usual \"run\" { strip = strip.arch }\n", "# ohmstead: allow voltage-low because tests\n", "length = let.gap", "catalog.ws2815_12v_60", "case \"c\" {\n  color = \"#ffb070\"\n}\n",
}

// sown has short forms too, which make blocks at places of their own text.
const sown = "plan \"porch\" {\r\n  mains = \"230 V\"\r\n}\r\nstrip \"arch\" {\n  like = catalog.ws2815_12v_60\n}\n" +
	"supply \"brick\" {\n  output = \"12 V\" # 😀 \"é\"\n  rating = \"5 A\"\n}\nwire \"w\" { gauge = \"16 AWG\" }\n" +
	"run \"a\" {\n  strip = strip.arch\n  length = \"2.5 m\"\n}\nlead \"l\" {\n  from = supply.brick.out\n  to = run.a.start\n  wire = wire.w\n  length = \"1 m\"\n}\n" +
	"run \"b\" {\n  like = run.a\n  times = 2\n}\nusual \"signal\" { wire = wire.w }\nchain \"c\" {\n  from = run.a.end\n  runs = [run.b-all]\n  hop {\n    to = run.b-1\n    length = \"1 m\"\n  }\n}\n" +
	"feed \"f\" {\n  from = supply.brick.out\n  to = [chain.c, run.a.end]\n  wire = wire.w\n}\n" +
	"assembly \"r\" {\n  times = 2\n  shift = [\"60 cm\", \"0 cm\"]\n  run \"h\" {\n    strip = strip.arch\n    length = \"50 cm\"\n  }\n  lead \"t\" {\n    from = supply.brick.out\n    to = run.h.start\n    wire = wire.w\n  }\n" +
	"  signal \"s\" {\n    from = run.h.end\n    to = run.h-next.start\n  }\n  copy \"2\" {\n    run \"h\" { length = \"40 cm\" }\n  }\n  runs {\n    k = \"30 cm\"\n  }\n}\nchain \"e\" {\n  from = run.b-2.end\n  runs = from_end(assembly.r)\n}\nfeed \"g\" {\n  from = supply.brick.out\n  through = [run.r-k-1.end, run.r-k-2.end]\n  wire = wire.w\n}\nusual \"run\" \"joint\" { strip = strip.arch }\norder \"o\" { runs = [assembly.r, run.a] }\n"

// TestRandomEdits holds that a server that has followed 1,000 random edits (fewer in the ordinary run)
// gives the same answers as one that has just opened the same text.
func TestRandomEdits(t *testing.T) {
	pull := strings.Replace(capable, `"hover":`, `"diagnostic": {"relatedInformation": true}, "hover":`, 1)
	followed, fresh := start(t, "-- a/.keep --\n", setup{capabilities: pull}), start(t, "-- a/.keep --\n", setup{capabilities: pull})
	r := rand.New(rand.NewPCG(1, 2))
	doc := typed(utf16.Encode([]rune(sown)))
	u := followed.openText("a/a.ohm.hcl", sown)
	id := protocol.TextDocumentIdentifier{URI: u}
	for n := range thorough.Or(1000, 300) {
		last := must(followed.SemanticTokensFull(followed.ctx(), &protocol.SemanticTokensParams{TextDocument: id}))
		p := &protocol.DidChangeTextDocumentParams{}
		p.TextDocument.URI, p.TextDocument.Version = u, int32(n+2)
		if len(doc) > 4000 {
			doc = typed(utf16.Encode([]rune(sown)))
			p.ContentChanges = append(p.ContentChanges, &protocol.TextDocumentContentChangeWholeDocument{Text: sown})
		}
		for range 1 + r.IntN(3)*r.IntN(2) {
			start, end := doc.place(r), 0
			switch r.IntN(3) {
			case 0:
				end = start // insert
			case 1:
				end = min(start+1+r.IntN(8), len(doc))
			case 2:
				end = doc.place(r)
				if r.IntN(4) > 0 { // mostly short ones, so that something is left
					end = min(start+r.IntN(60), len(doc))
				}
			}
			start, end = min(start, end), max(start, end)
			for doc.splits(end) {
				end++
			}
			text := ""
			if r.IntN(3) > 0 || start == end {
				text = scraps[r.IntN(len(scraps))]
			}
			// A line end that would come to stand between \r and \n is not what an editor sends.
			if start > 0 && doc[start-1] == '\r' || strings.HasSuffix(text, "\r") {
				continue
			}
			p.ContentChanges = append(p.ContentChanges, &protocol.TextDocumentContentChangePartial{
				Range: protocol.Range{Start: doc.position(start), End: doc.position(end)}, Text: text})
			doc = append(append(append(typed{}, doc[:start]...), utf16.Encode([]rune(text))...), doc[end:]...)
		}
		followed.must(followed.DidChange(followed.ctx(), p))
		v := fresh.openText("a/a.ohm.hcl", doc.String())
		changed := delta(followed, u, last)
		got, want := answers(followed, u), answers(fresh, v)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("after edit %d: answers differ from those of a fresh server (-fresh +followed):\n%s\n%q", n, diff, doc.String())
		}
		full := must(followed.SemanticTokensFull(followed.ctx(), &protocol.SemanticTokensParams{TextDocument: id}))
		if diff := cmp.Diff(full.Data, changed); diff != "" {
			t.Fatalf("after edit %d: the changed tokens are not the new ones (-full +changed):\n%s", n, diff)
		}
		fresh.must(fresh.DidClose(fresh.ctx(), &protocol.DidCloseTextDocumentParams{TextDocument: protocol.TextDocumentIdentifier{URI: v}}))
	}
}

// answers writes what a server says about a whole document.
func answers(e *editor, u uri.URI) string {
	e.t.Helper()
	id := protocol.TextDocumentIdentifier{URI: u}
	report, err := e.Diagnostic(e.ctx(), &protocol.DocumentDiagnosticParams{TextDocument: id})
	e.must(err)
	var b strings.Builder
	for _, d := range report.(*protocol.RelatedFullDocumentDiagnosticReport).Items {
		fmt.Fprintln(&b, describe(d))
		for _, r := range d.RelatedInformation {
			fmt.Fprintln(&b, "  ", r.Location.Range, r.Message)
		}
	}
	show := func(what string, v any, err error) {
		e.t.Helper()
		e.must(err)
		data, err := protocol.Marshal(v)
		e.must(err)
		fmt.Fprintln(&b, what, strings.ReplaceAll(string(data), "},{", "},\n{"))
	}
	symbols, err := e.DocumentSymbol(e.ctx(), &protocol.DocumentSymbolParams{TextDocument: id})
	show("symbols", symbols, err)
	folds, err := e.FoldingRanges(e.ctx(), &protocol.FoldingRangeParams{TextDocument: id})
	show("folds", folds, err)
	lenses, err := e.CodeLens(e.ctx(), &protocol.CodeLensParams{TextDocument: id})
	show("lenses", lenses, err)
	hints, err := e.InlayHint(e.ctx(), &protocol.InlayHintParams{TextDocument: id, Range: protocol.Range{End: protocol.Position{Line: 1 << 20}}})
	show("hints", hints, err)
	tokens, err := e.SemanticTokensFull(e.ctx(), &protocol.SemanticTokensParams{TextDocument: id})
	e.must(err)
	show("tokens", tokens.Data, nil)
	return strings.ReplaceAll(b.String(), e.dir, "")
}

// delta asks for the changes since some tokens, and makes them.
func delta(e *editor, u uri.URI, last *protocol.SemanticTokens) []uint32 {
	e.t.Helper()
	r, err := e.SemanticTokensFullDelta(e.ctx(), &protocol.SemanticTokensDeltaParams{TextDocument: protocol.TextDocumentIdentifier{URI: u}, PreviousResultID: *last.ResultID})
	e.must(err)
	d, ok := r.(*protocol.SemanticTokensDelta)
	if !ok {
		e.t.Fatalf("asked for a delta: %T", r)
	}
	data := last.Data
	for _, x := range d.Edits {
		data = append(append(append([]uint32{}, data[:x.Start]...), x.Data...), data[x.Start+x.DeleteCount:]...)
	}
	return data
}
