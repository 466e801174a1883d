package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/shown"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/report"
	"ohmstead/schema"
)

func newShow(g *globals) *cobra.Command {
	var format string
	var cases []string
	var pixels bool
	cmd := &cobra.Command{
		Use:   "show [PATH]",
		Short: "Show what was worked out: voltages, currents, pixels, addresses",
		Example: `  ohmstead show plans/porch
  ohmstead show plans/porch --case held
  ohmstead show plans/porch --format json --pixels`,
		Args:              arguments(0, 1, "PATH"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if format != "text" && format != "json" {
				return fmt.Errorf("--format is %q; it takes text or json", format)
			}
			w, dir, err := g.one(orHere(args)[0])
			if err != nil {
				return err
			}
			_, fig, v, err := decodeAndJudge(cmd.Context(), w, dir)
			if err != nil {
				return err
			}
			p := shown.Of(fig, len(v.Findings), pixels)
			if err := chooseCases(p, cases); err != nil {
				return err
			}
			if broken(fig.Plan) > 0 {
				fmt.Fprintln(cmd.ErrOrStderr(), "ohmstead: parts of the plan could not be read and are left out; ohmstead check says where")
			}
			if format == "json" {
				e := json.NewEncoder(report.Out(cmd.OutOrStdout(), format))
				e.SetEscapeHTML(false)
				e.SetIndent("", "  ")
				return e.Encode(p)
			}
			return p.Text(report.Out(cmd.OutOrStdout(), format))
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "text or json")
	cmd.Flags().StringArrayVar(&cases, "case", nil, "show only this load case; may be repeated")
	cmd.Flags().BoolVar(&pixels, "pixels", false, "also the voltage of every pixel")
	complete(cmd, "format", []string{"text", "json"})
	complete(cmd, "case", []string{schema.Full, schema.Held})
	return cmd
}

// one finds the one plan that a path stands for.
func (g *globals) one(path string) (*workspace.Workspace, string, error) {
	w, err := g.open([]string{path})
	if err != nil {
		return nil, "", err
	}
	plans, err := w.Find([]string{path})
	switch {
	case err != nil:
		return nil, "", err
	case len(plans) > 1:
		var names []string
		for _, p := range plans[:min(3, len(plans))] {
			names = append(names, w.Shown(p))
		}
		return nil, "", fmt.Errorf("%s holds %d plans, such as %s; name one of them", path, len(plans), strings.Join(names, ", "))
	}
	return w, plans[0], nil
}

func chooseCases(p *shown.Plan, names []string) error {
	if len(names) == 0 {
		return nil
	}
	var have []string
	for _, c := range p.Cases {
		have = append(have, c.Name)
	}
	for _, n := range names {
		if !slices.Contains(have, n) {
			return fmt.Errorf("the plan has no case %q; it has %s", n, strings.Join(have, ", "))
		}
	}
	p.Cases = slices.DeleteFunc(p.Cases, func(c shown.Case) bool { return !slices.Contains(names, c.Name) })
	return nil
}
