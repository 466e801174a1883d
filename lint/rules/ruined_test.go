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
	"ohmstead/schema/bigplan"
)

var ruinedPlans = flag.Int("ruined", thorough.Or(80, 2), "how many ruined plans are to get remedies; 500 take some minutes")

// ruined is a random plan with what makers forget: wire that is too thin, fuses
// left out, long runs, a single feed, a ceiling that holds nothing.
func ruined(t *testing.T, r *rand.Rand) string {
	t.Helper()
	text := bigplan.Random(r)
	for range 1 + r.IntN(3) {
		switch r.IntN(6) {
		case 0:
			text = oneOfThem(r, text, `gauge = "[^"]*"`, `gauge = "28 AWG"`)
		case 1:
			text = oneOfThem(r, text, `  fuse   = "[^"]*"\n`, "")
		case 2:
			text = oneOfThem(r, text, `strip\.led\n  length = "[^"]*"`, "strip.led\n  length = \"5 m\"")
		case 3:
			text = oneOfThem(r, text, `(?s)lead "r\d-far" \{.*?\n\}\n`, "")
		case 4:
			text = oneOfThem(r, text, `ceiling = "[^"]*"`, `ceiling = "60 A"`)
		default:
			text = broken(r, text, 1)
		}
	}
	if r.IntN(3) == 0 {
		last := decode(text).Runs
		text = shared(t, text) + fmt.Sprintf(`
signal "extra" {
  from   = run.%s.end
  to     = run.extra-1.start
  wire   = wire.w0
  length = "30 cm"
}

signal "extra-on" {
  times  = 2
  from   = run.extra-each.end
  to     = run.extra-next.start
  wire   = wire.w0
  length = "30 cm"
}
`, last[len(last)-1].Name)
	}
	return text
}

// oneOfThem replaces one of the places that a pattern finds in a text.
func oneOfThem(r *rand.Rand, text, pattern, by string) string {
	all := regexp.MustCompile(pattern).FindAllStringIndex(text, -1)
	if len(all) == 0 {
		return text
	}
	m := all[r.IntN(len(all))]
	return text[:m[0]] + by + text[m[1]:]
}

// helped counts, by rule, the errors and warnings of ruined plans and those that get a remedy which does as text what it promises.
func helped(t *testing.T, plans int) (found, with map[string]int, untrueOnes int) {
	found, with = map[string]int{}, map[string]int{}
	r := rand.New(rand.NewPCG(12, 500))
	for n := range plans {
		text := ruined(t, r)
		b := benchOf(t, text)
		before := stateOf(t, text)
		for i := range b.found {
			f := &b.found[i]
			if aboutText(f) || f.Level < lint.Warning || f.Rule == "data-lead-long" { // which power does not clear
				continue
			}
			found[f.Rule]++
			fixes := b.fixes(t, i)
			if len(fixes) > 0 {
				with[f.Rule]++
			} else if testing.Verbose() {
				t.Logf("plan %d: nothing for %s [%s]", n, f.Message, f.Rule)
			}
			for _, x := range fixes {
				texts, err := b.plan.Edited(x.Edits)
				if err != nil {
					t.Fatalf("plan %d: %s: %v", n, x.Title, err)
				}
				if lies := untrue(before, stateOf(t, string(texts["demo/plan.ohm.hcl"])), f, sharers(before.plan, f.Subject)); len(lies) > 0 {
					untrueOnes++
					t.Errorf("plan %d: %s: %q %s\n%s", n, f.Message, x.Title, strings.Join(lies, ", "), text)
				}
			}
		}
	}
	return found, with, untrueOnes
}

// Nearly all errors and warnings that sizes can clear get a remedy, whatever
// the rule, and every one of them is true.
func TestRuinedPlansGetRemedies(t *testing.T) {
	found, with, lies := helped(t, *ruinedPlans)
	all, helpedAll := 0, 0
	for _, rule := range slices.Sorted(maps.Keys(found)) {
		all, helpedAll = all+found[rule], helpedAll+with[rule]
		t.Logf("%-24s %4d found, %4d with a remedy, %3d %%", rule, found[rule], with[rule], 100*with[rule]/found[rule])
	}
	t.Logf("%-24s %4d found, %4d with a remedy, %3d %%, %d untrue", "in all", all, helpedAll, 100*helpedAll/all, lies)
	least := 90
	if all < 200 {
		least = 75 // a few plans tell little
	}
	if 100*helpedAll < least*all {
		t.Errorf("only %d of %d get a remedy", helpedAll, all)
	}
	for rule, n := range found {
		if n >= 20 && 4*with[rule] < 3*n { // of fewer one more or less is chance
			t.Errorf("only %d of %d of %s get a remedy", with[rule], n, rule)
		}
	}
}
