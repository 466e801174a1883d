package source

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"ohmstead/calc/thorough"
)

// pieces returns the bytes of each piece.
func pieces(f *File) []string {
	var texts []string
	for _, p := range f.Pieces {
		texts = append(texts, string(p.Bytes()))
	}
	return texts
}

func TestCuts(t *testing.T) {
	tests := []struct {
		name string
		want []string // the pieces; joined, they are the text
	}{
		{"empty", []string{""}},
		{"blocks", []string{"a {\n}\n\n", "b \"x\" {}\n", "c x \"y\" {\n}\n"}},
		{"comment above a block", []string{"a {\n}\n", "# b\n// b\n/* b\n b */\nb {\n}\n"}},
		{"comment apart from a block", []string{"a {\n}\n# a\n\n", "b {\n}\n"}},
		{"comment behind a comment", []string{"a {\n}\n/* a */ # a\n/* a */ x = 1\n", "b {\n}\n"}},
		{"comment at the start", []string{"# file\n\n", "# a\na {\n}\n"}},
		{"attributes between blocks", []string{"x = 1\n", "a {\n}\ny = 2\n", "b {\n}\nz = 3"}},
		{"block in the first column of a block", []string{"a {\nb {\nx = 1\n}\n}\n", "c {\n}\n"}},
		{"block without end", []string{"a {\n  x = 1\n\n", "# b\nb {\n}\n", "c {\n}\n"}},
		{"block without end before an empty one", []string{"a {\n", "b {\n}\n"}},
		{"blocks without end", []string{"a {\n", "b {\n", "c {\n"}},
		{"nested block without end", []string{"a {\n  b {\n  x = 1\n}\n", "c {\nd {\n}\n}\n", "e {}\n"}},
		{"braces in strings and comments", []string{"a {\n  x = \"{\" # {\n  /* { */\n  y = \"${z}}\"\n}\n", "b {\n}\n"}},
		{"header in a comment", []string{"/*\na {\n*/\n\n", "b {\n}\n"}},
		{"header in a heredoc", []string{"a {\n  x = <<E\nb {\nE\n}\n", "c {\n}\n"}},
		{"header in a long heredoc", []string{"a {\n  x = <<E\n" + strings.Repeat("b {\n", 100) + "E\n}\n", "c {\n}\n"}},
		{"header behind an open comment", []string{"a {\n  /* x\n}\n", "b {\n}\n/*\n\n", "c {\n}\n"}},
		{"header behind an open heredoc", []string{"a {\n  x = <<E\n}\n", "b {\n}\n", "c {\n}\n"}},
		{"header behind an open string", []string{"a {\n  x = \"y\n}\n", "b {\n}\nc \"\n", "d {\n}\n"}},
		{"header behind an open sequence", []string{"a {\n  x = \"${y\n", "b {\n}\n", "c {\n  x = \"${y.\n}\n", "d {\n}\n"}},
		{"header behind an open list", []string{"a {\n  x = [1,\n}\n", "b {\n}\n"}},
		{"header behind an open object", []string{"a {\n  x = {\n}\n", "b {\n}\n"}},
		{"half a header", []string{"a {\n}\nb \"x\nb \"x\"\nb\n", "c {\n}\n"}},
		{"stray braces", []string{"a {\n}\n}\n}\n", "b {\n}\n"}},
		{"for over several lines", []string{"a {\nx = [for y\nin {} : y\nif {a = true}.a]\nz = [\nfor y in {} : y]\n}\n", "b {\n}\n"}},
		{"not ASCII", []string{"ä {\n}\n", "ö \"ü\" {\n}\n"}},
		{"quotes in a label", []string{"a {\n}\n", "b \"x\\\"y\" {\n}\n"}},
	}
	for _, test := range tests {
		for _, eol := range []string{"\n", "\r\n"} {
			t.Run(fmt.Sprintf("%s, line end %q", test.name, eol), func(t *testing.T) {
				var want []string
				for _, piece := range test.want {
					want = append(want, strings.ReplaceAll(piece, "\n", eol))
				}
				f := Parse(NewText("p.hcl", []byte(strings.Join(want, ""))))
				if diff := cmp.Diff(want, pieces(f)); diff != "" {
					t.Errorf("pieces (-want +got):\n%s", diff)
				}
				checkPieces(t, f)
			})
		}
	}
}

func TestPieceAt(t *testing.T) {
	f := Parse(NewText("p.hcl", []byte("\ufeffa {\n}\nb {\n}\n")))
	for offset, want := range map[int]int{-1: 0, 0: 0, 3: 0, 8: 0, 9: 1, 15: 1, 99: 1} {
		if got := f.PieceAt(offset); got != want {
			t.Errorf("PieceAt(%d) = %d, want %d", offset, got, want)
		}
	}
	if got := Parse(NewText("p.hcl", make([]byte, MaxFile+1))).PieceAt(0); got != -1 {
		t.Errorf("PieceAt in a refused file = %d, want -1", got)
	}
}

func TestSpanInLaterVersion(t *testing.T) {
	text := NewText("p.hcl", []byte("a {\n}\nb {\n}\n"))
	f := Parse(text)
	span := Span{f.Pieces[1], 0, 1}
	g := f.Update(text.Edit(4, 4, []byte("  x = 1\n")))
	if start, end, ok := g.Range(span); !ok || start != 14 || end != 15 {
		t.Errorf("got %d-%d, %v, want 14-15", start, end, ok)
	}
	if start, end, ok := f.Range(span); !ok || start != 6 || end != 7 {
		t.Errorf("in the old version: got %d-%d, %v, want 6-7", start, end, ok)
	}
	if _, _, ok := g.Range(Span{f.Pieces[0], 0, 1}); ok {
		t.Error("the changed piece is said to be in the new version")
	}
}

// checkUpdate checks an update against a parse of the new text, and that it shares every piece that it could.
func checkUpdate(t *testing.T, f *File, text *Text) *File {
	t.Helper()
	g := f.Update(text)
	if diff := cmp.Diff(dumpFile(Parse(text)), dumpFile(g)); diff != "" {
		t.Fatalf("update of %q to %q (-parsed +updated):\n%s", f.Text, text, diff)
	}
	checkPieces(t, g)
	old, was, is, shared := map[*Piece]bool{}, map[string]int{}, map[string]int{}, map[string]int{}
	for _, p := range f.Pieces {
		old[p] = true
		was[string(p.Bytes())]++
	}
	for _, p := range g.Pieces {
		is[string(p.Bytes())]++
		if old[p] {
			shared[string(p.Bytes())]++
		}
	}
	for piece, n := range is {
		if want := min(n, was[piece]); shared[piece] != want {
			t.Fatalf("update of %q to %q shares %q %d times, want %d", f.Text, text, piece, shared[piece], want)
		}
	}
	return g
}

func TestUpdate(t *testing.T) {
	for name, data := range corpus(t) {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(5, 6))
			start := Parse(NewText("p.hcl", data))
			f := start
			for i := range thorough.Or(150, 30) {
				if i%10 == 0 {
					f = start
				}
				text := f.Text.Bytes()
				for range 1 + random.IntN(2) {
					text = mutate(random, text)
				}
				f = checkUpdate(t, f, NewText("p.hcl", text))
				if f.Refused() != nil {
					f = start
				}
			}
			checkUpdate(t, f, start.Text)
		})
	}
}

func TestUpdateSharesAllButTheChangedPiece(t *testing.T) {
	text := NewText("p.hcl", plan(200))
	f := Parse(text)
	for i, p := range f.Pieces {
		at := f.Offset(i) + bytes.Index(p.Bytes(), []byte("{\n")) + 2
		g := f.Update(text.Edit(at, at, []byte("  x = 1\n")))
		for j := range g.Pieces {
			if shared := g.Pieces[j] == f.Pieces[j]; shared != (i != j) {
				t.Fatalf("after an edit in piece %d, piece %d is shared: %v", i, j, shared)
			}
		}
	}
}

func FuzzUpdate(f *testing.F) {
	for _, data := range corpus(f) {
		f.Add(data, 10, 3, []byte("{\n"))
		f.Add(data, 40, 0, []byte("/* <<EOT\n"))
	}
	f.Fuzz(func(t *testing.T, data []byte, start, length int, replacement []byte) {
		if len(data) > 4<<10 || len(replacement) > 1<<10 {
			return
		}
		text := NewText("p.hcl", data)
		file := Parse(text)
		checkPieces(t, file)
		compareWhole(t, data)
		next := checkUpdate(t, file, text.Edit(start, start+max(length, 0), replacement))
		checkUpdate(t, next, text)
	})
}

// plan returns a sound plan with n blocks of eight lines.
func plan(n int) []byte {
	var b bytes.Buffer
	for i := range n {
		fmt.Fprintf(&b, "run \"r%d\" {\n  strip    = strip.warm\n  diffuser = diffuser.tube\n  length   = \"%d.5 m\" # cut\n"+
			"  path {\n    start = [\"0 cm\", \"%d cm\"]\n  }\n}\n", i, i%9, i)
	}
	return b.Bytes()
}

func benchmarkParse(b *testing.B, blocks int) {
	data := plan(blocks)
	text := NewText("p.hcl", data)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		for _, p := range Parse(text).Pieces {
			p.Body()
		}
	}
}

func BenchmarkParse2000Lines(b *testing.B)  { benchmarkParse(b, 250) }
func BenchmarkParse20000Lines(b *testing.B) { benchmarkParse(b, 2500) }

func BenchmarkCut20000Lines(b *testing.B) {
	text := NewText("p.hcl", plan(2500))
	for b.Loop() {
		Parse(text)
	}
}

// benchmarkUpdate types a word in the middle of the file and takes it back, byte by byte; each byte is one operation
// with all that a keystroke costs here: the new text, the cuts, and the reading of the changed piece.
func benchmarkUpdate(b *testing.B, blocks int, word string) {
	f := Parse(NewText("p.hcl", plan(blocks)))
	for _, p := range f.Pieces {
		p.Body()
	}
	middle := f.Offset(blocks/2) + bytes.Index(f.Pieces[blocks/2].Bytes(), []byte("  path"))
	typed := 0
	step := 1
	b.ReportAllocs()
	for b.Loop() {
		at := middle + typed
		if step > 0 {
			f = f.Update(f.Text.Edit(at, at, []byte{word[typed]}))
		} else {
			f = f.Update(f.Text.Edit(at-1, at, nil))
		}
		f.Pieces[f.PieceAt(middle)].Body()
		if typed += step; typed == len(word) || typed == 0 {
			step = -step
		}
	}
}

func BenchmarkUpdate2000Lines(b *testing.B)  { benchmarkUpdate(b, 250, "  x = 1\n") }
func BenchmarkUpdate20000Lines(b *testing.B) { benchmarkUpdate(b, 2500, "  x = 1\n") }

// In these the file stays broken in the worst way from the middle on.
func BenchmarkUpdate20000LinesOpenBlock(b *testing.B) { benchmarkUpdate(b, 2500, "  x {\n    a = 1\n") }
func BenchmarkUpdate20000LinesHeredoc(b *testing.B)   { benchmarkUpdate(b, 2500, "  x = <<EOT\nabc") }
