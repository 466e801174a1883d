package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
	"ohmstead/lint/report"
	"ohmstead/schema"
)

var listForms = []string{"text", "csv", "json"}

// sharing works out, as far as lengths and counts go, the other plans that take parts from the stock of one.
func sharing(w *workspace.Workspace, plan *schema.Plan) ([]*figures.Figures, error) {
	if len(plan.StockDirs) == 0 {
		return nil, nil
	}
	dirs, err := w.Users(plan.StockDirs...)
	var out []*figures.Figures
	for _, d := range dirs {
		if d == plan.Dir {
			continue
		}
		other, failed := w.Decode(d)
		if err = errors.Join(err, failed); failed == nil {
			out = append(out, figures.Prepare(other, figures.NewMemo()))
		}
	}
	return out, err
}

func newList(g *globals) *cobra.Command {
	var format string
	var names []string
	var about strings.Builder
	for _, l := range lists.All {
		names = append(names, l.Name)
		fmt.Fprintf(&about, "  %-10s  %s\n", l.Name, l.Doc)
	}
	cmd := &cobra.Command{
		Use:   "list NAME [PATH]",
		Short: "Write a list to take along: " + strings.Join(names, ", "),
		Long:  "Writes a list of a plan as text, CSV or JSON:\n\n" + about.String(),
		Example: `  ohmstead list shopping plans/porch
  ohmstead list labels plans/porch --format csv > labels.csv
  ohmstead list pixels plans/porch --format json`,
		Args: arguments(1, 2, "the NAME of a list and a PATH"),
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return names, cobra.ShellCompDirectiveNoFileComp
			}
			return planFiles(cmd, args, typed)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if !slices.Contains(listForms, format) {
				return fmt.Errorf("--format is %q; it takes %s", format, strings.Join(listForms, ", "))
			}
			i := slices.Index(names, args[0])
			if i < 0 {
				return fmt.Errorf("there is no list %q; there are %s", args[0], strings.Join(names, ", "))
			}
			w, dir, err := g.one(orHere(args[1:])[0])
			if err != nil {
				return err
			}
			plan, err := w.Decode(dir)
			if err != nil {
				return err
			}
			fig, err := figures.Work(cmd.Context(), plan, nil)
			if err != nil {
				return err
			}
			if broken(plan) > 0 {
				fmt.Fprintln(cmd.ErrOrStderr(), "ohmstead: parts of the plan could not be read and are left out; ohmstead check says where")
			}
			others, err := sharing(w, plan)
			if err != nil {
				return err
			}
			t := lists.All[i].Of(fig, others...)
			out := report.Out(cmd.OutOrStdout(), format)
			switch format {
			case "json":
				return t.JSON(out)
			case "csv":
				return t.CSV(out)
			}
			return t.Text(out)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", strings.Join(listForms, ", "))
	complete(cmd, "format", listForms)
	return cmd
}
