package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/lint/figures"
	"ohmstead/lint/lists"
)

var listForms = []string{"text", "csv", "json"}

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
		Example: `  ohmstead list wires plans/porch
  ohmstead list labels plans/porch --format csv > labels.csv
  ohmstead list pixels plans/porch --format json`,
		Args: cobra.RangeArgs(1, 2),
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
			t := lists.All[i].Of(fig)
			switch format {
			case "json":
				return t.JSON(cmd.OutOrStdout())
			case "csv":
				return t.CSV(cmd.OutOrStdout())
			}
			return t.Text(cmd.OutOrStdout())
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", strings.Join(listForms, ", "))
	complete(cmd, "format", listForms)
	return cmd
}
