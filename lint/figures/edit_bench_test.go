package figures

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/bigplan"
)

// edits are what is changed in the plan of walls, one value after the other.
var edits = []struct {
	name, at string // the first place where at stands, with the value to change as its group
	value    func(i int) string
}{
	{"a lead in a small part", `lead "w1-2-1-start" {[^}]*length = "([^"]*)"`, func(i int) string { return fmt.Sprint(80+i, " cm") }},
	{"a lead in the largest part", `lead "w1-1-1-start" {[^}]*length = "([^"]*)"`, func(i int) string { return fmt.Sprint(80+i, " cm") }},
	{"a run's length", `run "w1-2-2" {[^}]*through   = \[\["([^"]*)"`, func(i int) string { return fmt.Sprint(300+5*i, " cm") }},
	{"the strip", `channel_current = "([^"]*)"`, func(i int) string { return fmt.Sprint(15+0.01*float64(i), " mA") }},
	{"the ceiling", `ceiling = "([^"]*)"`, func(i int) string { return fmt.Sprint(75+i, " A") }},
	{"the ambient temperature", `ambient = "([^"]*)"`, func(i int) string { return fmt.Sprint(30+0.1*float64(i), " degC") }},
	{"a tie added", `()\z`, func(i int) string {
		return fmt.Sprintf("lead \"more\" {\n  from    = supply.w1-2.out\n  to      = supply.w1-%d.out\n  wire    = wire.tie\n  carries = \"minus\"\n  length  = \"2 m\"\n}\n", 3+i%4)
	}},
}

// BenchmarkEdit is what an edit of a plan made like walls costs, the text read
// already.
func BenchmarkEdit(b *testing.B) {
	const versions = 5 // more than a memo remembers
	for _, walls := range []int{1, 10} {
		text := bigplan.Wall(walls)
		for _, edit := range edits {
			b.Run(fmt.Sprintf("%d pixels/%s", walls*bigplan.WallPixels, edit.name), func(b *testing.B) {
				at := regexp.MustCompile(edit.at).FindStringSubmatchIndex(text)
				var plans []*schema.Plan
				for i := range versions {
					plans = append(plans, decode(b, "x", strings.Join([]string{text[:at[2]], edit.value(i), text[at[3]:]}, "")))
				}
				memo := NewMemo()
				figuresOf(b, plans[versions-1], memo)
				i := 0
				for b.Loop() {
					figuresOf(b, plans[i%versions], memo)
					i++
				}
				b.ReportMetric(1e3*b.Elapsed().Seconds()/float64(b.N), "ms")
			})
		}
	}
}
