package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"ohmstead/lint"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

func newExplain(g *globals) *cobra.Command {
	return &cobra.Command{
		Use:   "explain [RULE]",
		Short: "Explain a rule, or list all rules",
		Args:  arguments(0, 1, "RULE"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var out []string
			for _, r := range rules.All {
				out = append(out, r.Name+"\t"+r.Title)
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listRules(cmd.OutOrStdout())
			}
			r, err := findRule(args[0])
			if err != nil {
				return err
			}
			_, err = io.WriteString(cmd.OutOrStdout(), terminal.Plain(report.RulePage(r, rules.All, 1), report.Style{Color: g.colored(cmd.OutOrStdout())}.Bold))
			return err
		},
	}
}

func listRules(w io.Writer) error {
	wide := 0
	for _, r := range rules.All {
		wide = max(wide, len(r.Name))
	}
	for _, r := range rules.All {
		if _, err := fmt.Fprintf(w, "%-*s  %-7s  %s\n", wide, r.Name, r.Level, r.Title); err != nil {
			return err
		}
	}
	return nil
}

func findRule(name string) (*lint.Rule, error) {
	if r, ok := lint.RuleNamed(rules.All, name); ok {
		return r, nil
	}
	var names []string
	for _, r := range rules.All {
		names = append(names, r.Name)
	}
	hint := "; ohmstead explain lists them"
	if best, ok := schema.Nearest(name, names); ok {
		hint = fmt.Sprintf("; did you mean %q?", best)
	}
	return nil, fmt.Errorf("there is no rule %q%s", name, hint)
}
