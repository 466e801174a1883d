package change

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestApply(t *testing.T) {
	const base = "lead \"top\" {\n  fuse   = \"5 A\"\n}\n\nlead \"low\" {\n  fuse   = \"5 A\"\n}\n"
	for _, c := range []struct{ name, change, want string }{
		{"nothing", "", base},
		{"below a head", " lead \"low\" {\n-  fuse = \"5 A\"\n+  fuse = \"6 A\"\n", "lead \"top\" {\n  fuse   = \"5 A\"\n}\n\nlead \"low\" {\n  fuse = \"6 A\"\n}\n"},
		{"the next one", "-  fuse = \"5 A\"\n", "lead \"top\" {\n}\n\nlead \"low\" {\n  fuse   = \"5 A\"\n}\n"},
		{"at the start", "+// a plan\n\n-lead \"top\" {\n", "// a plan\n  fuse   = \"5 A\"\n}\n\nlead \"low\" {\n  fuse   = \"5 A\"\n}\n"},
		{"at the end", " lead \"low\" {\n }\n+end {}\n", base + "end {}\n"},
	} {
		if got, err := Apply(base, c.change); err != nil || got != c.want {
			t.Errorf("%s: %q, %v; want %q", c.name, got, err, c.want)
		}
	}
	for change, want := range map[string]string{
		" lead \"low\" {\n-  fuse = \"6 A\"\n": `line 2: no further line "fuse = \"6 A\""`,
		" lead \"low\" {\n lead \"top\" {\n":   `line 2: no further line "lead \"top\" {"`,
		"lead \"low\" {\n":                     "line 1: a change's line starts with a space, - or +",
	} {
		if got, err := Apply(base, change); err == nil || err.Error() != want {
			t.Errorf("%q: %q, %v; want the error %s", change, got, err, want)
		}
	}
}

// What change writes, changed reads back to the byte.
func TestThereAndBack(t *testing.T) {
	file, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "rules", "base", "shelf.ohm.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	shelf := string(file)
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		lines := strings.Split(shelf, "\n")
		for range 1 + rnd.IntN(6) {
			at, n := rnd.IntN(len(lines)), rnd.IntN(9)
			switch end := min(at+n, len(lines)); rnd.IntN(3) {
			case 0:
				lines = slices.Delete(lines, at, end)
			case 1: // words that stand elsewhere too
				lines = slices.Insert(lines, at, slices.Clone(lines[at:end])...)
			default:
				lines[at] += " # want"
			}
			if len(lines) == 0 {
				lines = []string{""}
			}
		}
		to := strings.Join(lines, "\n")
		c := Between(shelf, to)
		if got, err := Apply(shelf, c); err != nil || got != to {
			t.Fatalf("%v\n%s\nmakes\n%s\nof\n%s", err, c, got, to)
		}
	}
}

// A change is as a hand would write it.
func TestReads(t *testing.T) {
	const base = "run \"a\" {\n  strip = s\n}\n\nrun \"b\" {\n  strip = s\n}\n\nrun \"c\" {\n  strip = s\n}\n"
	for _, c := range []struct{ name, to, want string }{
		{"a line", strings.Replace(base, "run \"b\" {\n  strip = s", "run \"b\" {\n  strip = t", 1), " run \"b\" {\n-  strip = s\n+  strip = t\n"},
		{"a block added", strings.Replace(base, "run \"c\"", "lead \"x\" {}\n\nrun \"c\"", 1), " run \"b\" {\n }\n+\n+lead \"x\" {}\n"},
		{"a block left out", strings.Replace(base, "run \"b\" {\n  strip = s\n}\n\n", "", 1), "-run \"b\" {\n-  strip = s\n-}\n-\n"},
		{"a line below one like it", strings.Replace(base, "{\n  strip = s\n}\n\nrun \"c\"", "{\n  strip = s\n  strip = s\n}\n\nrun \"c\"", 1), " run \"b\" {\n   strip = s\n+  strip = s\n"},
	} {
		if got := Between(base, c.to); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}
