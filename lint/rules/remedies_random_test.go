package rules

import (
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/lint"
	"ohmstead/lint/layout"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
)

// How much the random tests try; a thousand broken plans are for the night.
var (
	variants    = thorough.Or(30, 3)
	brokenPlans = flag.Int("broken", thorough.Or(150, 12), "how many random broken plans are tried")
)

// tally counts what came of trying fixes.
type tally struct{ plans, findings, offered, refused, lies int }

// tryAll applies every fix that the findings of a text offer as text, works
// the outcome out from nothing and says what is not as promised.
func (c *tally) tryAll(t *testing.T, name, text string) {
	t.Helper()
	b := benchOf(t, text)
	before := stateOf(t, text)
	_, err := layout.Format([]byte(text))
	laid := err == nil
	c.plans++
	for i := range b.found {
		f := &b.found[i]
		if aboutText(f) {
			continue // what a mended statement says could not be judged before
		}
		c.findings++
		proposed := len(f.Fixes)
		if f.Propose != nil {
			for _, list := range f.Propose() {
				proposed += len(list)
			}
		}
		fixes := b.fixes(t, i)
		c.offered += len(fixes)
		c.refused += proposed - len(fixes)
		var titles []string
		for _, x := range fixes {
			titles = append(titles, x.Title)
		}
		if where := dimsTooSoon(titles); where != "" {
			t.Errorf("%s of %s: %s", f.Rule, f.Subject, where)
		}
		for _, x := range fixes {
			texts, err := b.plan.Edited(x.Edits)
			if err != nil {
				t.Errorf("%s: %s: %v", name, x.Title, err)
				continue
			}
			now := string(texts["demo/plan.ohm.hcl"])
			lies := untrue(before, stateOf(t, now), f, sharers(before.plan, f.Subject))
			if out, err := layout.Format([]byte(now)); laid && (err != nil || string(out) != now) {
				lies = append(lies, "leaves text that is not laid out")
			}
			if len(lies) > 0 {
				c.lies++
				t.Errorf("%s: %s: %q %s\n%s", name, f.Message, x.Title, strings.Join(lies, ", "), text)
			}
		}
	}
}

var written = regexp.MustCompile(`(fuse|gauge|rating|ceiling|length|pin)( *= )("[^"]*"|\d+)`)

var others = map[string][]string{
	"fuse":    {`"1 A"`, `"2 A"`, `"3 A"`, `"6 A"`, `"7.5 A"`, `"10 A"`, `"20 A"`},
	"gauge":   {`"26 AWG"`, `"22 AWG"`, `"20 AWG"`, `"18 AWG"`, `"16 AWG"`},
	"rating":  {`"2 A"`, `"4 A"`, `"8 A"`, `"12 A"`},
	"ceiling": {`"1 A"`, `"9 A"`, `"30 A"`},
	"length":  {`"60 cm"`, `"2.4 m"`, `"4 m"`, `"9 m"`},
	"pin":     {"0", "5", "34", "16"},
}

// broken is a text with some of its values replaced.
func broken(r *rand.Rand, text string, faults int) string {
	for range faults {
		all := written.FindAllStringSubmatchIndex(text, -1)
		m := all[r.IntN(len(all))]
		list := others[text[m[2]:m[3]]]
		text = text[:m[6]] + list[r.IntN(len(list))] + text[m[7]:]
	}
	return text
}

// shared writes leads that say the same as an earlier one as like it, and adds
// a group of copies.
func shared(t *testing.T, text string) string {
	t.Helper()
	p := decode(text)
	var edits []schema.Edit
	var first *schema.Lead
	for _, l := range p.Leads {
		switch {
		case l.Copy > 0 || l.Like != nil:
			continue
		case first == nil:
			first = l
			continue
		}
		var keep []string
		same := 0
		for _, a := range l.Node.Assigns {
			if b, ok := first.Node.Assign(a.Name); ok && string(a.Val.At.Bytes()) == string(b.Val.At.Bytes()) {
				same++
				continue
			}
			keep = append(keep, string(a.Whole.Bytes()))
		}
		if covered := !slices.ContainsFunc(first.Node.Assigns, func(a *schema.Assign) bool { _, ok := l.Node.Assign(a.Name); return !ok }); same > 0 && covered {
			edits = append(edits, schema.Edit{At: l.Node.Inside, New: "\n  like = " + first.ID() + "\n  " + strings.Join(keep, "\n  ") + "\n"})
		}
	}
	texts, err := p.Edited(edits)
	if err != nil {
		t.Fatal(err)
	}
	if len(edits) > 0 {
		text = string(texts["demo/plan.ohm.hcl"])
	}
	text += fmt.Sprintf(`
run "extra" {
  times  = 3
  strip  = %s
  length = "80 cm"
}

lead "extra" {
  times  = 3
  from   = %s.out
  to     = run.extra-each.start
  wire   = %s
  length = "50 cm"
  fuse   = "3 A"
}

lead "extra-too" {
  times  = 3
  like   = lead.extra-each
  to     = run.extra-each.end
  length = "1.5 m"
}
`, p.Strips[0].ID(), p.Supplies[0].ID(), p.Wires[0].ID())
	out, err := layout.Format([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// Every remedy that is offered in the demo plans, written with like and times
// and with faults planted in them, does as text what it promises for all that
// share the text.
func TestRemediesOfSharedText(t *testing.T) {
	var c tally
	r := rand.New(rand.NewPCG(7, 3))
	plans := demoPlans(t)
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		text := shared(t, plans[name])
		for i := range variants {
			c.tryAll(t, fmt.Sprintf("%s, variant %d", name, i), broken(r, text, 1+r.IntN(3)))
		}
	}
	t.Logf("%d plans with %d findings: %d fixes offered, %d refused, %d untrue", c.plans, c.findings, c.offered, c.refused, c.lies)
	if c.offered < 2*c.plans {
		t.Errorf("only %d fixes were offered in %d plans", c.offered, c.plans)
	}
}

// No remedy of a random broken plan leaves its finding, adds one or raises a
// margin; and the levels of findings alone would not tell, as the proposals
// that they pass show.
func TestRemediesOfBrokenPlans(t *testing.T) {
	var c tally
	r := rand.New(rand.NewPCG(5, 11))
	blind := 0
	for i := range *brokenPlans {
		text := bigplan.Random(r)
		c.tryAll(t, fmt.Sprintf("plan %d", i), text)
		if i < max(10, *brokenPlans/4) {
			blind += blindly(t, text)
		}
	}
	t.Logf("%d plans with %d findings: %d fixes offered, %d refused, %d untrue; by levels alone %d that raise a margin would have been offered in some of the plans",
		c.plans, c.findings, c.offered, c.refused, c.lies, blind)
	if c.offered < c.plans || blind == 0 {
		t.Errorf("%d fixes offered, %d told by margins alone", c.offered, blind)
	}
}

// blindly counts the proposals that add no finding and raise a margin.
func blindly(t *testing.T, text string) int {
	b := benchOf(t, text)
	before := stateOf(t, text)
	n := 0
	for i := range b.found {
		if b.found[i].Propose == nil {
			continue
		}
		for _, list := range b.found[i].Propose() {
			for _, p := range list {
				texts, err := b.plan.Edited(p.Edits)
				if err != nil {
					t.Fatal(err)
				}
				after := stateOf(t, string(texts["demo/plan.ohm.hcl"]))
				if len(untrue(before, after, &b.found[i], nil)) == len(raised(before, after)) && len(raised(before, after)) > 0 {
					n++
				}
			}
		}
	}
	return n
}

// aboutText reports whether a finding is about the text alone.
func aboutText(f *lint.Finding) bool {
	i := slices.IndexFunc(All, func(r *lint.Rule) bool { return r.Name == f.Rule })
	return i < 0 || !All[i].Silenceable()
}

// misspelt plants slips of notation in a text that say the same thing: decimal
// commas, names without their kind, missing brackets, and comments that silence
// nothing.
func misspelt(r *rand.Rand, text string) string {
	for _, slip := range []struct{ right, wrong string }{
		{`"(\d+)\.(\d+) (m|A|mm2)"`, `"$1,$2 $3"`},
		{`= (wire|strip)\.([\w-]+)`, `= $2`},
		{`\["230 V"\]`, `"230 V"`},
		{`(?m)^lead `, "# ohmstead: allow bend-tight because it once was\nlead "},
	} {
		re := regexp.MustCompile(slip.right)
		text = re.ReplaceAllStringFunc(text, func(s string) string {
			if r.IntN(3) > 0 {
				return s
			}
			return re.ReplaceAllString(s, slip.wrong)
		})
	}
	return text
}

// notationOf gathers all fixes of grade notation of a text that do not touch
// each other, as they are applied together.
func notationOf(t *testing.T, b *bench) (edits []schema.Edit, rules map[string]int) {
	t.Helper()
	rules = map[string]int{}
	for i := range b.found {
		for _, x := range b.fixes(t, i) {
			if x.Grade != schema.GradeNotation || slices.ContainsFunc(x.Edits, func(e schema.Edit) bool {
				return slices.ContainsFunc(edits, func(o schema.Edit) bool {
					return e.At.Piece == o.At.Piece && e.At.Start <= o.At.End && o.At.Start <= e.At.End
				})
			}) {
				continue
			}
			edits = append(edits, x.Edits...)
			rules[b.found[i].Rule]++
			break
		}
	}
	return edits, rules
}

// All fixes of grade notation, applied together until none is left, say the
// same thing rightly: of plans with slips planted in them nothing is left of
// these, and what is found and every margin are those of the plan before.
func TestNotationTogether(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	fixed := map[string]int{}
	for i := range *brokenPlans {
		right := bigplan.Random(r)
		text := misspelt(r, right)
		before := stateOf(t, right)
		for range 10 {
			b := benchOf(t, text)
			edits, rules := notationOf(t, b)
			if len(edits) == 0 {
				break
			}
			for rule, n := range rules {
				fixed[rule] += n
			}
			texts, err := b.plan.Edited(edits)
			if err != nil {
				t.Fatalf("plan %d: %v\n%s", i, err, text)
			}
			text = string(texts["demo/plan.ohm.hcl"])
		}
		after := stateOf(t, text)
		lies := raised(before, after)
		for k, n := range after.count {
			if n > before.count[k] || after.level[k] > before.level[k] {
				lies = append(lies, fmt.Sprintf("leaves or adds %s of %s", k[0], k[1]))
			}
		}
		if !maps.Equal(before.count, after.count) || !maps.Equal(before.margins, after.margins) {
			lies = append(lies, "says something else")
		}
		if len(lies) > 0 {
			t.Errorf("plan %d: %s\n%s", i, strings.Join(lies, ", "), text)
		}
	}
	t.Logf("fixed together in %d plans: %v", *brokenPlans, fixed)
	for _, rule := range []string{"value-kind", "reference-unknown", "allow-unused"} {
		if fixed[rule] < *brokenPlans/2 {
			t.Errorf("%s was fixed %d times in %d plans", rule, fixed[rule], *brokenPlans)
		}
	}
}
