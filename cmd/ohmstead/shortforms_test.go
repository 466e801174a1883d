package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

const (
	shortForms = "../../testdata/shortforms"
	mostSaid   = 75 // attributes, blocks and elements that a plan in short forms is to say at most
)

// A breakage is a mistake that a maker makes in a plan: a text that stands once
// in it, what he writes instead, and the rules that must see it. The plan in
// short forms has a text of its own for the same mistake.
type breakage struct {
	what        string
	rules       []string
	long, short [2]string
}

// shortPlans are said twice below testdata/shortforms: NAME-long without short
// forms, NAME with them.
var shortPlans = []struct {
	name   string
	most   int // see mostSaid
	broken []breakage
}{
	{"word", mostSaid, []breakage{
		{
			what:  "the strokes have no fuse",
			rules: []string{"wire-unprotected"},
			long:  [2]string{"  wire = catalog.awg_20\n  fuse = \"3 A\"\n", "  wire = catalog.awg_20\n"},
			short: [2]string{"  wire = catalog.awg_20\n  fuse = \"3 A\"\n", "  wire = catalog.awg_20\n"},
		},
		{
			what:  "the strokes are fed by a thinner wire",
			rules: []string{"fuse-too-large", "lead-overcurrent"},
			long:  [2]string{"catalog.awg_20", "catalog.awg_26"},
			short: [2]string{"catalog.awg_20", "catalog.awg_26"},
		},
		{
			what:  "the data takes a long way to the ring of the O",
			rules: []string{"data-lead-long"},
			long:  [2]string{"  to   = run.note-o.start\n  wire = catalog.awg_22\n", "  to   = run.note-o.start\n  wire = catalog.awg_22\n  length = \"6 m\"\n"},
			short: [2]string{"  wire = catalog.awg_22\n", "  wire = catalog.awg_22\n  hop {\n    to = run.note-o\n    length = \"6 m\"\n  }\n"},
		},
		{
			what:  "the data leaves a pin of the flash memory",
			rules: []string{"pin-unsuitable"},
			long:  [2]string{"pin = 4", "pin = 6"},
			short: [2]string{"pin = 4", "pin = 6"},
		},
		{
			what:  "the copper of the strip is thinner than the ring of the O needs",
			rules: []string{"strip-overcurrent", "wire-unprotected"},
			long:  [2]string{"  like  = catalog.ws2815_12v_60\n", "  like  = catalog.ws2815_12v_60\n  rail_current = \"1.2 A\"\n"},
			short: [2]string{"  like  = catalog.ws2815_12v_60\n", "  like  = catalog.ws2815_12v_60\n  rail_current = \"1.2 A\"\n"},
		},
		{
			what:  "the supply is too small",
			rules: []string{"supply-overload"},
			long:  [2]string{`"8.5 A"`, `"3 A"`},
			short: [2]string{`"8.5 A"`, `"3 A"`},
		},
	}},
	{"cove", mostSaid, []breakage{
		{
			what:  "the feeds have no fuse",
			rules: []string{"wire-unprotected"},
			long:  [2]string{"  wire = catalog.mm2_1_5\n  fuse = \"3 A\"\n", "  wire = catalog.mm2_1_5\n"},
			short: [2]string{"    fuse = \"3 A\"\n", ""},
		},
		{
			what:  "the feeds are too thin",
			rules: []string{"fuse-too-large", "lead-overcurrent"},
			long:  [2]string{"  wire = catalog.mm2_1_5\n  fuse = \"3 A\"\n", "  wire = catalog.awg_26\n  fuse = \"3 A\"\n"},
			short: [2]string{"    ends = \"both\"\n", "    ends = \"both\"\n    wire = catalog.awg_26\n"},
		},
		{
			what:  "the data takes the long way round between the halves",
			rules: []string{"data-lead-long"},
			long:  [2]string{"  to   = run.right-back.end\n  wire = catalog.awg_22\n", "  to   = run.right-back.end\n  wire = catalog.awg_22\n  length = \"14 m\"\n"},
			short: [2]string{"  wire = catalog.awg_22\n", "  wire = catalog.awg_22\n  hop {\n    to = run.right-back\n    length = \"14 m\"\n  }\n"},
		},
		{
			what:  "the data leaves a pin that is read at reset",
			rules: []string{"pin-unsuitable"},
			long:  [2]string{"pin = 18", "pin = 12"},
			short: [2]string{"pin = 18", "pin = 12"},
		},
		{
			what:  "the copper of the strip is thinner than the feeds let flow",
			rules: []string{"strip-overcurrent", "wire-unprotected"},
			long:  [2]string{"  like  = catalog.ws2814_24v_60\n", "  like  = catalog.ws2814_24v_60\n  rail_current = \"1 A\"\n"},
			short: [2]string{"  like  = catalog.ws2814_24v_60\n", "  like  = catalog.ws2814_24v_60\n  rail_current = \"1 A\"\n"},
		},
		{
			what:  "the pluses are tied too",
			rules: []string{"supplies-tied"},
			long:  [2]string{"  carries = \"minus\"\n", ""},
			short: [2]string{"  carries = \"minus\"\n", ""},
		},
	}},
	{"rings", mostSaid, []breakage{
		{
			what:  "the taps have no fuse",
			rules: []string{"wire-unprotected"},
			long:  [2]string{"  to    = run.ring-hoop-1-each.start\n  wire  = catalog.mm2_0_75\n  fuse  = \"1 A\"\n", "  to    = run.ring-hoop-1-each.start\n  wire  = catalog.mm2_0_75\n"},
			short: [2]string{"    fuse = \"1 A\"\n", ""},
		},
		{
			what:  "the trunk is too thin",
			rules: []string{"lead-overcurrent", "wire-unprotected"},
			long:  [2]string{"  to   = joint.ring-tee-3-2\n  wire = catalog.mm2_2_5\n", "  to   = joint.ring-tee-3-2\n  wire = catalog.mm2_0_75\n"},
			short: [2]string{"  through = joint.ring-tee-3-to-4\n  wire    = catalog.mm2_2_5\n", "  through = joint.ring-tee-3-to-4\n  wire    = catalog.mm2_0_75\n"},
		},
		{
			what:  "the data hops too far",
			rules: []string{"data-lead-long"},
			long:  [2]string{"  to    = run.ring-hoop-1-next.start\n", "  to    = run.ring-hoop-1-next.start\n  length = \"12 m\"\n"},
			short: [2]string{"  runs = assembly.ring\n", "  runs = assembly.ring\n  length = \"12 m\"\n"},
		},
		{
			what:  "the data leaves a pin that only takes",
			rules: []string{"pin-unsuitable"},
			long:  [2]string{"pin = 18", "pin = 34"},
			short: [2]string{"pin = 18", "pin = 34"},
		},
		{
			what:  "the copper of the strip is thinner than a ring needs",
			rules: []string{"strip-overcurrent"},
			long:  [2]string{"  like  = catalog.ws2811_24v_60\n", "  like  = catalog.ws2811_24v_60\n  rail_current = \"400 mA\"\n"},
			short: [2]string{"  like  = catalog.ws2811_24v_60\n", "  like  = catalog.ws2811_24v_60\n  rail_current = \"400 mA\"\n"},
		},
		{
			what:  "the terminals stand in the rain",
			rules: []string{"enclosure-unsaid"},
			long:  [2]string{"joint \"ring-tee-1-1\" {\n  like      = catalog.barrier_terminal_3\n  enclosure = \"IP67\"\n", "joint \"ring-tee-1-1\" {\n  like      = catalog.barrier_terminal_3\n"},
			short: [2]string{` "joint" "lead"`, ` "lead"`},
		},
	}},
}

// Both forms of a plan are sound, stand in the canonical layout, and come to the
// same figures; the short one says little; what is broken in both is found in
// both.
func TestShortForms(t *testing.T) {
	table := []string{fmt.Sprintf("%-12s %6s %10s %6s %13s %5s", "plan", "lines", "attributes", "blocks", "list elements", "sum")}
	defer func() { t.Log("\n" + strings.Join(table, "\n")) }()
	for _, p := range shortPlans {
		long, short := readPlan(t, p.name+"-long"), readPlan(t, p.name)
		if long == "" {
			t.Errorf("%s-long is not there", p.name)
			continue
		}
		c := count(t, long)
		table = append(table, c.row(p.name+"-long"))
		if short != "" {
			c := count(t, short)
			table = append(table, c.row(p.name))
			if c.sum() > p.most {
				t.Errorf("%s says %d things, want %d at most", p.name, c.sum(), p.most)
			}
			sameFigures(t, p.name, long, short)
			sameBlocks(t, p.name, long, short)
		}
		onSafeSide(t, p.name+"-long", long)
		onSafeSide(t, p.name+"-long from its end", backwards(t, long))
		// What the comparison leaves out is only the order of the blocks.
		sameFigures(t, p.name+"-long from its end", long, backwards(t, long))
		if len(differences("", figuresOf(t, long), figuresOf(t, replaceOnce(t, long, p.broken[1].long)))) == 0 {
			t.Errorf("%s-long comes to the same figures where %s", p.name, p.broken[1].what)
		}
		for _, b := range p.broken {
			before := toldAt(t, replaceOnce(t, long, b.long))
			fired := slices.Sorted(maps.Keys(before))
			for _, r := range b.rules {
				if !slices.Contains(fired, r) {
					t.Errorf("%s-long, %s: %v fire, and not %s", p.name, b.what, fired, r)
				}
			}
			if short == "" {
				continue
			}
			if b.short[0] == "" {
				t.Errorf("%s: nothing says how %s there", p.name, b.what)
				continue
			}
			after := toldAt(t, replaceOnce(t, short, b.short))
			for _, r := range fired {
				again, there := after[r]
				if !there {
					t.Errorf("%s, %s: %v fire, and not %s, which fires on the long form", p.name, b.what, slices.Sorted(maps.Keys(after)), r)
				}
				for _, at := range before[r] {
					if !slices.Contains(again, at) {
						t.Errorf("%s, %s: %s is told at %q, and at %q of the long form", p.name, b.what, r, again, at)
					}
				}
			}
		}
	}
}

// readPlan reads a plan that must be sound and in the canonical layout; there may
// be none.
func readPlan(t *testing.T, name string) string {
	t.Helper()
	dir := filepath.Join(shortForms, name)
	text, err := os.ReadFile(filepath.Join(dir, "plan.ohm.hcl"))
	if os.IsNotExist(err) {
		return ""
	}
	if err != nil {
		t.Fatal(err)
	}
	if fired := rulesOn(t, string(text)); len(fired) > 0 {
		t.Errorf("%s is not sound: %v fire", name, fired)
	}
	var out, errs strings.Builder
	if code := run([]string{"fmt", "--check", dir}, strings.NewReader(""), &out, &errs); code != 0 {
		t.Errorf("%s is not in the canonical layout: %s%s", name, out.String(), errs.String())
	}
	return string(text)
}

// replaceOnce replaces a text that stands in the plan exactly once.
func replaceOnce(t *testing.T, plan string, change [2]string) string {
	t.Helper()
	if n := strings.Count(plan, change[0]); n != 1 {
		t.Fatalf("%q stands %d times in\n%s", change[0], n, plan)
	}
	return strings.Replace(plan, change[0], change[1], 1)
}

// asJSON runs a command with a plan and decodes what it prints.
func asJSON(t *testing.T, command, plan string, to any) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "plan.ohm.hcl")
	if err := os.WriteFile(file, []byte(plan), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs strings.Builder
	if code := run([]string{command, file, "--format", "json"}, strings.NewReader(""), &out, &errs); code > 1 {
		t.Fatalf("%s ends with %d and says %s\nof\n%s", command, code, errs.String(), plan)
	}
	if err := json.Unmarshal([]byte(out.String()), to); err != nil {
		t.Fatal(err)
	}
}

// rulesOn names the rules that fire on a plan, hints too, each once.
func rulesOn(t *testing.T, plan string) []string {
	t.Helper()
	var checked struct{ Findings []struct{ Rule string } }
	asJSON(t, "check", plan, &checked)
	var names []string
	for _, f := range checked.Findings {
		names = append(names, f.Rule)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// toldAt says by rule at which attributes findings stand; "" for a block, of which a line of runs
// and the places that a feed goes to stand for one.
func toldAt(t *testing.T, plan string) map[string][]string {
	t.Helper()
	var checked struct {
		Findings []struct {
			Rule  string
			Range struct{ Start struct{ Line int } }
		}
	}
	asJSON(t, "check", plan, &checked)
	lines := strings.Split(plan, "\n")
	at := map[string][]string{}
	for _, f := range checked.Findings {
		name, _, attribute := strings.Cut(strings.TrimSpace(lines[f.Range.Start.Line-1]), "=")
		name = strings.TrimSpace(name)
		if name == "like" { // which leads to the place of another one
			at[f.Rule] = slices.Clip(at[f.Rule])
			continue
		}
		if !slices.Contains([]string{"wire", "fuse", "length", "rating", "exposure"}, name) || !attribute {
			name = ""
		}
		at[f.Rule] = append(at[f.Rule], name)
	}
	return at
}

func figuresOf(t *testing.T, plan string) any {
	t.Helper()
	var v any
	asJSON(t, "show", plan, &v)
	return v
}

// sameBlocks holds that both forms come to the same blocks, to the letter, so that what little
// their figures differ by comes of the order in which they are added up, and of two things
// that the long form cannot say: a circle, which it draws as an arc from a place that is
// not the same to the last bit (1.1 m less 15 cm, and 95 cm), and the names of a chain's signals.
func sameBlocks(t *testing.T, name, long, short string) {
	t.Helper()
	a, b := resolvedBlocks(t, long), resolvedBlocks(t, short)
	for head, text := range b {
		switch was, there := a[head]; {
		case strings.HasPrefix(head, "signal ") || there && strings.Contains(text, "\n  circle {"):
		case was != text:
			t.Errorf("%s: without short forms\n%s\nwith them\n%s", name, was, text)
		}
		delete(a, head)
	}
	for head := range a {
		if !strings.HasPrefix(head, "signal ") {
			t.Errorf("%s: %s only stands in the long form", name, head)
		}
	}
}

// resolvedBlocks are the blocks that a plan comes to, by their first lines.
func resolvedBlocks(t *testing.T, plan string) map[string]string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "plan.ohm.hcl")
	if err := os.WriteFile(file, []byte(plan), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs strings.Builder
	if code := run([]string{"resolve", file}, strings.NewReader(""), &out, &errs); code != 0 {
		t.Fatal(errs.String())
	}
	blocks := map[string]string{}
	for _, b := range strings.Split(strings.TrimSpace(out.String()), "\n\n") {
		head, _, _ := strings.Cut(b, "\n")
		blocks[head] = b
	}
	return blocks
}

func sameFigures(t *testing.T, name, a, b string) {
	t.Helper()
	d := differences("", figuresOf(t, a), figuresOf(t, b))
	for _, x := range d[:min(len(d), 10)] {
		t.Errorf("%s: %s", name, x)
	}
	if len(d) > 10 {
		t.Errorf("%s: and %d differences more", name, len(d)-10)
	}
}

// differences compares two outputs of show --format json. No key is left out, as
// show tells no file and no place in it. Things with an id may stand in another
// order, which is that of the blocks in the text; so may what a worst pattern
// lights, which is a set. The solver adds up in the order of the blocks, so that numbers
// are equal to twelve digits only.
func differences(at string, a, b any) []string {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok {
			break
		}
		var d []string
		for k, v := range a {
			if w, ok := b[k]; ok {
				d = append(d, differences(at+"."+k, v, w)...)
			} else {
				d = append(d, at+"."+k+" is only in the first")
			}
		}
		for k := range b {
			if _, ok := a[k]; !ok {
				d = append(d, at+"."+k+" is only in the second")
			}
		}
		slices.Sort(d)
		return d
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			break
		}
		if !strings.HasSuffix(at, ".spans") {
			a, b = inOrder(a), inOrder(b)
		}
		var d []string
		for i := range a {
			d = append(d, differences(fmt.Sprintf("%s[%s]", at, idOf(a[i], i)), a[i], b[i])...)
		}
		return d
	case float64:
		if b, ok := b.(float64); ok && math.Abs(a-b) <= 1e-12*max(1, math.Abs(a)) {
			return nil
		}
	}
	if a == b {
		return nil
	}
	return []string{fmt.Sprintf("%s is %v and %v", at, a, b)}
}

// onSafeSide holds that in no case under the ceilings a run has less than the bound over every
// pattern says, nor a lead more, whatever the order of the blocks.
func onSafeSide(t *testing.T, name, plan string) {
	t.Helper()
	type figures struct {
		Name  string
		Leads []struct {
			ID   string
			Amps float64
		}
		Runs []struct {
			ID  string
			Min float64 `json:"min_volts"`
		}
	}
	var shown struct {
		Cases []figures
		Any   figures
	}
	asJSON(t, "show", plan, &shown)
	least, most := map[string]float64{}, map[string]float64{}
	for _, r := range shown.Any.Runs {
		least[r.ID] = r.Min
	}
	for _, l := range shown.Any.Leads {
		most[l.ID] = l.Amps
	}
	if len(least) == 0 || len(most) == 0 {
		t.Errorf("%s has no bound", name)
	}
	for _, c := range shown.Cases {
		if c.Name == "full" { // which leaves the ceilings out
			continue
		}
		for _, r := range c.Runs {
			if r.Min < least[r.ID]-1e-9*r.Min {
				t.Errorf("%s, %s: %s has %.9g V, and over every pattern at least %.9g V", name, c.Name, r.ID, r.Min, least[r.ID])
			}
		}
		for _, l := range c.Leads {
			if amps := math.Abs(l.Amps); amps > most[l.ID]+1e-9*amps {
				t.Errorf("%s, %s: %s carries %.9g A, and over every pattern at most %.9g A", name, c.Name, l.ID, amps, most[l.ID])
			}
		}
	}
}

func inOrder(list []any) []any {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b any) int { return strings.Compare(idOf(a, 0), idOf(b, 0)) })
	return list
}

// idOf is what tells a thing of a list from its fellows, or else its place.
func idOf(v any, i int) string {
	switch v := v.(type) {
	case string:
		return v
	case map[string]any:
		for _, k := range []string{"id", "name", "run"} {
			if id, ok := v[k].(string); ok {
				return id
			}
		}
	}
	return fmt.Sprint(i)
}

func bodyOf(t *testing.T, plan string) *hclsyntax.Body {
	t.Helper()
	f, diags := hclsyntax.ParseConfig([]byte(plan), "plan.ohm.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return f.Body.(*hclsyntax.Body)
}

// backwards puts the last block of a plan first.
func backwards(t *testing.T, plan string) string {
	t.Helper()
	var blocks []string
	for _, b := range bodyOf(t, plan).Blocks {
		blocks = append(blocks, string(b.Range().SliceBytes([]byte(plan))))
	}
	slices.Reverse(blocks)
	return strings.Join(blocks, "\n\n") + "\n"
}

// amount is how much a plan says. Blank lines and comments do not count, nor
// coordinates: lists of two lengths. Entries of a map count as elements.
type amount struct{ lines, attributes, blocks, elements int }

func (s amount) sum() int { return s.attributes + s.blocks + s.elements }

func (s amount) row(name string) string {
	return fmt.Sprintf("%-12s %6d %10d %6d %13d %5d", name, s.lines, s.attributes, s.blocks, s.elements, s.sum())
}

func count(t *testing.T, plan string) (s amount) {
	t.Helper()
	tokens, diags := hclsyntax.LexConfig([]byte(plan), "plan.ohm.hcl", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	last := 0
	for _, k := range tokens {
		silent := k.Type == hclsyntax.TokenComment || k.Type == hclsyntax.TokenNewline || k.Type == hclsyntax.TokenEOF
		if !silent && k.Range.Start.Line > last {
			last = k.Range.Start.Line
			s.lines++
		}
	}
	hclsyntax.VisitAll(bodyOf(t, plan), func(n hclsyntax.Node) hcl.Diagnostics {
		switch n := n.(type) {
		case *hclsyntax.Attribute:
			s.attributes++
		case *hclsyntax.Block:
			s.blocks++
		case *hclsyntax.ObjectConsExpr:
			s.elements += len(n.Items)
		case *hclsyntax.TupleConsExpr:
			if isPlace(n) {
				break
			}
			for _, e := range n.Exprs {
				if !isPlace(e) {
					s.elements++
				}
			}
		}
		return nil
	})
	return s
}

// isPlace tells a list of two lengths.
func isPlace(e hclsyntax.Expression) bool {
	l, ok := e.(*hclsyntax.TupleConsExpr)
	return ok && len(l.Exprs) == 2 && isLength(l.Exprs[0]) && isLength(l.Exprs[1])
}

var lengthText = regexp.MustCompile(`^-?[0-9.]+ ?(m|cm|mm|in|ft|yd|km)$`)

// isLength tells what is written where a length belongs: a text, a named value,
// or a calculation with these.
func isLength(e hclsyntax.Expression) bool {
	switch e := e.(type) {
	case *hclsyntax.TemplateExpr:
		v, _ := e.Value(nil)
		return e.IsStringLiteral() && lengthText.MatchString(v.AsString())
	case *hclsyntax.ScopeTraversalExpr:
		return e.Traversal.RootName() == "let"
	case *hclsyntax.FunctionCallExpr:
		return len(e.Args) > 0 && isLength(e.Args[0])
	}
	return false
}

func TestCountSaid(t *testing.T) {
	got := count(t, `# A comment.

plan "p" {
  title = "P" # and another
}

let { gap = "3 cm" }

supply "s" { input = ["120 V", "230 V"] }

run "a" {
  shift   = [scale(let.gap, 2), "-0.5 in"]
  through = [["1 m", "2 m"], [let.gap, "0 m"]]
  path {
    line { to = ["0 cm", "1 m"] }
  }
}

order "o" { runs = [in_turn(run.a-all, run.b-all), from_end(run.c)] }

case "c" {
  channels = {
    R = "20 %"
    W = "80 %"
  }
}
`)
	want := amount{lines: 19, attributes: 8, blocks: 8, elements: 6}
	if got != want {
		t.Errorf("counted %+v, want %+v", got, want)
	}
}

// nested is an assembly in another one, fed and threaded as a whole.
const nested = `plan "panes" { mains = "120 V" }

strip "s" { like = catalog.ws2815_12v_60 }

surface "wall" {
  width  = "20 ft"
  height = "8 ft"
}

usual "run" "joint" "supply" "controller" "lead" {
  strip = strip.s
  on    = surface.wall
  wire  = catalog.awg_18
}

supply "a" {
  output = "12 V"
  rating = "30 A"
  at     = ["4 in", "4 in"]
}

controller "c" {
  board         = catalog.esp32_devkit
  input_voltage = "12 V"
  at            = ["8 in", "4 in"]
  port "p" { pin = 4 }
}

assembly "bay" {
  times = 3
  shift = ["60 in", "0 in"]
  at    = ["20 in", "20 in"]
  joint "hub" { at = ["20 in", "-4 in"] }
  assembly "pane" {
    rows      = 2
    row_shift = ["0 in", "14 in"]
    times     = 3
    shift     = ["15 in", "0 in"]
    run "edge" { through = [["0 in", "0 in"], ["10 in", "0 in"]] }
  }
  feed "panes" {
    from = joint.hub
    to   = run.all
    fuse = "3 A"
  }
}

feed "hubs" {
  from = supply.a.out
  to   = joint.bay-hub-all
  fuse = "15 A"
}

chain "line" {
  from = controller.c.port.p
  runs = assembly.bay
  wire = catalog.awg_22
}
`

// One number of an assembly that is another one is told in one line, whatever it does to how many blocks.
func TestShortFormsCompared(t *testing.T) {
	rings := readPlan(t, "rings")
	for _, c := range []struct{ plan, was, is, want string }{
		{rings, "times     = 10", "times     = 9", "assembly.ring: times 10 → 9"},
		{rings, "rows      = 4", "rows      = 3", "assembly.ring: rows 4 → 3"},
		{rings, `row_shift = ["640 cm"`, `row_shift = ["630 cm"`, "assembly.ring: row_shift [640 cm, 0 cm] → [630 cm, 0 cm]"},
		{rings, `shift     = ["60 cm"`, `shift     = ["61 cm"`, "assembly.ring: shift [60 cm, 0 cm] → [61 cm, 0 cm]"},
		{nested, "    times     = 3", "    times     = 2", "assembly.bay-pane: times 3 → 2"},
		{nested, "    rows      = 2", "    rows      = 3", "assembly.bay-pane: rows 2 → 3"},
		{nested, `shift     = ["15 in"`, `shift     = ["16 in"`, "assembly.bay-pane: shift [15 in, 0 in] → [16 in, 0 in]"},
		{nested, "  times = 3\n  shift = [\"60", "  times = 2\n  shift = [\"60", "assembly.bay: times 3 → 2"},
		{nested, `["20 in", "20 in"]`, `["20 in", "21 in"]`, "assembly.bay: at [20 in, 20 in] → [20 in, 21 in]"},
	} {
		var dirs []string
		for _, text := range []string{c.plan, replaceOnce(t, c.plan, [2]string{c.was, c.is})} {
			dir := t.TempDir()
			if err := os.WriteFile(filepath.Join(dir, "plan.ohm.hcl"), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			dirs = append(dirs, dir)
		}
		var out, errs strings.Builder
		run([]string{"compare", dirs[0], dirs[1], "--format", "json", "--fail-on", "never"}, strings.NewReader(""), &out, &errs)
		var compared struct {
			Plans []struct {
				Blocks []struct {
					ID         string
					Attributes []struct{ Name, Was, Is string }
				}
			}
		}
		if err := json.Unmarshal([]byte(out.String()), &compared); err != nil || len(compared.Plans) != 1 {
			t.Fatalf("%v: %s%s", err, out.String(), errs.String())
		}
		var told []string
		for _, b := range compared.Plans[0].Blocks {
			for _, a := range b.Attributes {
				told = append(told, fmt.Sprintf("%s: %s %s → %s", b.ID, a.Name, a.Was, a.Is))
			}
			if len(b.Attributes) == 0 {
				told = append(told, b.ID)
			}
		}
		if !slices.Equal(told, []string{c.want}) {
			t.Errorf("%s → %s is told as %q, want %q", c.was, c.is, told, c.want)
		}
	}
}
