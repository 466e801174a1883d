package compare

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// sideOf judges a plan given as text, with stock in the directory "shop".
func sideOf(text, stock string) *Side {
	file := func(name, text string) []*source.File {
		return []*source.File{source.Parse(source.NewText(name, []byte(text)))}
	}
	p := schema.Decode("plans/p", file("plans/p/plan.ohm.hcl", text), func(string) ([]*source.File, error) {
		return file("shop/parts.ohm.hcl", stock), nil
	})
	f, _ := figures.Work(context.Background(), p, nil) // fails only where its context ends
	v, _ := lint.Run(context.Background(), p, f, rules.All)
	return &Side{p, f, v.Findings, v.Hidden}
}

// told writes a comparison's blocks as lines.
func told(p *Plan) string {
	var b strings.Builder
	for _, x := range p.Blocks {
		fmt.Fprintf(&b, "%s %s", x.What, x.name())
		if x.Was != "" {
			fmt.Fprintf(&b, " was %s", x.Was)
		}
		for _, q := range x.Pieces {
			fmt.Fprintf(&b, " %s@%d+%d", q.ID, q.From, q.Pixels)
			if q.Turned {
				b.WriteString("~")
			}
		}
		if x.What != BlockAdded && x.What != BlockRemoved {
			for _, a := range x.Attrs {
				fmt.Fprintf(&b, "; %s %s", a.Name, orNone(a.Was)+" → "+orNone(a.Is))
			}
		}
		if len(x.Reach) > 0 {
			fmt.Fprintf(&b, " (%s)", strings.Join(x.Reach, ", "))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

const stock = `
let { thick = "16 AWG" }
strip "house" {
  like  = catalog.ws2812b_5v_30
  price = "24 EUR"
}
strip "unused" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = let.thick }
`

const plan = `
plan "p" {
  stock = ["../../shop"]
}
let { gap = "6 in" }
strip "s" { like = strip.house }
supply "b" {
  output = "5 V"
  rating = "20 A"
}
controller "c" {
  board = catalog.esp32_devkit
  port "a" { pin = 4 }
}
run "one" {
  strip   = strip.s
  through = [["0 m", let.gap], ["3 m", let.gap]]
}
run "two" {
  strip   = strip.s
  through = [["0 m", "1 m"], ["1 m", "1 m"]]
}
lead "one" {
  from   = supply.b.out
  to     = run.one.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "5 A"
}
lead "two" {
  from   = supply.b.out
  to     = run.two.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "4 A"
}
signal "one" {
  from   = controller.c.port.a
  to     = run.one.start
  length = "20 cm"
}
signal "two" {
  from   = run.one.end
  to     = run.two.start
  length = "2 m"
}
order "o" { runs = [run.one, run.two] }
`

func replaced(text string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			panic("the text does not hold " + pairs[i])
		}
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	return text
}

// Changes of the text that change nothing on the wall.
func TestSameMeaning(t *testing.T) {
	for _, c := range []struct{ name, plan, stock string }{
		{"other units", replaced(plan, `"6 in"`, `"152.4 mm"`, `"50 cm"`, `"0.5 m"`, `"4 A"`, `"4000 mA"`), replaced(stock, `"24 EUR"`, `"24.00 EUR"`)},
		{"a value in place of its name", replaced(plan, `["3 m", let.gap]`, `["3 m", "15.24 cm"]`), stock},
		{"a named value under another name", replaced(plan, "gap ", "sill ", "let.gap", "let.sill"), stock},
		{"blocks in another order, and a comment", "# A comment.\n" + replaced(plan, `order "o" { runs = [run.one, run.two] }`, "") + `order "o" { runs = [run.one, run.two] }`, stock},
		{"a default written out", replaced(plan, `fuse   = "4 A"`, "fuse   = \"4 A\"\n  parallel = 1\n  carries = \"pair\""), stock},
		{"what likeness brought, written out", replaced(plan, `strip "s" { like = strip.house }`, "strip \"s\" {\n  like = catalog.ws2812b_5v_30\n  price = \"24 EUR\"\n}"), stock},
		{"a part of stock that is not used", plan, replaced(stock, `strip "unused" { like = catalog.ws2812b_5v_60 }`, `strip "unused" { like = catalog.apa102_5v_60 }`)},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Plans(sideOf(plan, stock), sideOf(c.plan, c.stock), DefaultThreshold)
			if !p.Same() {
				t.Errorf("it is told as a change:\n%s%v\n%v\n%v\n%v", told(p), p.Moves, p.Findings, p.Parts, p.Pixels)
			}
		})
	}
}

func TestBlocks(t *testing.T) {
	copies := replaced(plan, `run "two" {`, "run \"rung\" {\n  times = 3\n  shift = [\"0 m\", \"10 cm\"]\n  strip = strip.s\n  through = [[\"0 m\", \"2 m\"], [\"1 m\", \"2 m\"]]\n}\nrun \"two\" {")
	for _, c := range []struct{ name, base, head, stock, want string }{
		{"a named value is told once, where it stands", plan, replaced(plan, `"6 in"`, `"7 in"`), stock,
			"changed let.gap; value 6 in → 7 in (run.one)\n"},
		{"a named value of stock", plan, plan, replaced(stock, `"16 AWG"`, `"18 AWG"`),
			"changed let.thick (stock); value 16 AWG → 18 AWG (wire.feed)\n"},
		{"a part of stock is told there, and whom it reaches", plan, plan, replaced(stock, `"24 EUR"`, "\"25.50 EUR\"\n  width = \"11 mm\""),
			"changed strip.house (stock); width 10 mm → 11 mm; price 24 EUR → 25.50 EUR (strip.s)\n"},
		{"another entry of the catalogue", plan, replaced(plan, "{ like = strip.house }", "{ like = catalog.ws2812b_5v_30 }"), stock,
			"changed strip.s; like strip.house → catalog.ws2812b_5v_30; price 24 EUR → – (run.one, run.two)\n"},
		{"all names at once", plan, replaced(plan, `strip "s"`, `strip "z"`, "strip.s", "strip.z", `run "one"`, `run "low"`, "run.one", "run.low", `lead "one"`, `lead "low"`, `signal "one"`, `signal "low"`, `order "o"`, `order "all"`), stock,
			"renamed strip.z was strip.s\nrenamed run.low was run.one\nrenamed lead.low was lead.one\nrenamed signal.low was signal.one\nrenamed order.all was order.o\n"},
		{"a name and a length", plan, replaced(plan, `lead "two"`, `lead "far"`, `"1 m"
  fuse   = "4 A"`, `"2 m"
  fuse   = "4 A"`), stock,
			"renamed lead.far was lead.two; length 1 m → 2 m\n"},
		{"a run split, its first part keeps the name", plan, replaced(plan, `["3 m", let.gap]]
}`, `["2 m", let.gap]]
}
run "more" {
  strip = strip.s
  through = [["2 m", let.gap], ["3 m", let.gap]]
}`), stock,
			"split run.one run.one@0+60 run.more@60+30\nchanged run.one; through [[0 m, 15.24 cm], [3 m, 15.24 cm]] → [[0 m, 15.24 cm], [2 m, 15.24 cm]] (lead.one, order.o, signal.one, signal.two)\n"},
		{"a run split, its second part turned", plan, replaced(plan, `run "one" {
  strip   = strip.s
  through = [["0 m", let.gap], ["3 m", let.gap]]
}`, `run "west" {
  strip = strip.s
  through = [["0 m", let.gap], ["1 m", let.gap]]
}
run "east" {
  strip = strip.s
  through = [["3 m", let.gap], ["1 m", let.gap]]
}`, "run.one.start", "run.west.start", "run.one.end", "run.east.start", "[run.one,", "[run.west, from_end(run.east),"), stock,
			"split run.one run.west@0+30 run.east@30+60~\nchanged order.o; runs [run.one, run.two] → [run.west, from_end(run.east), run.two]\n"},
		{"runs joined", replaced(plan, `["3 m", let.gap]]
}`, `["2 m", let.gap]]
}
run "more" {
  strip = strip.s
  through = [["2 m", let.gap], ["3 m", let.gap]]
}`), plan, stock,
			"joined run.one run.one@0+60 run.more@60+30\nchanged run.one; through [[0 m, 15.24 cm], [2 m, 15.24 cm]] → [[0 m, 15.24 cm], [3 m, 15.24 cm]] (lead.one, order.o, signal.one, signal.two)\n"},
		{"one more copy", copies, replaced(copies, "times = 3", "times = 4"), stock,
			"changed run.rung (× 4); times 3 → 4\n"},
		{"copies farther apart", copies, replaced(copies, `["0 m", "10 cm"]`, `["0 m", "4 in"]`), stock,
			"changed run.rung (× 3); shift [0 m, 10 cm] → [0 m, 4 in]\n"},
		{"another port", plan, replaced(plan, `port "a" { pin = 4 }`, "port \"a\" { pin = 5 }\n  port \"b\" { pin = 18 }"), stock,
			"changed controller.c; port a pin 4 → 5; port b – → pin 18 (signal.one)\n"},
		{"a lead gone and a supply come", plan, replaced(plan, `lead "two" {
  from   = supply.b.out`, `supply "d" {
  output = "5 V"
  rating = "3 A"
}
lead "two" {
  from   = supply.d.out`), stock,
			"changed lead.two; from supply.b.out → supply.d.out\nadded supply.d\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := told(Plans(sideOf(c.base, stock), sideOf(c.head, c.stock), DefaultThreshold)); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// A finding at a renamed run is the same finding.
func TestFindingsFollowNames(t *testing.T) {
	long := replaced(plan, `["3 m", let.gap]`, `["12 m", let.gap]`)
	base := sideOf(long, stock)
	if len(base.Findings) == 0 {
		t.Fatal("the plan has no findings to follow")
	}
	p := Plans(base, sideOf(replaced(long, `run "one"`, `run "low"`, "run.one", "run.low"), stock), DefaultThreshold)
	if len(p.Findings.New) > 0 || len(p.Findings.Gone) > 0 || len(p.Findings.Kept) != len(base.Findings) {
		t.Errorf("%d before; %d new, %d gone, %d kept: %v", len(base.Findings), len(p.Findings.New), len(p.Findings.Gone), len(p.Findings.Kept), p.Findings.New)
	}
}

func TestPixels(t *testing.T) {
	for _, c := range []struct{ name, head, want string }{
		{"longer", replaced(plan, `["3 m", let.gap]`, `["3.2 m", let.gap]`),
			"order.o 120→126: 30 moved from 96, 90…119→96…125, new 90…95\nport 120→126: 30 moved from 96, 90…119→96…125, new 90…95\n"},
		{"another way round", replaced(plan, "[run.one, run.two]", "[run.two, run.one]"),
			"order.o 120→120: 120 moved from 0, 90…119→0…29, 0…89→30…119\n"},
		{"the whole line turned", replaced(plan, "[run.one, run.two]", "[from_end(run.two), from_end(run.one)]"),
			"order.o 120→120: 120 moved from 0, 119…0→0…119\n"},
		{"one run turned", replaced(plan, "[run.one, run.two]", "[run.one, from_end(run.two)]"),
			"order.o 120→120: 30 moved from 90, 119…90→90…119\n"},
		{"data from the other end", replaced(plan, `through = [["0 m", "1 m"], ["1 m", "1 m"]]`, "through = [[\"0 m\", \"1 m\"], [\"1 m\", \"1 m\"]]\n  data_enters = \"end\"", "to     = run.two.start\n  length", "to     = run.two.end\n  length"),
			"port 120→120: 30 moved from 90, 119…90→90…119\n"},
		{"a run left out", replaced(plan, "[run.one, run.two]", "[run.two]"),
			"order.o 120→30: 30 moved from 0, 90…119→0…29, gone 0…89\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := Plans(sideOf(plan, stock), sideOf(c.head, stock), DefaultThreshold)
			var b strings.Builder
			for _, l := range append(append([]Line{}, p.Pixels.Orders...), p.Pixels.Ports...) {
				id := l.ID
				if strings.HasPrefix(id, "controller.") {
					id = "port"
				}
				fmt.Fprintf(&b, "%s %d→%d: %d moved from %d", id, l.Was, l.Is, l.Moved, l.From)
				for _, s := range l.Shifts {
					fmt.Fprintf(&b, ", %d…%d→%d…%d", s.Was[0], s.Was[1], s.Is[0], s.Is[1])
				}
				for _, r := range l.New {
					fmt.Fprintf(&b, ", new %d…%d", r.First, r.Last)
				}
				for _, r := range l.Gone {
					fmt.Fprintf(&b, ", gone %d…%d", r.First, r.Last)
				}
				b.WriteByte('\n')
			}
			if b.String() != c.want {
				t.Errorf("got\n%s\nwant\n%s", b.String(), c.want)
			}
		})
	}
}

// A move up to the threshold is not told, one beyond it is.
func TestThreshold(t *testing.T) {
	base, head := sideOf(plan, stock), sideOf(replaced(plan, `"50 cm"`, `"60 cm"`), stock)
	if p := Plans(base, head, 0.2); len(p.Moves) > 0 {
		t.Errorf("moves over 20 %%: %+v", p.Moves)
	}
	p := Plans(base, head, 0)
	if len(p.Moves) == 0 {
		t.Fatal("no figure moves at all")
	}
	for _, m := range p.Moves {
		if m.Was == nil || m.Is == nil || *m.Was == *m.Is && !m.moved {
			t.Errorf("%s of %s is told and did not move", m.Figure, m.ID)
		}
	}
}

// Whatever is compared, it is told without a failure, and all forms hold.
func TestAnyTwoPlans(t *testing.T) {
	files, err := filepath.Glob("../../../../testdata/plans/*/plan.ohm.hcl")
	if err != nil || len(files) < 3 {
		t.Fatalf("no demo plans: %v", err)
	}
	sides := []*Side{nil, sideOf("", ""), sideOf("plan \"broken\" {\nrun \"x\" {\n  strip = \nlead", ""), sideOf(plan, stock)}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		sides = append(sides, sideOf(string(text), ""))
	}
	for i, base := range sides {
		for k, head := range sides {
			if base == nil && head == nil {
				continue
			}
			p := Plans(base, head, DefaultThreshold)
			if i == k && !p.Same() {
				t.Errorf("%s differs from itself:\n%s", p.Name, told(p))
			}
			lines := p.Summary()
			if len(lines) < 1 || len(lines) > 10 {
				t.Errorf("%d lines of summary", len(lines))
			}
			for _, l := range append(append([]Line{}, p.Pixels.Orders...), p.Pixels.Ports...) {
				if l.Moved > l.Is || l.Moved > l.Was {
					t.Errorf("%s: %d of %d pixels moved", l.ID, l.Moved, l.Is)
				}
			}
			forms(t, &Report{Base: "a", Head: "b", Threshold: DefaultThreshold, Plans: []*Plan{p}, Total: 1})
		}
	}
}

// forms writes a report in every form.
func forms(t *testing.T, r *Report) {
	t.Helper()
	var text, md, html, js bytes.Buffer
	for _, err := range []error{Text(&text, r), Markdown(&md, r), HTML(&html, r), JSON(&js, r)} {
		if err != nil {
			t.Error(err)
		}
	}
	if !json.Valid(js.Bytes()) {
		t.Errorf("JSON that is none: %s", js.String())
	}
	for name, s := range map[string]string{"text": text.String(), "markdown": md.String(), "html": html.String()} {
		if s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "%!") || strings.Contains(s, "Inf ") {
			t.Errorf("%s:\n%s", name, s)
		}
	}
	sound(t, md.String())
}

// sound checks that what markdown opens it closes, and its length.
func sound(t *testing.T, md string) {
	t.Helper()
	if n := utf8.RuneCountInString(md); n > mostCharacters {
		t.Errorf("%d characters", n)
	}
	if a, b := strings.Count(md, "<details>"), strings.Count(md, "</details>"); a != b {
		t.Errorf("%d sections opened, %d closed", a, b)
	}
	if strings.Count(md, "\n```")%2 != 0 {
		t.Error("a code block is not closed")
	}
}

// Names and texts of a plan are shown as they are, never as markup.
func TestEscaping(t *testing.T) {
	nasty := "</details></td><script>alert(1)</script> | `x` @everyone [a](http://example.org) **b**"
	head := replaced(plan, `plan "p" {`, "plan \"p\" {\n  title = \""+nasty+"\"\n  note = \""+nasty+"\"", `lead "two"`, `lead "t<b>|wo"`, `"1 m"
  fuse`, `"3 m"
  fuse`)
	p := Plans(sideOf(plan, stock), sideOf(head, stock), DefaultThreshold)
	r := &Report{Base: "<i>|`", Head: "b", Plans: []*Plan{p}, Total: 1}
	var md, html bytes.Buffer
	if err := Markdown(&md, r); err != nil {
		t.Fatal(err)
	}
	if err := HTML(&html, r); err != nil {
		t.Fatal(err)
	}
	for _, raw := range []string{"<script", "<b>", "<i>"} {
		if strings.Contains(html.String(), raw) {
			t.Errorf("html holds %s", raw)
		}
	}
	if regexp.MustCompile(`[^\\]\]\(`).MatchString(md.String()) {
		t.Error("markdown holds a link")
	}
	outside := regexp.MustCompile("(?s)```.*?```|`` .*? ``|`[^`\n]*`").ReplaceAllString(md.String(), "CODE")
	for _, raw := range []string{"<script", "<b>", "<i>", "@everyone", "**b**", "</td>"} {
		if strings.Contains(outside, raw) {
			t.Errorf("markdown holds %s:\n%s", raw, outside)
		}
	}
	for _, l := range strings.Split(md.String(), "\n") { // every row keeps its columns
		if strings.HasPrefix(l, "| `lead") && strings.Count(strings.ReplaceAll(l, `\|`, ""), "|") != 6 {
			t.Errorf("a row of another number of cells: %s", l)
		}
	}
	sound(t, md.String())
}

// However much changes, a comment has room for it, and says what it leaves out.
func TestMarkdownBound(t *testing.T) {
	one := Plans(sideOf(plan, stock), sideOf(replaced(plan, `"6 in"`, `"7 in"`, `"50 cm"`, `"5 m"`, "[run.one, run.two]", "[run.two, run.one]"), replaced(stock, "16 AWG", "20 AWG")), DefaultThreshold)
	for _, n := range []int{1, 3, 20, 100, 1000} {
		r := &Report{Base: "a", Head: "b", Threshold: DefaultThreshold, Total: n}
		for range n {
			r.Plans = append(r.Plans, one)
		}
		md := markdown(r, mostCharacters)
		sound(t, md)
		if strings.Contains(md, "Left out") || strings.Count(md, "\n### ") != 1 {
			t.Errorf("%d plans alike are not told once: %d characters, %d paragraphs", n, utf8.RuneCountInString(md), strings.Count(md, "\n### "))
		}
		for i := range r.Plans { // each changes a block of its own
			p := *one
			p.Name = fmt.Sprint("p", i)
			p.Blocks = append([]Block{{What: BlockAdded, Type: "wire", ID: fmt.Sprint("wire.w", i)}}, p.Blocks...)
			r.Plans[i] = &p
		}
		md = markdown(r, mostCharacters)
		sound(t, md)
		if left := strings.Contains(md, "Left out"); left != (n >= 20) || left && n >= 100 && !strings.Contains(md, "of less weight (") {
			t.Errorf("%d plans, %d characters, something left out: %v", n, utf8.RuneCountInString(md), left)
		}
	}
	big := *one
	for i := range 20_000 {
		big.Findings.New = append(big.Findings.New, Finding{Rule: "voltage-low", Level: "warning", Subject: fmt.Sprintf("run.r%d", i), Message: strings.Repeat("long ", 100)})
	}
	sound(t, markdown(&Report{Plans: []*Plan{&big}, Total: 1}, mostCharacters))
}

func TestSpark(t *testing.T) {
	p := Profile{ID: "run.a", Case: "full", Was: []float64{5, 4.5, 4}, Is: []float64{5, 4, 3, 3}, Length: [2]float64{3, 4}}
	want := "run.a (full)\n" +
		"  before " + strings.Repeat("█", 10) + strings.Repeat("▆", 10) + strings.Repeat("▅", 10) + strings.Repeat(" ", 10) + "  5 V … 4 V, least 4 V\n" +
		"  after  " + strings.Repeat("█", 10) + strings.Repeat("▅", 10) + strings.Repeat("▁", 20) + "  5 V … 3 V, least 3 V\n"
	if got := p.spark(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestRoundStep(t *testing.T) {
	for _, c := range []struct{ span, most, want float64 }{{1, 5, 0.2}, {0.9, 5, 0.2}, {4, 6, 1}, {18, 6, 5}, {0.02, 5, 0.005}} {
		if got := roundStep(c.span, c.most); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("a span of %g in %g steps: %g, want %g", c.span, c.most, got, c.want)
		}
	}
}
