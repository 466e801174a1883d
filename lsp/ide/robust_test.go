package ide

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path"
	"runtime/debug"
	"strings"
	"testing"
	"unicode/utf8"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// demoPlans reads the plans of testdata by directory.
func demoPlans(t testing.TB) map[string]string {
	t.Helper()
	const root = "../../testdata/plans"
	dirs, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, d := range dirs {
		data, err := os.ReadFile(path.Join(root, d.Name(), "plan.ohm.hcl"))
		if err != nil {
			continue // a plan of several files
		}
		out[d.Name()] = string(data)
	}
	if len(out) == 0 {
		t.Fatal("no plans")
	}
	return out
}

// worked works a plan out.
func worked(p *schema.Plan) *figures.Figures {
	f, _ := figures.Work(context.Background(), p, nil) // fails only where its context ends
	return f
}

// viewOf makes a view of a plan in one file.
func viewOf(text string) *View {
	f := source.Parse(source.NewText("demo/plan.ohm.hcl", []byte(text)))
	p := schema.Decode("demo", []*source.File{f}, nil)
	fig := worked(p)
	return &View{Plan: p, Figures: fig, Rules: rules.All, File: f, Dirs: func() []string { return []string{"demo", "store"} }, Findings: judged(p, fig)}
}

// checker asks everything of a view and checks what any answer must be.
type checker struct {
	testing.TB
	v *View
}

func (c checker) inside(what string, offset int, r Range) {
	if r.Start < 0 || r.End < r.Start || r.End > c.v.File.Text.Len() {
		c.Errorf("%s at %d: range %v of a text of %d bytes", what, offset, r, c.v.File.Text.Len())
	}
}

func (c checker) edits(what string, offset int, edits []TextEdit) {
	for i, e := range edits {
		if e.Path != c.v.File.Text.Path() {
			c.Errorf("%s at %d: an edit of %s", what, offset, e.Path)
			continue
		}
		c.inside(what, offset, Range{e.Start, e.End})
		if !utf8.ValidString(e.New) {
			c.Errorf("%s at %d: %q is not UTF-8", what, offset, e.New)
		}
		for _, o := range edits[:i] {
			if e.Start < o.End && o.Start < e.End {
				c.Errorf("%s at %d: edits %v and %v overlap", what, offset, o, e)
			}
		}
	}
}

func (c checker) at(offset int) {
	v := c.v
	defer func() {
		if r := recover(); r != nil {
			c.Fatalf("at %d (line %q): %v\n%s", offset, v.File.Text.Line(v.lineOf(offset)), r, debug.Stack())
		}
	}()
	if h, ok := HoverAt(v, offset, "held"); ok {
		c.inside("hover", offset, h.Range)
		if h.Markdown == "" {
			c.Errorf("an empty hover at %d", offset)
		}
	}
	line := v.File.Text.OffsetPosition(offset, 0).Line
	last := ""
	for _, it := range Complete(v, offset) {
		c.inside("completion", offset, it.Range)
		if v.lineOf(it.Start) != line || v.lineOf(it.End) != line || it.Start > offset || it.End < offset {
			c.Errorf("completion at %d: %q replaces %v, on lines %d to %d", offset, it.Label, it.Range, v.lineOf(it.Start), v.lineOf(it.End))
		}
		if it.Label == "" || it.Text == "" || it.Sort < last {
			c.Errorf("completion at %d: %+v", offset, it)
		}
		last = it.Sort
		key, _, _ := strings.Cut(it.Key, "|")
		if offset%64 == 0 { // with what it brings, which works the plan out
			key = it.Key
		}
		Resolve(v, Item{Key: key, Label: it.Label})
	}
	SignatureAt(v, offset)
	Definition(v, offset)
	TypeDefinition(v, offset)
	References(v, offset, true)
	for _, h := range Highlights(v, offset) {
		c.inside("highlight", offset, h.Range)
	}
	if r, err := PrepareRename(v, offset); err == nil {
		if r.Start > offset || r.End < offset {
			c.Errorf("rename at %d: %v", offset, r.Range)
		}
		edits, err := Rename(v, offset, "another")
		if err != nil {
			c.Errorf("rename at %d: %v", offset, err)
		}
		c.edits("rename", offset, edits)
	}
	inner := Range{offset, offset}
	for _, r := range Selections(v, offset) {
		c.inside("selection", offset, r)
		if r.Start > inner.Start || r.End < inner.End {
			c.Errorf("selections at %d: %v does not hold %v", offset, r, inner)
		}
		inner = r
	}
	for _, a := range Actions(v, Range{offset, offset}) {
		c.edits(a.Title, offset, a.Edits)
	}
	for _, typed := range FormatTriggers {
		c.edits("format", offset, FormatTyped(v, offset, typed))
	}
	for _, p := range PartAt(v, offset) {
		FedBy(v, p.ID)
		Feeds(v, p.ID)
	}
}

func (c checker) whole() {
	v := c.v
	defer func() {
		if r := recover(); r != nil {
			c.Fatalf("%q: %v\n%s", v.File.Text.String(), r, debug.Stack())
		}
	}()
	all := Range{0, v.File.Text.Len()}
	end := 0
	for t := range Tokens(v, all) {
		if t.Start < end || t.Length <= 0 || v.lineOf(t.Start) != v.lineOf(t.Start+t.Length) {
			c.Errorf("token %v behind %d", t, end)
		}
		end = t.Start + t.Length
		c.inside("token", t.Start, Range{t.Start, end})
	}
	var walk func(ss []Symbol)
	walk = func(ss []Symbol) {
		for _, s := range ss {
			c.inside(s.Name, 0, s.Range)
			if s.Name == "" || s.Selected.Start < s.Start || s.Selected.End > s.End {
				c.Errorf("symbol %q selects %v of %v", s.Name, s.Selected, s.Range)
			}
			walk(s.Children)
		}
	}
	walk(Symbols(v))
	for _, f := range Folds(v) {
		c.inside("fold", 0, f.Range)
	}
	for _, l := range Links(v) {
		c.inside("link", 0, l.Range)
	}
	for _, x := range Colours(v) {
		c.inside("colour", 0, x.Range)
	}
	for _, l := range Lenses(v, LensesFor{Case: "full", Figures: true}) {
		c.inside("lens", 0, l.Range)
	}
	Inlays(v, all, Hints{true, true, true, true, true, true, true, true, "held"})
	WorkspaceSymbols(v, "ar")
	Diagnostics(v, lint.Hint)
	c.edits("format", 0, Format(v))
	edits, _ := FixAllNotation(v, "")
	c.edits("fix all", 0, edits)
}

func TestEveryOffset(t *testing.T) {
	for name, text := range demoPlans(t) {
		t.Run(name, func(t *testing.T) {
			c := checker{t, viewOf(text)}
			c.whole()
			step := 1 + len(text)/1500
			for offset := 0; offset <= len(text); offset += step {
				c.at(offset)
			}
			for _, offset := range []int{-5, len(text) + 5} {
				HoverAt(c.v, offset, "")
				Complete(c.v, offset)
				Selections(c.v, offset)
			}
		})
	}
}

// The catalogue can be looked around in, but not changed.
func TestCatalogueFiles(t *testing.T) {
	lib := schema.Catalogue().Whole()
	fig := worked(lib)
	for _, f := range lib.Files {
		t.Run(f.Text.Path(), func(t *testing.T) {
			v := &View{Plan: lib, Figures: fig, Rules: rules.All, File: f}
			c := checker{t, v}
			c.whole()
			defined, described := 0, 0
			for offset := 0; offset < f.Text.Len(); offset += 37 {
				c.at(offset)
				if a := Actions(v, Range{offset, offset}); len(a) > 0 {
					t.Errorf("%q is offered at %d", a[0].Title, offset)
				}
				if _, err := Rename(v, offset, "other"); err == nil {
					t.Errorf("a rename is possible at %d", offset)
				}
				if len(Definition(v, offset)) > 0 {
					defined++
				}
				if _, ok := HoverAt(v, offset, "full"); ok {
					described++
				}
			}
			if defined == 0 || described == 0 {
				t.Errorf("%d definitions, %d hovers", defined, described)
			}
		})
	}
}

// mutilate makes small and large mistakes in a text.
func mutilate(r *rand.Rand, text string) string {
	pieces := []string{"\"", "{", "}", "[", "]", "(", ".", "=", "\n", "<<E\n", "# ", "/*", "é", "👪", "\r\n", "${", "run", "like = ", "\x00", "let.", "times = 3\n", "strip \"x\" {\n"}
	for range 1 + r.IntN(4) {
		at := r.IntN(len(text) + 1)
		switch r.IntN(4) {
		case 0, 1:
			text = text[:at] + pieces[r.IntN(len(pieces))] + text[at:]
		case 2:
			text = text[:at] + text[min(len(text), at+1+r.IntN(8)):]
		case 3:
			text = text[:at] + text[min(len(text), at+r.IntN(80)):]
		}
	}
	return text
}

func TestMutilatedPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for name, text := range demoPlans(t) {
		t.Run(name, func(t *testing.T) {
			for range 12 {
				broken := mutilate(r, text)
				c := checker{t, viewOf(broken)}
				c.whole()
				for range 40 {
					c.at(r.IntN(len(broken) + 1))
				}
			}
		})
	}
}

// TestHalfTyped stops typing at every tenth byte of a plan.
func TestHalfTyped(t *testing.T) {
	text := demoPlans(t)["porch-arch"]
	for n := 0; n <= len(text); n += 10 {
		c := checker{t, viewOf(text[:n])}
		c.at(n)
		c.whole()
	}
}

func FuzzFeatures(f *testing.F) {
	for _, text := range demoPlans(f) {
		f.Add(text[:min(len(text), 1500)], 700)
	}
	for _, s := range []string{"", "p", "plan \"", "\ufeffplan \"p\" {}", "lead \"x\" {\n  from = supply.", "# ohmstead: allow ", "run \"a\" {\n  like = run.a\n  times = 5\n}\n", "let {\n a = let.b\n b = let.a\n}\n", "strip \"x\" { like = strip.y }\nstrip \"y\" { like = strip.x }"} {
		f.Add(s, len(s))
	}
	f.Fuzz(func(t *testing.T, text string, offset int) {
		if !utf8.ValidString(text) || len(text) > 5000 || strings.Count(text, "times") > 3 {
			return
		}
		c := checker{t, viewOf(text)}
		c.at(min(max(offset, c.v.File.Text.LineStart(0)), len(text)))
		c.whole()
	})
}

// bigPlan is a plan of about so many lines: porches side by side.
func bigPlan(lines int) string {
	var b strings.Builder
	b.WriteString("plan \"big\" { mains = \"230 V\" }\nstrip \"band\" {\n  voltage = \"12 V\"\n  density = \"60/m\"\n  channel_current = \"15 mA\"\n  forward = \"3 V\"\n  rail = \"0.1 ohm/m\"\n}\nwire \"feed\" { gauge = \"16 AWG\" }\n")
	for i := 0; i < lines/24; i++ {
		fmt.Fprintf(&b, `
supply "s%[1]d" {
  output = "12 V"
  rating = "10 A"
}

run "r%[1]d" {
  strip  = strip.band
  length = "1.6 m"
}

lead "l%[1]d" {
  from   = supply.s%[1]d.out
  to     = run.r%[1]d.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

signal "d%[1]d" {
  from = run.r%[1]d.end
  to   = run.r%[1]d.start
}
`, i)
	}
	return b.String()
}

func BenchmarkFeatures(b *testing.B) {
	for _, lines := range []int{2000, 20000} {
		text := bigPlan(lines)
		v := viewOf(text)
		middle := strings.Index(text[len(text)/2:], "run.r") + len(text)/2 + 6
		empty := strings.Index(text[len(text)/2:], "\n\nlead") + len(text)/2 + 1
		all := Range{0, len(text)}
		for _, f := range []struct {
			name string
			ask  func()
		}{
			{"hover", func() { HoverAt(v, middle, "full") }},
			{"complete-reference", func() { Complete(v, middle) }},
			{"complete-top", func() { Complete(v, empty) }},
			{"definition", func() { Definition(v, middle) }},
			{"references", func() { References(v, middle, true) }},
			{"actions", func() { Actions(v, Range{middle, middle}) }},
			{"tokens", func() { Tokens(v, all)(func(Token) bool { return true }) }},
			{"symbols", func() { Symbols(v) }},
			{"lenses", func() { Lenses(v, LensesFor{Case: "full", Figures: true}) }},
			{"inlays", func() { Inlays(v, all, Hints{true, true, true, true, true, true, false, true, "full"}) }},
			{"format", func() { Format(v) }},
			{"folds", func() { Folds(v) }},
			{"type", func() { FormatTyped(v, empty, "\n") }},
		} {
			b.Run(fmt.Sprintf("%s/%d", f.name, lines), func(b *testing.B) {
				for b.Loop() {
					f.ask()
				}
			})
		}
	}
}
