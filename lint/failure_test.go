package lint_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// shelfPlan is a plan with something to fix: its second run.
const shelfPlan = "plan \"shelf\" {}\nrun \"a\" { length = \"1 m\" }\nrun \"b\" { length = \"2 m\" }\n"

func decoded(text string) *schema.Plan {
	return schema.Decode("shelf", []*source.File{source.Parse(source.NewText("shelf/plan.ohm.hcl", []byte(text)))}, nil)
}

// each reports every run, with a fix.
var each = &lint.Rule{Name: "each", Level: lint.Warning, Check: func(p *lint.Pass) {
	for _, r := range p.Plan.Runs {
		p.Report(lint.Finding{Subject: r.ID(), At: r.Head(), Message: r.ID(), Fixes: []lint.Fix{{Title: "Remove it", Edits: []lint.Edit{{At: r.Node.Whole}}}}})
	}
}}

// failing finds one thing and then fails.
func failing(guard bool) *lint.Rule {
	return &lint.Rule{Name: "hasty", Level: lint.Warning, Guard: guard, Check: func(p *lint.Pass) {
		p.Report(lint.Finding{Subject: "run.a", Message: "half a finding"})
		_ = p.Plan.Runs[len(p.Plan.Runs)]
	}}
}

// A rule that fails costs its own findings, says so, and can be silenced by
// nothing; after a guard rule nothing is offered for fixing.
func TestRuleFails(t *testing.T) {
	const silencing = "policy { off = [\"rule-failed\", \"hasty\"] }\n"
	for _, test := range []struct {
		name  string
		text  string
		guard bool
		fixes int
	}{
		{"a rule", shelfPlan, false, 1},
		{"a guard rule", shelfPlan, true, 0},
		{"a guard rule that a policy would silence", shelfPlan + silencing, true, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			plan := decoded(test.text)
			page := &lint.Rule{Name: lint.RuleFailed, Level: lint.Error}
			found, err := lint.Run(t.Context(), plan, worked(t, plan), []*lint.Rule{failing(test.guard), each, page})
			if err != nil {
				t.Fatal(err)
			}
			var told, others int
			for _, f := range found.Findings {
				switch f.Rule {
				case lint.RuleFailed:
					told++
					if f.Level != lint.Error || !strings.HasPrefix(f.Message, "hasty failed on this plan") || !strings.Contains(f.Message, "index out of range [2] with length 2 in failure_test.go:") {
						t.Errorf("%s: %s", f.Level, f.Message)
					}
				case "each":
					others++
					if len(f.Fixes) != test.fixes {
						t.Errorf("%s has %d fixes, want %d", f.Message, len(f.Fixes), test.fixes)
					}
				case "hasty":
					t.Errorf("half of its work is reported: %s", f.Message)
				}
			}
			if told != 1 || others != 2 {
				t.Errorf("told %d times, and %d of the others' 2 findings", told, others)
			}
		})
	}
}

// A judgement that nobody waits for any more ends before the next rule.
func TestRunEndsWithContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	looked := 0
	stopping := &lint.Rule{Name: "stopping", Check: func(*lint.Pass) { looked++; cancel() }}
	plan := decoded(shelfPlan)
	found, err := lint.Run(ctx, plan, worked(t, plan), []*lint.Rule{stopping, stopping, each})
	if !errors.Is(err, context.Canceled) || found.Findings != nil || looked != 1 {
		t.Errorf("%d findings, %v, after %d looks", len(found.Findings), err, looked)
	}
}

func worked(t *testing.T, plan *schema.Plan) *figures.Figures {
	t.Helper()
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	return fig
}
