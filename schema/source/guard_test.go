package source

import (
	"fmt"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"ohmstead/calc/thorough"
)

// firstProblem reads all of a file and returns the first thing that is wrong with it.
func firstProblem(f *File) *Problem {
	if p := f.Refused(); p != nil {
		return p
	}
	var first *Problem
	for _, p := range f.Pieces {
		p.Tokens()
		if problems := p.Problems(); len(problems) > 0 && first == nil {
			first = &problems[0]
		}
	}
	return first
}

// TestHostileText reads what would overflow the stack of the HCL parser or keep it busy for minutes.
func TestHostileText(t *testing.T) {
	// A parse within the limits needs about 8 MiB of stack. One without would need all that there is.
	defer debug.SetMaxStack(debug.SetMaxStack(64 << 20))
	again := strings.Repeat
	numbered := func(format string, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format, i)
		}
		return b.String()
	}
	const (
		deep  = "Nested too deeply"
		large = "Block is too large"
		file  = "File is too large"
		many  = "File has too many blocks"
		long  = "Text is too long"
		open  = "Unclosed configuration block"
	)
	tests := []struct {
		name  string
		text  func(n int) string
		small string // the problem at 1 000, if any
		mid   string // at 100 000
		big   string // at 1 000 000
	}{
		{"parentheses", func(n int) string { return "a = " + again("(", n) + "1" + again(")", n) }, deep, deep, large},
		{"parentheses, open", func(n int) string { return "a = " + again("(", n) }, deep, deep, large},
		{"lists", func(n int) string { return "a = " + again("[", n) + again("]", n) }, deep, deep, large},
		{"lists, open", func(n int) string { return "a = " + again("[", n) }, deep, deep, large},
		{"lists in a block", func(n int) string { return "a {\n  b = " + again("[", n) + again("]", n) + "\n}\n" }, deep, deep, large},
		{"objects", func(n int) string { return "a = " + again("{b=", n) + "1" + again("}", n) }, deep, large, large},
		{"objects, open", func(n int) string { return "a = " + again("{b=", n) }, deep, large, large},
		{"for", func(n int) string { return "a = " + again("[for x in ", n) + "y" + again(": x]", n) }, deep, large, file},
		{"for, open", func(n int) string { return "a = " + again("[for x in ", n) }, deep, large, file},
		{"templates", func(n int) string { return "a = " + again(`"${`, n) + "y" + again(`}"`, n) }, deep, large, file},
		{"templates, open", func(n int) string { return "a = " + again(`"${`, n) }, deep, large, large},
		{"calls", func(n int) string { return "a = " + again("f(", n) + again(")", n) }, deep, large, large},
		{"calls, open", func(n int) string { return "a = " + again("f(", n) }, deep, deep, large},
		{"indexes", func(n int) string { return "a = " + again("b[", n) + "1" + again("]", n) }, deep, large, large},
		{"indexes, open", func(n int) string { return "a = " + again("b[", n) }, deep, deep, large},
		{"index after index", func(n int) string { return "a = b" + again("[c]", n) }, deep, large, large},
		{"blocks", func(n int) string { return again(" a {\n", n) + again(" }\n", n) }, deep, large, file},
		{"blocks, open", func(n int) string { return again(" a {\n", n) }, deep, large, file},
		{"blocks in the first column", func(n int) string { return again("a {\n", n) + again("}\n", n) }, deep, large, file},
		{"blocks in the first column, open", func(n int) string { return again("a {\n", n) }, open, many, many},
		{"splats", func(n int) string { return "a = b" + again("[*]", n) }, deep, large, large},
		{"attribute splats", func(n int) string { return "a = b" + again(".*", n) }, deep, deep, large},
		{"minus", func(n int) string { return "a = " + again("-", n) + "1" }, deep, deep, large},
		{"minus in lines", func(n int) string { return "a = {for x in y : x => " + again("-\n", n) + "1}" }, deep, deep, large},
		{"not", func(n int) string { return "a = " + again("!", n) + "true" }, deep, deep, large},
		{"plus", func(n int) string { return "a = 1" + again(" + 1", n) }, deep, large, large},
		{"conditionals", func(n int) string { return "a = " + again("c ? 1 : ", n) + "1" }, deep, large, file},
		{"conditionals in the middle", func(n int) string { return "a = " + again("c ? ", n) + "1" + again(" : 1", n) }, deep, large, file},
		{"directives", func(n int) string { return "a = <<E\n" + again("%{ if x }", n) + again("%{ endif }", n) + "\nE\n" }, deep, large, file},
		{"directives, open", func(n int) string { return `a = "` + again("%{ if x }", n) + `"` }, deep, large, file},
		{"directives one by one", func(n int) string { return "a = <<E\n" + again("%{ if x }%{ endif }", n) + "\nE\n" }, "Too many template directives", large, file},
		{"heredoc", func(n int) string { return "a = <<E\n" + again("x\n", n) + "E\n" }, "", long, large},
		{"heredoc, open", func(n int) string { return "a = <<E\n" + again("x\n", n) }, "Unterminated template string", long, large},
		{"heredocs, open", func(n int) string { return numbered("a = <<E%d\n", n) }, "Unterminated template string", large, file},
		{"heredocs in blocks, open", func(n int) string { return numbered("a {\n  b = <<E%d\n", n) }, open, many, file},
		{"parts of a string", func(n int) string { return `a = "` + again("$x", n) + `"` }, "", long, large},
		{"comments, open", func(n int) string { return again("/* ", n) }, "Too many open comments", large, large},
		{"comments in lines, open", func(n int) string { return again("/*\n", n) }, "Too many open comments", large, large},
		{"comments behind a string, open", func(n int) string { return "a = \"b\n \"" + again("/* ", n) }, "Too many open comments", large, large},
		{"digits", func(n int) string { return "a = " + again("1", n) }, "", "Number is too long", large},
		{"exponent", func(n int) string { return fmt.Sprintf("a = 1e%d", n) }, "Number is out of range", "Number is out of range", "Number is out of range"},
		{"attributes", func(n int) string { return again("a = 1\n", n) }, "Attribute redefined", large, file},
		{"wrong characters", func(n int) string { return "a {\n" + again("^", n) + "}\n" }, open, open, large},
		{"wrong escapes", func(n int) string { return "a = \"" + again(`\q`, n) + `"` }, "Invalid escape sequence", "Invalid escape sequence", large},
		{"wrong bytes", func(n int) string { return again("\xff", n) }, "Block is not text", "Block is not text", large},
		{"NUL", func(n int) string { return again("\x00", n) }, "Block is not text", "Block is not text", large},
		{"quotes", func(n int) string { return "a {\n" + again("\"\n", n) + "}\n" }, "Invalid argument name", "Invalid argument name", large},
		{"stray braces", func(n int) string { return "a {\n" + again("}\n", n) }, "Argument or block definition required", "Argument or block definition required", large},
		{"braces both ways", func(n int) string { return again("a {\n}{\n", n) }, "Missing newline after block definition", many, file},
		{"stairs", func(n int) string {
			var b strings.Builder
			for i := range min(n, 700) {
				b.WriteString(again(" ", i) + "a\n")
			}
			return b.String() + again(" ", 800) + "]\n"
		}, "Argument or block definition required", "Argument or block definition required", "Argument or block definition required"},
		{"lists one after the other", func(n int) string { return "a {\n  x = [\n" + again("  ], [\n", n) + "  \"\n}\n" },
			"Unexpected comma after argument", large, file},
		{"empty blocks", func(n int) string { return again("a {}\n", n) }, "", many, file},
		{"words", func(n int) string { return again("a\n", n) }, "Argument or block definition required", "Argument or block definition required", large},
		{"names", func(n int) string { return "a = b" + again(".c", n) }, "", "", large},
		{"labels", func(n int) string { return "a" + again(` "x"`, n) + " {}\n" }, "", large, large},
	}
	for i, test := range tests {
		for n, want := range map[int]string{1_000: test.small, 100_000: test.mid, 1_000_000: test.big} {
			if n > 1_000 && i%thorough.Or(1, 4) != 0 || n > thorough.Or(1_000_000, 100_000) {
				continue
			}
			t.Run(fmt.Sprintf("%s %d times", test.name, n), func(t *testing.T) {
				text := test.text(n)
				got := firstProblem(Parse(NewText("p.hcl", []byte(text))))
				switch {
				case got == nil && want != "":
					t.Errorf("nothing is wrong, want %s", want)
				case got != nil && got.Summary != want:
					t.Errorf("got %v, want %q", *got, want)
				case got != nil && (got.Detail == "" || got.Start < 0 || got.End < got.Start || got.End > len(text)):
					t.Errorf("got %v", *got)
				}
			})
		}
	}
}

func TestRefusalNamesPlaceSizeAndLimit(t *testing.T) {
	again := strings.Repeat
	tests := []struct {
		name, text string
		want       Problem
	}{
		{"UTF-16", "\xff\xfea\x00", Problem{0, 2, "File is not UTF-8", "It starts with the mark of UTF-16. Save it as UTF-8."}},
		{"file", again("\n", MaxFile+1), Problem{0, 0, "File is too large",
			"It has 4194305 bytes; at most 4194304 are read. Split the plan into several files of its directory."}},
		{"blocks", again("a {}\n", MaxPieces+1), Problem{5 * MaxPieces, 5 * MaxPieces, "File has too many blocks",
			"More than 20000 top-level blocks; at most 20000 are read. Split the plan into several files of its directory."}},
		{"block", "a {\n" + again(" ", MaxPiece) + "}", Problem{0, 3, "Block is too large",
			"It reaches over 262149 bytes; at most 262144 are read. Split it, or close the brace or quote that lets it run on."}},
		{"nesting", "a = " + again("[", MaxDepth+1), Problem{204, 205, "Nested too deeply",
			"201 brackets, blocks, templates and operators are open here; at most 200 are read. Give parts of it a name in let."}},
		{"heredoc", "a = <<E\n" + again("x\n", MaxLines+1) + "E\n", Problem{4008, 4009, "Text is too long",
			"More than 2000 lines in one heredoc, or parts in one string; at most 2000 are read. Shorten it."}},
		{"number", "a = " + again("1", MaxDigits+1), Problem{4, 1005, "Number is too long",
			"It has 1001 characters; at most 1000 are read. Round it, or write it with an exponent."}},
		{"exponent", "a = 1e+309", Problem{4, 10, "Number is out of range", "Its exponent is +309; -308 to 308 are read."}},
		{"huge exponent", "a = 1e99999999999999999999", Problem{4, 26, "Number is out of range",
			"Its exponent is 99999999999999999999; -308 to 308 are read."}},
		{"comments", "a = 1 /* */\n" + again("/* ", MaxComments+1), Problem{12, 14, "Too many open comments",
			"201 times /* without */ after it; at most 200 are read. Close the first one."}},
		{"bytes", "a\n" + again("\xfe", MaxBadBytes+1), Problem{2, 3, "Block is not text",
			"101 bytes of it are not UTF-8 text; at most 100 are read. Save the file as UTF-8."}},
		{"directives", "a = <<E\n" + again("%{if x}%{endif}", MaxDirectives/2) + "%{if x}%{endif}\nE\n", Problem{7508, 7510, "Too many template directives",
			"More than 1000 in one block; at most 1000 are read. Remove some."}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := firstProblem(Parse(NewText("p.hcl", []byte(test.text))))
			if got == nil || *got != test.want {
				t.Errorf("got  %v\nwant %v", got, test.want)
			}
		})
	}
}

func TestRefusedPieceLeavesTheOthers(t *testing.T) {
	f := Parse(NewText("p.hcl", []byte("a {\n  x = 1\n}\nb {\n  x = "+strings.Repeat("(", 300)+"\n}\nc {\n  x = 1\n}\n")))
	if len(f.Pieces) != 3 {
		t.Fatalf("got pieces %q", pieces(f))
	}
	b := f.Pieces[1]
	if len(b.Problems()) != 1 || len(b.Body().Blocks) != 0 || len(b.Tokens()) != 0 || !b.Broken(0, 1) {
		t.Errorf("the refused piece holds %v", b.Problems())
	}
	for _, p := range []*Piece{f.Pieces[0], f.Pieces[2]} {
		if len(p.Problems()) != 0 || len(p.Body().Blocks) != 1 {
			t.Errorf("%q holds %v", p.Bytes(), p.Problems())
		}
	}
}

func TestLimitsDoNotBite(t *testing.T) {
	again := strings.Repeat
	tests := []struct{ name, text string }{
		{"wide list", "a {\n  b = [" + again(`["1 m", -2 + 3],`, 5000) + "]\n}\n"},
		{"wide object", "a {\n  b = {\n" + again("    \"c${1}\" = -1 + 2 * 3\n", 3000) + "  }\n}\n"},
		{"many attributes", "a {\n" + func() string {
			var b strings.Builder
			for i := range 3000 {
				fmt.Fprintf(&b, "  b%d = -c.d[%d] > 0 ? \"%d\" : !e\n", i, i, i)
			}
			return b.String()
		}() + "}\n"},
		{"depth", "a = " + again("[", MaxDepth) + again("]", MaxDepth) + "\n"},
		{"heredoc", "a = <<E\n" + again("x\n", MaxLines) + "E\n"},
		{"digits", "a = " + again("1", MaxDigits) + "\n"},
		{"digits in a string", "a = \"" + again("1", MaxDigits+1) + " 1e999\"\n"},
		{"exponent", "a = -1.5E-308 + 1e+308\n"},
		{"comments", "a {\n" + again("  /* x */ b {} # /*\n", 3*MaxComments) + "}\n"},
		{"directives", "a = <<E\n" + again("%{if x}%{endif}\n", MaxDirectives/2) + "E\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := firstProblem(Parse(NewText("p.hcl", []byte(test.text)))); got != nil && got.Summary != "Attribute redefined" {
				t.Errorf("got %v", *got)
			}
		})
	}
}

// FuzzHarmless checks that the quick look at the bytes never lets pass what the look at the tokens refuses.
func FuzzHarmless(f *testing.F) {
	for _, data := range corpus(f) {
		f.Add(data)
	}
	for _, seed := range []string{"a = 1e400", "a = 1.e5", "a = 1.e999 ", "(((((", "- - -", "\"$$$$$", "<<E\n1\n2\n3\n", "a == b != c", "[*][*]", "a.*.*", "a[[", "%{if}%{if}"} {
		f.Add([]byte(strings.Repeat(seed, 300)))
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<14 || refusePiece(data) != nil {
			return
		}
		tokens, _ := hclsyntax.LexConfig(data, "", hcl.InitialPos)
		if p := refuseTokens(tokens); p != nil && harmless(data) {
			t.Errorf("%q is found harmless, but: %v", data, *p)
		}
	})
}
