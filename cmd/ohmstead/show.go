package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/shown"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/figures"
	"ohmstead/lint/limits"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
	"ohmstead/schema"
)

func newShow(g *globals) *cobra.Command {
	var format string
	var cases, at []string
	var pixels, limited bool
	cmd := &cobra.Command{
		Use:   "show [PATH]",
		Short: "Show what was worked out: voltages, currents, pixels, addresses",
		Long: `Show prints what was worked out of a plan.

With --limits it reads the plan the other way round: how long each lead may be with its
wire and how thin its wire at its length, between which ratings its fuse, how long a run,
how small a supply, how high a ceiling, how warm the air, how bright all of it, before
anything is found that is not found today or anything gets worse. One value is changed at
a time, in steps that a maker would use (a centimetre or an inch, a tenth of an ampere, a
size of a table, a cut of the strip), and the plan is judged by all rules. What is told is
the first step that does not pass. Ctrl-C ends it and gives what it has.`,
		Example: `  ohmstead show plans/porch
  ohmstead show plans/porch --case held
  ohmstead show plans/porch --format json --pixels
  ohmstead show plans/porch --limits
  ohmstead show plans/porch --limits --at lead.left --at controller.brain.ceiling`,
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
			if len(at) > 0 && !limited {
				return errors.New("--at says whose limits are wanted; write --limits too")
			}
			_, fig, v, err := decodeAndJudge(cmd.Context(), w, dir)
			if err != nil {
				return err
			}
			if limited {
				return showLimits(cmd, fig, at, format)
			}
			p := shown.Of(fig, len(v.Findings), pixels)
			if err := chooseCases(p, cases); err != nil {
				return err
			}
			if broken(fig.Plan) > 0 {
				fmt.Fprintln(cmd.ErrOrStderr(), "ohmstead: parts of the plan could not be read and are left out; ohmstead check says where")
			}
			return out(cmd, p, format)
		},
	}
	cmd.Flags().StringVar(&format, "format", "text", "text or json")
	cmd.Flags().StringArrayVar(&cases, "case", nil, "show only this load case; may be repeated")
	cmd.Flags().BoolVar(&pixels, "pixels", false, "also the voltage of every pixel")
	cmd.Flags().BoolVar(&limited, "limits", false, "how far each value may go before anything is found")
	cmd.Flags().StringArrayVar(&at, "at", nil, "only the limits of this block or value, such as run.a or lead.a.length; may be repeated")
	cmd.MarkFlagsMutuallyExclusive("limits", "case")
	cmd.MarkFlagsMutuallyExclusive("limits", "pixels")
	complete(cmd, "format", []string{"text", "json"})
	complete(cmd, "case", []string{schema.Full, schema.Held})
	return cmd
}

// texter is what show prints: as JSON, or as text.
type texter interface{ Text(io.Writer) error }

func out(cmd *cobra.Command, p texter, format string) error {
	w := report.Out(cmd.OutOrStdout(), format)
	if format != "json" {
		return p.Text(w)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(p)
}

// showLimits works out how far values may go.
func showLimits(cmd *cobra.Command, fig *figures.Figures, at []string, format string) error {
	if broken(fig.Plan) > 0 {
		return errors.New("parts of the plan could not be read; ohmstead check says where")
	}
	l := limits.New(fig.Plan, fig, rules.All)
	var knobs []*limits.Knob
	for _, a := range at {
		is := l.Knobs(a)
		if len(is) == 0 {
			return fmt.Errorf("--at %s: %s", a, noLimit(fig, a))
		}
		knobs = append(knobs, is...)
	}
	if len(at) == 0 {
		knobs = l.Knobs("")
	}
	ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt)
	defer stop()
	progress := newProgress(cmd.ErrOrStderr(), len(knobs), "values")
	var found []*limits.Limit
	for _, k := range knobs {
		is, err := l.Find(ctx, k)
		if err != nil && (cmd.Context().Err() != nil || ctx.Err() == nil) {
			progress.end()
			return err
		}
		if err != nil {
			break
		}
		found = append(found, is)
		progress.step()
	}
	progress.end()
	return out(cmd, shown.LimitsOf(fig.Plan.Name(), found, len(knobs)-len(found)), format)
}

// noLimit says why there is no limit of something.
func noLimit(fig *figures.Figures, at string) string {
	for _, r := range fig.Runs {
		if at == r.ID() || strings.HasPrefix(at, r.ID()+".") {
			return "its length follows from its drawing, or is not known"
		}
	}
	return "limits are told of the plan, cases, supplies, controllers with pixels, runs, leads and signals, and of their lengths, wires, fuses, ratings, ceilings and copies"
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
