package source

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// outer returns the attributes and blocks of a body as words; those that a syntax error touches end with "!".
func outer(p *Piece, body *hclsyntax.Body) string {
	var words []string
	for name, a := range body.Attributes {
		if p.Broken(a.SrcRange.Start.Byte, a.SrcRange.End.Byte) {
			name += "!"
		}
		words = append(words, name)
	}
	slices.Sort(words)
	for _, b := range body.Blocks {
		word := b.Type
		for _, label := range b.Labels {
			word += "." + label
		}
		if p.Broken(b.TypeRange.Start.Byte, b.OpenBraceRange.End.Byte) {
			word += "!"
		}
		words = append(words, fmt.Sprintf("%s{%s}", word, outer(p, b.Body)))
	}
	return strings.Join(words, " ")
}

// TestHalfTyped types into a block between two others and checks that the damage stays where it is done.
func TestHalfTyped(t *testing.T) {
	const rest = "path{start}"
	tests := []struct {
		name, typed string
		body        string   // of the block with the mistake
		problems    []string // place and summary of each
	}{
		{"word", "mi", "after before " + rest, []string{"mi: Argument or block definition required"}},
		{"block type", "run", "after before " + rest, []string{"run: Argument or block definition required"}},
		{"colon", "mid: 5", "after before " + rest, []string{"mid: Argument or block definition required"}},
		{"no value", "mid =", "after before mid! " + rest, []string{"=: Invalid expression"}},
		{"operator", "mid = 5 +", "after before mid! " + rest, []string{"+: Invalid expression"}},
		{"unit", "mid = 5m", "after before mid! " + rest, []string{"m: Missing newline after argument"}},
		{"unit apart", "mid = 5 volt", "after before mid! " + rest, []string{"volt: Missing newline after argument"}},
		{"half a conditional", "mid = a ? 1", "after before mid! " + rest, []string{"1: Missing false expression in conditional"}},
		{"dot", "mid = supply.", "after before mid! " + rest, []string{".: Invalid attribute name"}},
		{"dots", "mid = supply.main.", "after before mid! " + rest, []string{".: Invalid attribute name"}},
		{"block without brace", `run "x"`, "after before run.x!{} " + rest, []string{`": Invalid block definition`}},
		{"list", "mid = [1, 2", "after before mid! " + rest, []string{"[: Unterminated tuple constructor expression"}},
		{"call", "mid = max(1,", "after before mid! " + rest, []string{",: Missing expression"}},
		{"index", "mid = supply[", "after before mid! " + rest, []string{"[: Missing expression"}},
		{"heredoc", "mid = <<EOT", "after before mid! " + rest, []string{"T: Unterminated template string"}},
		{"string", `mid = "abc`, "after before mid! " + rest, []string{"c: Invalid multi-line string"}},
		{"sequence", `mid = "${supply.`, "after before mid! " + rest, []string{".: Invalid attribute name"}},
		{"label", `run "x`, "after before run.x!{} " + rest, []string{"x: Invalid multi-line string"}},
		{"object", "mid = {", "after before mid! " + rest, []string{"{: Missing expression"}},
		{"block without end", `run "x" {`, "after before run.x!{} " + rest, []string{"{: Unclosed configuration block"}},
		{"block with lines without end", "arc {\n    to = 1", "after before arc!{to!} " + rest, []string{"{: Unclosed configuration block"}},
		{"stray brace", "}", "after before " + rest, []string{"}: Unbalanced brackets or quotes"}},
		{"stray bracket", "mid = 1]", "after before mid! " + rest, []string{"]: Missing newline after argument"}},
		{"second time", "before = 2", "after before " + rest, []string{"before: Attribute redefined"}},
		{"comment", "/* x", "after before " + rest, []string{"/*: Unclosed comment"}},
		{"comment behind", "mid = 1 /* x", "after before mid " + rest, []string{"/*: Unclosed comment"}},
		{"string in a call", `mid = max("abc`, "after before mid! " + rest, []string{"c: Invalid multi-line string"}},
		{"single quotes", "mid = 'x'", "after before mid! " + rest, []string{"': Invalid character"}},
		{"list in a list", "mid = [\n    [1, 2],\n    [3,\n  ]", "after before mid! " + rest, []string{"[3,: Unbalanced brackets or quotes"}},
		{"string in a list", "mid = [\n    \"a\",\n    \"b,\n    \"c\",\n  ]", "after before mid! " + rest, []string{",: Invalid multi-line string"}},
		{"list without commas", "mid = [\n    1\n    2,\n  ]", "after before mid! " + rest, []string{"2: Missing item separator"}},
		{"list over lines", "mid = [\n    [1, 2],\n    [3, 4],", "after before mid! " + rest, []string{",: Missing expression"}},
		{"object with a list", "mid = {\n    a = 1\n    b = [\n  }", "after before mid! " + rest, []string{"[: Missing expression"}},
		{"several", "a =\n  b = \"x\n  c", "a! after b! before " + rest,
			[]string{"=: Invalid expression", "x: Invalid multi-line string", "c: Argument or block definition required"}},
		{"bytes", "mid = \"gr\xf6\xdfer\"", "after before mid! " + rest, []string{"\xf6: Invalid character encoding"}},
		{"bytes in a name", "gr\xf6\xdfe = 1", "after before gr__e! " + rest, []string{"\xf6: Invalid character encoding"}},
		{"NUL", "mid = 1 # \x00", "after before mid " + rest, []string{"\x00: Invalid character"}},
	}
	block := func(name, typed string) string {
		return fmt.Sprintf("# doc\nrun %q {\n  before = 1\n%s  after = 3\n\n  path {\n    start = 4\n  }\n}\n\n", name, typed)
	}
	names := []string{"a", "b", "c"}
	for _, test := range tests {
		for _, eol := range []string{"\n", "\r\n"} {
			for broken, name := range names {
				t.Run(fmt.Sprintf("%s in block %s with line end %q", test.name, name, eol), func(t *testing.T) {
					var text string
					for i, name := range names {
						if i == broken {
							text += block(name, "  "+test.typed+"\n")
						} else {
							text += block(name, "")
						}
					}
					f := Parse(NewText("p.hcl", []byte(strings.ReplaceAll(text, "\n", eol))))
					checkPieces(t, f)
					if len(f.Pieces) != len(names) {
						t.Fatalf("got pieces %q", pieces(f))
					}
					for i, p := range f.Pieces {
						want, problems := "after before path{start}", []string(nil)
						if i == broken {
							want, problems = test.body, test.problems
						}
						want = fmt.Sprintf("run.%s{%s}", names[i], want)
						if got := outer(p, p.Body()); got != want {
							t.Errorf("block %s: got %s, want %s", names[i], got, want)
						}
						var got []string
						for _, problem := range p.Problems() {
							got = append(got, fmt.Sprintf("%s: %s", p.Bytes()[problem.Start:problem.End], problem.Summary))
							if strings.Contains(problem.Detail, "end of the file") || strings.Contains(problem.Detail, " at :") {
								t.Errorf("detail speaks of what is not so: %s", problem.Detail)
							}
						}
						if diff := cmp.Diff(problems, got); diff != "" {
							t.Errorf("block %s: problems (-want +got):\n%s", names[i], diff)
						}
					}
				})
			}
		}
	}
}

// TestHalfTypedHeader types a new block above another one.
func TestHalfTypedHeader(t *testing.T) {
	for _, typed := range []string{"run", `run "x`, `run "x"`, `run "x" {`, `run "x" {` + "\n  y = 1", `run "x" {` + "\n  y = [", `run "x" {}}`, "}", "/*", "x = <<E"} {
		t.Run(typed, func(t *testing.T) {
			f := Parse(NewText("p.hcl", []byte("a {\n  x = 1\n}\n\n"+typed+"\nb {\n  x = 1\n}\n\nc {\n}\n")))
			checkPieces(t, f)
			n := len(f.Pieces)
			var got []string
			for _, p := range []*Piece{f.Pieces[0], f.Pieces[n-2], f.Pieces[n-1]} {
				got = append(got, outer(p, &hclsyntax.Body{Blocks: p.Body().Blocks[:1]}))
			}
			if diff := cmp.Diff([]string{"a{x}", "b{x}", "c{}"}, got); diff != "" {
				t.Errorf("blocks around %q (-want +got):\n%s", typed, diff)
			}
		})
	}
}

func TestHalfTypedWithoutIndentation(t *testing.T) {
	for typed, want := range map[string]string{
		"mid =":         "a{after before mid! path{start}}",
		"mid = [1, 2":   "a{after before mid! path{start}}",
		"mid = \"abc":   "a{after before mid! path{start}}",
		"mid = <<EOT":   "a{after before mid! path{start}}",
		"mid = supply.": "a{after before mid! path{start}}",
	} {
		t.Run(typed, func(t *testing.T) {
			f := Parse(NewText("p.hcl", []byte("a {\nbefore = 1\n"+typed+"\nafter = 2\npath {\nstart = 1\n}\n}\nb {\n  x = 1\n}\n")))
			if len(f.Pieces) != 2 {
				t.Fatalf("got pieces %q", pieces(f))
			}
			if got := outer(f.Pieces[0], f.Pieces[0].Body()); got != want {
				t.Errorf("got %s, want %s", got, want)
			}
		})
	}
}

func TestTokensOfHalfTyped(t *testing.T) {
	p := Parse(NewText("p.hcl", []byte("a {\n  x = \"b\n  y = supply. # c\n  z = \"d\"\n}\n"))).Pieces[0]
	var got []string
	for _, token := range p.Tokens() {
		got = append(got, fmt.Sprintf("%d%q", token.Range.Start.Byte, bytes.TrimRight(token.Bytes, "\n")))
	}
	want := `0"a" 2"{" 3"" 6"x" 8"=" 10"\"" 11"b" 12"" 15"y" 17"=" 19"supply" 25"." 27"# c" 33"z" 35"=" 37"\"" 38"d" 39"\"" 40"" 41"}" 42"" 43""`
	if got := strings.Join(got, " "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
