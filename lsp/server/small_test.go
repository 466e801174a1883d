package server

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"go.lsp.dev/protocol"

	"ohmstead/schema"
)

// Offsets of a signature's parameters count in what was agreed on for positions
// (Language Server Protocol 3.18, ParameterInformation.label): in each of the three
// the parameter that is named is cut out.
func TestSignatureEncodings(t *testing.T) {
	const before = "/* ärmel 🎉 */ x = "
	widths := map[string]func(string) int{
		"utf-8":  func(s string) int { return len(s) },
		"utf-16": func(s string) int { return len(utf16.Encode([]rune(s))) },
		"utf-32": func(s string) int { return len([]rune(s)) },
	}
	cut := map[string]func(s string, from, to uint32) string{
		"utf-8":  func(s string, from, to uint32) string { return s[from:to] },
		"utf-16": func(s string, from, to uint32) string { return string(utf16.Decode(utf16.Encode([]rune(s))[from:to])) },
		"utf-32": func(s string, from, to uint32) string { return string([]rune(s)[from:to]) },
	}
	for encoding, width := range widths {
		e := start(t, "-- p/p.ohm.hcl --\nplan \"p\" {}\n", setup{capabilities: `{"general": {"positionEncodings": ["` + encoding + `"]},
			"textDocument": {"signatureHelp": {"signatureInformation": {"parameterInformation": {"labelOffsetSupport": true}}}}}`})
		u := e.open("p/p.ohm.hcl")
		for i, f := range schema.Functions {
			line := before + f.Name + "("
			e.replace(u, int32(i+2), "let {\n"+line+"\n}\n")
			s, err := e.SignatureHelp(e.ctx(), &protocol.SignatureHelpParams{TextDocumentPositionParams: at(u, 1, uint32(width(line)))})
			e.must(err)
			if s == nil || len(s.Signatures) != 1 || len(s.Signatures[0].Parameters) != len(f.Params) {
				t.Fatalf("%s in %s: %s", f.Name, encoding, wire(t, s))
			}
			sig := s.Signatures[0]
			for j, p := range sig.Parameters {
				l := p.Label.(protocol.ParameterInformationLabelTuple)
				if got := cut[encoding](sig.Label, l[0], l[1]); strings.TrimSuffix(got, ", ...") != f.Params[j].Name {
					t.Errorf("%s in %s: parameter %d is %q", f.Name, encoding, j, got)
				}
			}
		}
	}
}

// A small client puts the text of an item in place of the word at the cursor,
// whatever range it is told, and keeps the order by sortText.
func TestSmallClients(t *testing.T) {
	word := regexp.MustCompile(`[\pL\pN_-]*$`) // as editors/vim has it
	e := start(t, "-- p/p.ohm.hcl --\nplan \"p\" {}\n-- shop/w.ohm.hcl --\nwire \"thick\" { gauge = \"12 AWG\" }\n", setup{capabilities: "{}"})
	u := e.open("p/p.ohm.hcl")
	for i, c := range []struct{ line, label, want string }{
		{`gauge = "16|"`, "AWG", `gauge = "16 AWG"`},
		{`gauge = "16 |"`, "AWG", `gauge = "16 AWG"`},
		{`gauge = "16 AW|"`, "AWG", `gauge = "16 AWG"`},
		{`gauge = "1.5|"`, "mm2", `gauge = "1.5 mm2"`},
		{`gauge = "1.5mm|"`, "mm2", `gauge = "1.5 mm2"`},
		{`ampacity = "|"`, "8 A", `ampacity = "8 A"`},
		{`  ampac|`, "ampacity", `  ampacity = "8 A"`},
		{`  rail = "0.01 |"`, "ohm/m", `  rail = "0.01 ohm/m"`},
		{`  rail = "0.01 ohm/|"`, "ohm/m", `  rail = "0.01 ohm/m"`},
		{`  rail = "0.01oh|"`, "ohm/m", `  rail = "0.01 ohm/m"`},
	} {
		left, right, _ := strings.Cut(c.line, "|")
		head := "wire \"w\" {\n"
		if strings.Contains(left, "rail") {
			head = "strip \"w\" {\n"
		}
		e.replace(u, int32(i+2), head+left+right+"\n}\n")
		r, err := e.Completion(e.ctx(), &protocol.CompletionParams{TextDocumentPositionParams: at(u, 1, uint32(len(left)))})
		e.must(err)
		items := r.(*protocol.CompletionList).Items
		if !slices.IsSortedFunc(items, func(a, b protocol.CompletionItem) int {
			x, _ := a.SortText.Get()
			y, _ := b.SortText.Get()
			return strings.Compare(x, y)
		}) {
			t.Errorf("%s: sortText is not in the order of the list", c.line)
		}
		j := slices.IndexFunc(items, func(i protocol.CompletionItem) bool { return i.Label == c.label })
		if j < 0 {
			t.Errorf("%s: no item %s", c.line, c.label)
			continue
		}
		edit := items[j].TextEdit.(*protocol.TextEdit)
		if got := word.ReplaceAllString(left, "") + edit.NewText + right; got != c.want {
			t.Errorf("%s: a small client makes it %s, want %s", c.line, got, c.want)
		}
		if got := left[:edit.Range.Start.Character] + edit.NewText + (left + right)[edit.Range.End.Character:]; got != c.want {
			t.Errorf("%s: the range makes it %s, want %s", c.line, got, c.want)
		}
	}
}
