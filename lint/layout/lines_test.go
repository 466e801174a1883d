package layout

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/schema/source"
)

// spoil gives forms of a text in which blanks, comments and line ends stand
// where nobody would put them.
func spoil(text []byte, rnd *rand.Rand) [][]byte {
	swap := func(old, new string) []byte { return bytes.ReplaceAll(text, []byte(old), []byte(new)) }
	ragged := bytes.Clone(text)
	for i := range ragged {
		if ragged[i] == ' ' && rnd.IntN(3) == 0 {
			ragged[i] = '\t'
		}
	}
	return [][]byte{
		text, ragged,
		swap("  ", ""), swap(" = ", "="), swap("\n", "  \n"), swap("{\n", "{ # begins\n"),
		swap("\"\n", "\"   // behind\n"), swap(", ", "  ,\n"), swap("[", "[ "),
	}
}

// What is laid out line by line comes out as HCL's own formatter has it: every
// text of the test data, spoilt forms of it, and random edits.
func TestTidyIsTheLayoutOfHCL(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	known, all, read := 0, 0, 0
	compare := func(name string, text []byte) {
		text = bytes.TrimPrefix(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")), byteOrderMark)
		if len(text) == 0 || text[len(text)-1] != '\n' {
			text = append(bytes.Clone(text), '\n')
		}
		if sound(source.Parse(source.NewText("", text))) != nil {
			return
		}
		all++
		got, ok := tidy(text)
		if !ok {
			return
		}
		known++
		if want := fixpoint(text); !bytes.Equal(got, want) {
			t.Errorf("%s:\n%s\nbecomes\n%s\nwant\n%s", name, text, got, want)
		}
		if !sameWords(text, got) {
			t.Errorf("%s: more than blanks changed in\n%s", name, text)
		}
	}
	corpus(t, func(name string, text []byte) {
		if t.Failed() || len(text) > 20_000 {
			return
		}
		if read++; read%thorough.Or(1, 5) != 0 {
			return
		}
		for _, s := range spoil(text, rnd) {
			compare(name, s)
		}
		const signs = " \n\t\"{}[](),.=:#-09ab"
		for range 4 {
			edited := bytes.Clone(text)
			for range 1 + rnd.IntN(3) {
				if len(edited) > 0 {
					edited[rnd.IntN(len(edited))] = signs[rnd.IntN(len(signs))]
				}
			}
			compare(name, edited)
		}
	})
	t.Logf("%d of %d texts were laid out line by line", known, all)
	if known < all*8/10 {
		t.Error("that are too few")
	}
}

func FuzzTidy(f *testing.F) {
	f.Add("plan \"a\" {\ntitle=\"x\" # c\n  y = [1,{ a=2}\n] }\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4<<10 || sound(source.Parse(source.NewText("", []byte(text+"\n")))) != nil {
			return
		}
		if got, ok := tidy([]byte(text + "\n")); ok && !bytes.Equal(got, fixpoint([]byte(text+"\n"))) {
			t.Errorf("%q becomes %q, want %q", text, got, fixpoint([]byte(text+"\n")))
		}
	})
}

func BenchmarkFormat(b *testing.B) {
	block := []byte("run \"a\" {\n  strip  = strip.s\n  length = \"1.2 m\" # as measured\n  through = [[\"0 m\", \"0 m\"],[\"1 m\",\"0 m\"]]\n}\n\n")
	for _, n := range []int{333, 3333} {
		text := bytes.Repeat(block, n)
		b.Run("lines", func(b *testing.B) {
			for b.Loop() {
				if _, err := Sound(text); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("reference", func(b *testing.B) {
			for b.Loop() {
				fixpoint(text)
			}
		})
	}
}
