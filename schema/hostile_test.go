package schema

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"ohmstead/schema/source"
)

// Texts that are known to kill or stall HCL tools each end in a problem that
// says what is too large, and the process lives.
func TestHostileTexts(t *testing.T) {
	rep := strings.Repeat
	for name, text := range map[string]string{
		"ten megabytes":           rep("# a comment that goes on\n", 400_000),
		"brackets":                "x = " + rep("[", 100_000),
		"brackets closed":         "run \"a\" {\n  through = " + rep("[", 100_000) + rep("]", 100_000) + "\n}\n",
		"parentheses":             "run \"a\" {\n  length = " + rep("(", 100_000) + "\n}\n",
		"blocks in blocks":        rep("a {\n", 100_000),
		"templates":               "run \"a\" {\n  length = " + rep(`"${`, 100_000) + "\n}\n",
		"minus signs":             "run \"a\" {\n  pixels = " + rep("-", 300_000) + "1\n}\n",
		"calls":                   "run \"a\" {\n  length = " + rep("sum(", 100_000) + "\n}\n",
		"comment starts":          rep("/*", 40_000),
		"a long heredoc":          "plan \"x\" {\n  note = <<E\n" + rep("line\n", 100_000) + "E\n}\n",
		"an open heredoc":         "plan \"x\" {\n  note = <<E\n" + rep("line\n", 100_000),
		"a million digits":        "run \"a\" {\n  pixels = " + rep("9", 1_000_000) + "\n}\n",
		"a long quantity":         "run \"a\" {\n  length = \"" + rep("9", 10_000) + " m\"\n}\n",
		"a trillion pixels":       "run \"a\" {\n  pixels = 1000000000000\n}\n",
		"endless":                 "run \"a\" {\n  length = \"1e308 km\"\n}\n",
		"negative":                "run \"a\" {\n  length = \"-1 m\"\n}\n",
		"directives":              "plan \"x\" {\n  note = \"" + rep("%{ if x }", 40_000) + "\"\n}\n",
		"splats":                  "run \"a\" {\n  strip = b" + rep("[*]", 200_000) + "\n}\n",
		"conditionals":            "run \"a\" {\n  length = " + rep("c ? 1 : ", 100_000) + "1\n}\n",
		"the same attribute":      "run \"a\" {\n" + rep("  length = \"1 m\"\n", 100_000) + "}\n",
		"bad characters":          rep("\x01", 100_000),
		"not UTF-8":               "plan \"x\" {\n  title = \"\xff\xfe\"\n}\n",
		"a list without end":      "run \"a\" {\n  through = [" + rep(`["1 m", "1 m"],`, 50_000) + "]\n}\n",
		"many times":              "run \"a\" {\n  times = 100000000\n  length = \"1 m\"\n}\n",
		"a chain of named values": chain(2000),
	} {
		t.Run(name, func(t *testing.T) {
			p := decode(t, text)
			if len(p.Problems) == 0 {
				t.Fatal("nothing is said about it")
			}
			if len(p.Problems) > mostProblems+1 {
				t.Errorf("a flood of %d problems", len(p.Problems))
			}
			for _, pr := range p.Problems[:min(3, len(p.Problems))] {
				if len(pr.Message) > 600 {
					t.Errorf("a message of %d bytes: %.80s…", len(pr.Message), pr.Message)
				}
			}
		})
	}
}

// chain is n named values of which each is the next, and the last is the first.
func chain(n int) string {
	var b strings.Builder
	b.WriteString("let {\n")
	for i := range n {
		fmt.Fprintf(&b, "  a%d = let.a%d\n", i, (i+1)%n)
	}
	return b.String() + "}\n"
}

// corpus is the text of every demo plan.
func corpus(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob("../testdata/plans/*/*.ohm.hcl")
	if err != nil || len(names) == 0 {
		t.Fatalf("no demo plans: %v", err)
	}
	var out []string
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(data))
	}
	return out
}

// A plan cut off anywhere, or with bytes overwritten, decodes to something, and
// what is known of it can be used.
func TestMutilatedPlans(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, text := range corpus(t) {
		for range 60 {
			b := []byte(text[:1+rnd.IntN(len(text)-1)])
			for range rnd.IntN(8) {
				b[rnd.IntN(len(b))] = byte(rnd.IntN(256))
			}
			p := decode(t, string(b))
			for _, pr := range p.Problems {
				if _, _, _, ok := p.Locate(pr.At); !ok && pr.At.Piece != nil {
					t.Fatalf("%s: %s has no place in\n%s", pr.Rule, pr.Message, b)
				}
			}
			for _, block := range p.Blocks {
				v := reflect.ValueOf(block).Elem()
				for name, i := range shapeOf(v.Type()).attrs {
					f := v.Field(i).Addr()
					val := v.Field(i).FieldByName("V")
					if f.MethodByName("Known").Call(nil)[0].Bool() && val.Kind() == reflect.Pointer && val.IsNil() {
						t.Fatalf("%s: %s is known and nil in\n%s", block.header().ID(), name, b)
					}
				}
			}
		}
	}
}

// blocks cuts a plan into pieces of about a kB, each of whole blocks: decoding one
// is quick, and what a piece refers to in another is unknown there.
func blocks(text string) (pieces []string) {
	from := 0
	for at := 0; at < len(text); {
		end := strings.Index(text[at:], "\n}\n")
		if end < 0 {
			break
		}
		if at += end + len("\n}\n"); at-from > 1<<10 {
			pieces = append(pieces, text[from:at])
			from = at
		}
	}
	return append(pieces, text[from:])
}

func FuzzDecode(f *testing.F) {
	for _, text := range corpus(f) {
		for _, few := range blocks(text) {
			f.Add(few)
		}
	}
	f.Add(`supply "p" {
  output  = "5 V"
  outputs = 2
}
run "r" {
  times  = 2
  length = "1 m"
}
lead "l" {
  from = supply.p.out[2]
  to   = run.r-1[20].minus
}
lead "m" {
  times = 2
  from  = supply.p.out[1]
  to    = run.r-each.end
}
order "o" { runs = [run.r-all] }
node "n" { at = run.r-2["50 cm"] }
`)
	f.Add("let { a = sum(let.a, \"1 m\") }\nrun \"x\" {\n  times = 3\n  like = run.x-each\n}\n")
	f.Add("usual \"signal\" { wire = catalog.awg_22 }\nrun \"r\" { times = 2 }\nchain \"c\" {\n  from = run.x.end\n  runs = [run.r-all, from_end(run.r-1)]\n  length = [\"1 m\"]\n  hop { to = run.r-2 }\n}\n" +
		"feed \"f\" {\n  from = joint.j\n  to = [chain.c, run.r-1[let.a], run.r-all.end]\n  ends = \"both\"\n  branch { to = run.r-2 }\n}\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4<<10 {
			return
		}
		Decode("d", []*source.File{source.Parse(source.NewText("d/plan.ohm.hcl", []byte(text)))}, nil)
	})
}

// long is a plan of about n lines.
func long(n int) string {
	var b strings.Builder
	b.WriteString(parts)
	for i := range n / 14 {
		fmt.Fprintf(&b, `
run "r%[1]d" {
  strip  = strip.s
  length = "%[2]d cm"
}

lead "l%[1]d" {
  from   = supply.p.out
  to     = run.r%[1]d.start
  wire   = wire.w
  length = "1.2 m"
  fuse   = "5 A"
}
`, i, 100+i%100)
	}
	return b.String()
}

func BenchmarkDecode(b *testing.B) {
	for _, n := range []int{2000, 20000} {
		text := source.NewText("d/plan.ohm.hcl", []byte(long(n)))
		b.Run(fmt.Sprintf("parse and decode %d lines", n), func(b *testing.B) {
			for b.Loop() {
				Decode("d", []*source.File{source.Parse(text)}, nil)
			}
		})
		file := source.Parse(text)
		b.Run(fmt.Sprintf("decode %d lines again", n), func(b *testing.B) {
			for b.Loop() {
				Decode("d", []*source.File{file}, nil)
			}
		})
		b.Run(fmt.Sprintf("edit one block of %d lines", n), func(b *testing.B) {
			var kept Memo
			kept.Decode("d", []*source.File{file}, nil)
			at := strings.LastIndex(text.String(), `length = "1.2 m"`) + len(`length = "1.`)
			for i := 0; b.Loop(); i++ {
				file = file.Update(file.Text.Edit(at, at+1, fmt.Append(nil, i%9+1)))
				kept.Decode("d", []*source.File{file}, nil)
			}
		})
	}
}

// FuzzShortForms puts any text in place of the names, references and amounts of the blocks that make others.
func FuzzShortForms(f *testing.F) {
	f.Add("a", "run.a", "from_end(run.b)", `"1 m"`, "run.b")
	f.Add("c", "run.t-all", "in_turn(run.t-all, run.a)", `["1 m", "2 m"]`, "run.t-1")
	f.Add("", "chain.c", "run.t-all[let.n]", "[]", "chain.c")
	f.Add("a\\\"", "joint", "catalog.awg_22", "let.n", "run.a[90]")
	f.Fuzz(func(t *testing.T, name, one, other, amount, alone string) {
		if len(name)+len(one)+len(other)+len(amount)+len(alone) > 1<<10 {
			return
		}
		text := fmt.Sprintf(`plan "p" {}
let { n = 3 }
usual "run" { strip = strip.s }
run "a" { length = "1 m" }
run "b" { length = %[4]s }
run "t" {
  length = "1 m"
  times  = let.n
}
chain "c" {
  from   = run.a.end
  runs   = [%[2]s, %[3]s]
  length = %[4]s
  hop { to = %[5]s }
}
feed "%[1]s" {
  from   = joint.j
  to     = [%[2]s, %[3]s, chain.c]
  length = %[4]s
  ends   = "both"
  branch {
    to   = %[5]s
    fuse = %[4]s
  }
}
`, name, one, other, amount, alone)
		decoded := Decode("d", []*source.File{source.Parse(source.NewText("d/plan.ohm.hcl", []byte(text)))}, nil)
		for _, b := range decoded.Blocks {
			h := b.header()
			if _, _, _, ok := decoded.Locate(h.Head()); !ok {
				t.Errorf("%s stands nowhere", h.ID())
			}
		}
	})
}
