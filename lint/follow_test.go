package lint

import (
	"slices"
	"testing"
)

func TestFindingsFollowTheirCause(t *testing.T) {
	rules := byName([]*Rule{
		{Name: "wrong-volts", Level: Error},
		{Name: "low", Level: Warning, Follows: []string{"wrong-volts"}},
		{Name: "hot", Level: Error, Guard: true, Follows: []string{"wrong-volts"}},
	})
	fixes := []Fix{{Title: "Mend it"}}
	got := followCauses(rules, []Finding{
		{Rule: "low", Subject: "run.a", Message: "run.a is low; mend it", Fixes: fixes},
		{Rule: "wrong-volts", Subject: "run.a", Message: "run.a gets 12 V"},
		{Rule: "low", Subject: "controller.c", Message: "run.a, which controller.c drives, is low", Fixes: fixes},
		{Rule: "low", Subject: "run.a-2", Message: "run.a-2 is low", Fixes: fixes},
		{Rule: "hot", Subject: "run.a", Message: "run.a is hot", Fixes: fixes},
		{Rule: "low", Subject: "run.b", Message: "run.b is low", Fixes: fixes},
	})
	var told []string
	for _, f := range got {
		line := f.Rule + " " + f.Subject
		for _, r := range f.Related {
			line += "; " + r.Message
		}
		if len(f.Fixes) > 0 {
			line += " (fix)"
		}
		told = append(told, line)
	}
	want := []string{
		"wrong-volts run.a; follows from it: run.a is low; follows from it: run.a, which controller.c drives, is low",
		"low run.a-2 (fix)",
		"hot run.a; mend wrong-volts first",
		"low run.b (fix)",
	}
	if !slices.Equal(told, want) {
		t.Errorf("%q, want %q", told, want)
	}
}
