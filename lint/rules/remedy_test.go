package rules

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/remedy"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// bench is a plan as it stands.
type bench struct {
	plan   *schema.Plan
	fig    *figures.Figures
	found  []lint.Finding
	trials *remedy.Trials
}

func decode(text string) *schema.Plan {
	return schema.Decode("demo", []*source.File{source.Parse(source.NewText("demo/plan.ohm.hcl", []byte(text)))}, nil)
}

func benchOf(t testing.TB, text string) *bench {
	t.Helper()
	b := &bench{plan: decode(text)}
	var err error
	if b.fig, err = figures.Work(t.Context(), b.plan, nil); err != nil {
		t.Fatal(err)
	}
	v, err := lint.Run(t.Context(), b.plan, b.fig, All)
	if err != nil {
		t.Fatal(err)
	}
	b.found = v.Findings
	b.trials = remedy.New(b.plan, b.fig, b.found, All)
	return b
}

func (b *bench) fixes(t testing.TB, i int) []lint.Fix {
	t.Helper()
	fixes, err := b.trials.For(t.Context(), i)
	if err != nil {
		t.Fatal(err)
	}
	return fixes
}

// offered lists the titles of the fixes of a rule's finding about a subject.
func (b *bench) offered(t testing.TB, rule, subject string) []string {
	t.Helper()
	for i, f := range b.found {
		if f.Rule == rule && f.Subject == subject {
			out := []string{}
			for _, x := range b.fixes(t, i) {
				out = append(out, x.Title)
			}
			return out
		}
	}
	t.Fatalf("no %s about %s among %d findings", rule, subject, len(b.found))
	return nil
}

// stand is what the cases below have in common: two runs on one supply.
const stand = `plan "stand" { mains = "230 V" }
strip "led" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "16 AWG" }
wire "thin" { gauge = "22 AWG" }
supply "brick" {
  output = "5 V"
  rating = "40 A"
  input  = ["230 V"]
}
`

// Text that several blocks share is mended for all of them or not at all.
func TestSharedText(t *testing.T) {
	for _, test := range []struct {
		name, text, rule, subject string
		want                      []string
	}{
		{"a fuse that the lead which is like it does not stand", stand + `
run "top" {
  strip  = strip.led
  length = "1 m"
}
run "low" {
  strip  = strip.led
  length = "10 cm"
}
lead "top" {
  from   = supply.brick.out
  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "low" {
  like = lead.top
  to   = run.low.start
  wire = wire.thin
}
`, "fuse-too-small", "lead.top", []string{"Fit a 5 A fuse in lead.top and fit a 1 A fuse in lead.low", "Fit a 5 A fuse in lead.top and fit a 3 A fuse in lead.low",
			"Feed run.top.end from supply.brick.out (2 m) (46.9 g of copper and 2 parts more)"}},
		{"the same where the other says a fuse itself", stand + `
run "top" {
  strip  = strip.led
  length = "1 m"
}
run "low" {
  strip  = strip.led
  length = "10 cm"
}
lead "top" {
  from   = supply.brick.out
  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "low" {
  like = lead.top
  to   = run.low.start
  wire = wire.thin
  fuse = "3 A"
}
`, "fuse-too-small", "lead.top", []string{"Fit a 5 A fuse"}},
		{"copies that carry different loads", stand + `
run "f-1" {
  strip  = strip.led
  length = "40 cm"
}
run "f-2" {
  strip  = strip.led
  length = "55 cm"
}
lead "f" {
  times  = 2
  from   = supply.brick.out
  to     = run.f-each.start
  wire   = wire.feed
  length = "1 m"
}
`, "wire-unprotected", "lead.f-1", []string{"Fit a 3 A fuse", "Fit a 4 A fuse", "Fit a 5 A fuse"}}, // lead.f-1 alone would do with 2 A
		{"copies that are fed again together", stand + `
run "tread" {
  times  = 3
  strip  = strip.led
  length = "1.6 m"
}
wire "thick" { gauge = "14 AWG" }
lead "tread" {
  times  = 3
  from   = supply.brick.out
  to     = run.tread-each.start
  wire   = wire.thick
  length = "1 m"
  fuse   = "5 A"
}
`, "strip-overcurrent", "run.tread-1", []string{"Feed its end too with a second lead like lead.tread-1, 2.6 m long (3.17 A then)"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			b := benchOf(t, test.text)
			if got := b.offered(t, test.rule, test.subject); !slices.Equal(got, test.want) {
				t.Errorf("offered %q, want %q", got, test.want)
			}
		})
	}
}

// No remedy feeds a hazard that another finding hides, or that nobody reports.
func TestNoGreaterHazard(t *testing.T) {
	const tapped = stand + `
joint "hub" {
  kind   = "lever"
  rating = "20 A"
  ports  = 3
}
run "top" {
  strip  = strip.led
  length = "1 m"
}
run "low" {
  strip  = strip.led
  length = "30 cm"
}
lead "trunk" {
  from   = supply.brick.out
  to     = joint.hub
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "top" {
  from   = joint.hub
  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
}
lead "low" {
  from   = joint.hub
  to     = run.low.start
  wire   = wire.thin
  length = "1 m"
}
`
	b := benchOf(t, tapped)
	for _, title := range b.offered(t, "fuse-too-small", "lead.trunk") {
		if !strings.Contains(title, "fuse in lead.low") {
			t.Errorf("offered %q, which drives more into lead.low", title)
		}
	}
	const unfused = stand + `
wire "trunk" { gauge = "18 AWG" }
joint "hub" {
  kind   = "lever"
  rating = "32 A"
  ports  = 5
}
run "a" {
  times  = 3
  strip  = strip.led
  length = "2.9 m"
}
lead "trunk" {
  from   = supply.brick.out
  to     = joint.hub
  wire   = wire.trunk
  length = "1 m"
}
lead "a" {
  times  = 3
  from   = joint.hub
  to     = run.a-each.start
  wire   = wire.trunk
  length = "50 cm"
}
`
	b = benchOf(t, unfused)
	for i := range b.found {
		for _, x := range b.fixes(t, i) {
			if strings.Contains(x.Title, "15 A fuse") && strings.Contains(x.Title, "16 AWG") {
				t.Errorf("%s offers %q, and 16 AWG carries 8 A", b.found[i].Rule, x.Title)
			}
		}
	}
}

// key is a rule and a subject.
type key = [2]string

// state is what a text has, worked out from nothing.
type state struct {
	plan    *schema.Plan
	level   map[key]lint.Level
	count   map[key]int
	margins map[figures.Guarded]float64
}

func stateOf(t testing.TB, text string) *state {
	t.Helper()
	s := &state{plan: decode(text), level: map[key]lint.Level{}, count: map[key]int{}}
	fig, err := figures.Work(t.Context(), s.plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	list, err := lint.Judge(t.Context(), s.plan, fig, All)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		k := key{f.Rule, f.Subject}
		s.level[k] = max(s.level[k], f.Level)
		s.count[k]++
	}
	s.margins = fig.Margins()
	return s
}

// untrue says what a fix promised and does not hold: nothing where all is well.
func untrue(before, after *state, f *lint.Finding, shared []string) []string {
	var out []string
	for _, id := range append([]string{f.Subject}, shared...) {
		k := key{f.Rule, id}
		if n := before.count[k]; n > 0 && after.count[k] >= n {
			out = append(out, fmt.Sprintf("leaves %s of %s", f.Rule, id))
		}
	}
	for k, level := range after.level {
		if level >= lint.Warning && level > before.level[k] {
			out = append(out, fmt.Sprintf("adds %s of %s", k[0], k[1]))
		}
	}
	return append(out, raised(before, after)...)
}

func raised(before, after *state) []string {
	var out []string
	for k, m := range after.margins {
		if was := math.Max(1, before.margins[k]); m > was*(1+1e-6) {
			out = append(out, fmt.Sprintf("raises the %s margin of %s from %.3f to %.3f", k.Hazard, k.ID, was, m))
		}
	}
	return out
}

// sharers lists the blocks that are written by the same block as a finding's
// subject, or are like it and take over a statement of it.
func sharers(p *schema.Plan, subject string) []string {
	b, ok := p.Find(subject)
	if !ok {
		return nil
	}
	node := schema.HeaderOf(b).Node
	var out []string
	for _, o := range p.Blocks {
		if schema.HeaderOf(o).Node == node {
			out = append(out, schema.HeaderOf(o).ID())
		}
	}
	return out
}

// demoPlans are the texts of the demo plans.
func demoPlans(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	names, err := filepath.Glob("../../testdata/plans/*/plan.ohm.hcl")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d demo plans, %v", len(names), err)
	}
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(filepath.Dir(n))] = string(data)
	}
	return out
}

// What keeps the light comes first, whatever it costs: 25 g of copper go before a ceiling that takes three quarters of it.
func TestDimmingComesLast(t *testing.T) {
	data, err := os.ReadFile("../../testdata/plans/porch-arch/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	b := benchOf(t, strings.Replace(string(data), `wire "feed" { gauge = "16 AWG" }`, `wire "feed" { gauge = "26 AWG" }`, 1))
	for rule, subject := range map[string]string{"lead-overcurrent": "lead.left", "voltage-low": "run.arch"} {
		got := b.offered(t, rule, subject)
		if len(got) < 2 || !strings.HasPrefix(got[0], "Use 16 AWG wire for lead.left") || !strings.Contains(got[len(got)-1], "; dims to ") {
			t.Errorf("%s of %s offers %q", rule, subject, got)
		}
		if where := dimsTooSoon(got); where != "" {
			t.Errorf("%s of %s: %s", rule, subject, where)
		}
	}
}

// dimsTooSoon says which of some titles dims and stands before one that does not.
func dimsTooSoon(titles []string) string {
	for i := range titles[:max(0, len(titles)-1)] {
		if strings.Contains(titles[i], "; dims to ") && !strings.Contains(titles[i+1], "; dims to ") {
			return fmt.Sprintf("%q before %q", titles[i], titles[i+1])
		}
	}
	return ""
}
