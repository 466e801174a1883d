package report

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/remedy"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// RulePage writes what there is to say of a rule as Markdown, with its two
// examples and what the rules really say of them. The heading has the given
// number of # signs.
func RulePage(r *lint.Rule, rules []*lint.Rule, heading int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s\n\n", strings.Repeat("#", heading), r.Name)
	fmt.Fprintf(&b, "*%s.* Level: %s.%s\n\n", r.Title, r.Level, guarded(r))
	part := func(title, text string) {
		if text != "" {
			fmt.Fprintf(&b, "**%s**\n\n%s\n\n", title, text)
		}
	}
	part("Why", r.Why)
	part("How it is worked out", r.Formula)
	part("What to do", r.Do)
	part("Why nothing is offered", r.NoFix)
	if r.Bad != nil {
		part("A plan that fails", fence("hcl", r.Bad())+"\n\n"+fence("text", exampleOutput(r, rules)))
	}
	if r.Good != nil {
		part("The same plan mended", fence("diff", changes(r.Bad(), r.Good())))
	}
	if len(r.Sources) > 0 {
		part("Sources", "- "+strings.Join(r.Sources, "\n- "))
	}
	return strings.TrimRight(b.String(), "\n") + "\n"
}

func guarded(r *lint.Rule) string {
	if r.Guard {
		return " It guards against fire or shock: a policy cannot switch it off."
	}
	return ""
}

func fence(language, text string) string {
	return "```" + language + "\n" + strings.TrimRight(text, "\n") + "\n```"
}

// exampleOutput judges a rule's failing example and shows what that rule finds.
func exampleOutput(r *lint.Rule, rules []*lint.Rule) string {
	plan := schema.Decode("example", []*source.File{source.Parse(source.NewText("example/plan.ohm.hcl", []byte(r.Bad())))}, nil)
	fig, err := figures.Work(context.Background(), plan, nil)
	if err != nil {
		return err.Error() // the context does not end
	}
	v, err := lint.Run(context.Background(), plan, fig, rules)
	if err != nil {
		return err.Error() // the context does not end
	}
	found, err := remedy.New(plan, fig, v.Findings, rules).All(context.Background())
	if err != nil {
		return err.Error() // the context does not end
	}
	run := NewRun([]*Plan{Resolve(plan, found)}, rules)
	run.Keep(func(f *Finding) bool { return f.Rule == r.Name })
	var b bytes.Buffer
	run.Known = 0
	if err := Text(&b, run, Style{}); err != nil {
		return err.Error() // a buffer takes everything
	}
	out, _, _ := strings.Cut(b.String(), "\n1 plan: ")
	return out
}

// RuleIndex lists the rules as a Markdown table with links to their pages.
func RuleIndex(rules []*lint.Rule) string {
	var b strings.Builder
	b.WriteString("| rule | level | what is wrong |\n| --- | --- | --- |\n")
	for _, r := range rules {
		level := r.Level.String()
		if r.Guard {
			level += ", guard"
		}
		fmt.Fprintf(&b, "| [%s](#%s) | %s | %s |\n", r.Name, r.Name, level, r.Title)
	}
	return b.String()
}
