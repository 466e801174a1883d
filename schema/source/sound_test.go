package source

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// compareWhole checks that the pieces of a text which HCL finds sound hold what the text holds when it is parsed whole.
// It reports whether the text is sound.
func compareWhole(t *testing.T, data []byte) bool {
	t.Helper()
	whole, diags := hclsyntax.ParseConfig(data, "", hcl.InitialPos)
	if diags.HasErrors() || !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 { // HCL lets these pass in comments
		return false
	}
	f := Parse(NewText("a.hcl", data))
	checkPieces(t, f)
	var got []string
	var tokens []string
	for i, p := range f.Pieces {
		for _, problem := range p.Problems() {
			t.Errorf("piece %d of %q: %v", i, data, problem)
		}
		got = append(got, dumpBody(p.Body(), f.Offset(i))...)
		for _, token := range p.Tokens() {
			if token.Type != hclsyntax.TokenEOF {
				tokens = append(tokens, fmt.Sprintf("%v %d %q", token.Type, f.Offset(i)+token.Range.Start.Byte, token.Bytes))
			}
		}
	}
	if diff := cmp.Diff(dumpBody(whole.Body.(*hclsyntax.Body), 0), got); diff != "" {
		t.Errorf("%q read in pieces (-whole +pieces):\n%s", data, diff)
	}
	var wholeTokens []string
	all, _ := hclsyntax.LexConfig(data, "", hcl.InitialPos)
	for _, token := range all {
		if token.Type != hclsyntax.TokenEOF {
			wholeTokens = append(wholeTokens, fmt.Sprintf("%v %d %q", token.Type, token.Range.Start.Byte, token.Bytes))
		}
	}
	if diff := cmp.Diff(wholeTokens, tokens); diff != "" {
		t.Errorf("%q lexed in pieces (-whole +pieces):\n%s", data, diff)
	}
	return true
}

// checkPieces checks that nothing is lost or out of place in a file.
func checkPieces(t *testing.T, f *File) {
	t.Helper()
	if f.Refused() != nil {
		return
	}
	joined := bytes.Clone(f.Text.Bytes()[:markLength(f.Text.Bytes())])
	for i, p := range f.Pieces {
		if f.Offset(i) != len(joined) {
			t.Errorf("piece %d is said to start at %d, want %d", i, f.Offset(i), len(joined))
		}
		if j, ok := f.Index(p); !ok || j != i {
			t.Errorf("Index of piece %d: %d, %v", i, j, ok)
		}
		joined = append(joined, p.Bytes()...)
		checkRanges(t, p)
	}
	if !bytes.Equal(joined, f.Text.Bytes()) {
		t.Errorf("the pieces make %q, want %q", joined, f.Text.Bytes())
	}
}

// checkRanges checks that every range that a piece gives can be used to slice it.
func checkRanges(t *testing.T, p *Piece) {
	t.Helper()
	check := func(what string, start, end int) {
		if start < 0 || start > end || end > len(p.Bytes()) {
			t.Errorf("%s has range %d-%d in %q", what, start, end, p.Bytes())
		}
	}
	hclsyntax.VisitAll(p.Body(), func(n hclsyntax.Node) hcl.Diagnostics {
		switch n.(type) {
		case *hclsyntax.Body, hclsyntax.Attributes, hclsyntax.Blocks: // the parser puts these together loosely
		default:
			check(fmt.Sprintf("%T", n), n.Range().Start.Byte, n.Range().End.Byte)
		}
		return nil
	})
	for _, token := range p.Tokens() {
		check("token", token.Range.Start.Byte, token.Range.End.Byte)
	}
	last := -1
	for _, problem := range p.Problems() {
		check(problem.Summary, problem.Start, problem.End)
		line := bytes.Count(p.Bytes()[:problem.Start], newline)
		if line == last || bytes.Contains(p.Bytes()[problem.Start:problem.End], newline) {
			t.Errorf("%v is not alone in line %d, or spans several, in %q", problem, line, p.Bytes())
		}
		last = line
	}
	if len(p.Problems()) > MaxProblems {
		t.Errorf("%d problems in %q", len(p.Problems()), p.Bytes())
	}
}

func TestSoundText(t *testing.T) {
	for name, data := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			if !compareWhole(t, data) {
				t.Error("the text is not sound")
			}
		})
	}
}

// TestSoundTextAfterEdits tears texts apart at random and checks whatever HCL still finds sound: above all, blocks in
// the first column of other blocks, in comments and in heredocs.
func TestSoundTextAfterEdits(t *testing.T) {
	const edits = 100
	for name, data := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(1, 2))
			sound := 0
			for range edits {
				text := data
				for range 1 + random.IntN(3) {
					text = mutate(random, text)
				}
				if compareWhole(t, text) {
					sound++
				}
				if t.Failed() {
					return
				}
			}
			if sound < edits/10 {
				t.Errorf("only %d of %d edits left the text sound, so the test says little", sound, edits)
			}
		})
	}
}

var snippets = []string{
	"", "{", "}", "[", "]", "(", ")", "\"", "${", "%{", "$${", "/*", "*/", "#", "//", "\n", "\r\n", "\r", " ", "=", "x", "é", "🎄",
	"<<EOT\n", "<<-EOT\n", "EOT\n", "\nEOT\n", "x = <<EOT\nrun \"y\" {\nEOT\n", "x = 1\n", "\nx = 1\n", "run \"z\" {\n", "\nrun \"z\" {\n",
	"}\n", "\n}\n", "in {", "if {", "for ", "path {\nlength = 1\n}\n", "/* {\nrun \"c\" {\n*/", "# comment\n", "\xff", "\x00", "\ufeff",
	"x = \"${ {\nrun = 1\n}.run }\"\n", "\\", "\"${", "}\"", "- ", "? ", ": ", "[*]", "1", "e9",
}

// mutate makes one edit that an editor or an accident might make.
func mutate(random *rand.Rand, data []byte) []byte {
	at := func() int { return random.IntN(len(data) + 1) }
	lines := bytes.SplitAfter(data, newline)
	line := random.IntN(len(lines))
	switch random.IntN(9) {
	case 0, 1: // type something
		i := at()
		return bytes.Join([][]byte{data[:i], []byte(snippets[random.IntN(len(snippets))]), data[i:]}, nil)
	case 2: // type something at the start of a line
		lines[line] = append([]byte(snippets[random.IntN(len(snippets))]), lines[line]...)
	case 3: // delete a bit
		i := at()
		return append(bytes.Clone(data[:i]), data[min(i+random.IntN(20), len(data)):]...)
	case 4: // delete lines
		lines = append(lines[:line:line], lines[min(line+1+random.IntN(3), len(lines)):]...)
	case 5: // double a line
		lines[line] = bytes.Repeat(lines[line], 2)
	case 6: // move a line
		other := random.IntN(len(lines))
		lines[line], lines[other] = lines[other], lines[line]
	case 7: // lose the indentation of some lines
		for i := line; i < min(line+1+random.IntN(12), len(lines)); i++ {
			lines[i] = bytes.TrimLeft(lines[i], " ")
		}
	case 8: // put lines into a block
		end := min(line+random.IntN(9), len(lines))
		lines = append(lines[:end:end], append([][]byte{[]byte("}\n")}, lines[end:]...)...)
		lines[line] = append([]byte("run \"o\" {\n"), lines[line]...)
	}
	return bytes.Join(lines, nil)
}
