package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/compare"
	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/report"
)

// comparing is one run of the compare command.
type comparing struct {
	*globals
	cmd       *cobra.Command
	rev       string
	formats   []string
	threshold string
	failOn    string
}

var (
	compareForms = []string{"text", "markdown", "json", "html"}
	failChanges  = []string{"new-error", "new-warning", "any-change", "never"}
)

func newCompare(g *globals) *cobra.Command {
	c := &comparing{globals: g}
	cmd := &cobra.Command{
		Use:   "compare BASE HEAD | compare --rev A..B [PATH...]",
		Short: "Say what a change to plans does on the wall",
		Long: `Compare says what changed between two versions of plans: blocks, voltages,
currents, findings, what has to be bought, and which pixels have other numbers.
It compares meaning, not text: "6 in" and "152.4 mm" are the same.

BASE and HEAD are directories. With --rev both versions are read from the git
repository; the working tree is not touched. A..B compares two revisions, A...B
what B changed since it left A. Plans of which nothing changed, neither their
files nor their stock, are not worked out.

A rule against fire or shock that is newly silenced counts as a new error, whether
by a comment or by a new entry of a baseline that lies in the repository.

Exit code: 0 nothing that --fail-on asks for, 1 something, 2 it could not be done.`,
		Example: `  ohmstead compare plans/porch-old plans/porch
  ohmstead compare --rev HEAD~1..HEAD
  ohmstead compare --rev main...change plans --format markdown:comment.md --fail-on new-warning`,
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			c.cmd = cmd
			return c.run(args)
		},
	}
	f := cmd.Flags()
	f.StringVar(&c.rev, "rev", "", "compare two git revisions, A..B or A...B")
	f.StringArrayVar(&c.formats, "format", []string{"text"}, "text, markdown, json or html; FORMAT:FILE writes to a file; may be repeated")
	f.StringVar(&c.threshold, "threshold", "1 %", "least move of a figure that is told, as a share: of the nominal voltage, of a supply's rating, else of the figure itself")
	f.StringVar(&c.failOn, "fail-on", "new-error", "what makes the exit code 1: new-error, new-warning, any-change or never")
	complete(cmd, "format", compareForms)
	complete(cmd, "fail-on", failChanges)
	return cmd
}

func (c *comparing) run(args []string) error {
	sinks, err := readSinks(c.formats, compareForms)
	if err != nil {
		return err
	}
	share, err := quantity.ParseFor(quantity.Share, c.threshold)
	if err != nil || share.SI < 0 || share.SI > 1 {
		return fmt.Errorf("--threshold is %q; it takes a share from 0 %% to 100 %%, such as \"1 %%\"", c.threshold)
	}
	if !slices.Contains(failChanges, c.failOn) {
		return fmt.Errorf("--fail-on is %q; it takes %s", c.failOn, strings.Join(failChanges, ", "))
	}
	ctx, cancel := context.WithCancel(c.cmd.Context())
	defer cancel()
	var v *versions
	switch {
	case c.rev != "":
		v, err = c.revisions(ctx, args)
	case len(args) == 2:
		v, err = c.directories(args[0], args[1])
	default:
		err = errors.New("compare takes two directories, or --rev A..B; see ohmstead compare --help")
	}
	if err != nil {
		return err
	}
	defer v.close()
	report, failed := c.compare(ctx, v, share.SI)
	if ctx.Err() != nil {
		return failed
	}
	for _, s := range sinks {
		if err := writeComparison(s, c.cmd.OutOrStdout(), report); err != nil {
			return fmt.Errorf("--format %s: %w", s.form, err)
		}
	}
	if failed != nil {
		return failed
	}
	if c.fails(report) {
		return errFindings
	}
	return nil
}

// compare compares every pair of plans of which something changed. One that cannot
// be compared costs its own paragraph, which comes first, and is an error.
func (c *comparing) compare(ctx context.Context, v *versions, threshold float64) (*compare.Report, error) {
	out := &compare.Report{Base: v.baseName, Head: v.headName, Version: version(), Threshold: threshold, Total: v.total}
	plans := make([]*compare.Plan, len(v.pairs))
	solved := make([]int, len(v.pairs))
	progress := newProgress(c.cmd.ErrOrStderr(), len(v.pairs), "plans")
	errs := each(v.pairs, progress.step, func(i int, p planPair) (err error) {
		plans[i], solved[i], err = comparePair(ctx, v, p, threshold)
		return err
	})
	progress.end()
	for i, p := range plans {
		out.Solved += solved[i]
		switch pair := v.pairs[i]; {
		case errs[i] != nil:
			out.Plans = append(out.Plans, compare.Failed(pair.key, errs[i]))
		case p != nil:
			p.Shares = v.shares[pair.key]
			if pair.moved && pair.base != "" && pair.head != "" {
				p.Moved = pair.base
			}
			out.Plans = append(out.Plans, p)
		case pair.moved:
			out.Moved = append(out.Moved, compare.Moved{Was: pair.base, Is: pair.head})
		}
	}
	out.Baselines = v.baselines
	errs = append(errs, shareDrawers(v, out))
	out.Arrange()
	return out, errors.Join(errs...)
}

// comparePair compares two versions of one plan; "" stands for one that is not
// there. solved is how many of them had to be worked out.
func comparePair(ctx context.Context, v *versions, p planPair, threshold float64) (out *compare.Plan, solved int, err error) {
	defer func() {
		if r := recover(); r != nil {
			out, err = nil, fmt.Errorf("%s: the program failed on this plan, which is a mistake in it: %v\n%s", p.key, r, debug.Stack())
		}
	}()
	defer v.forget(p)
	memo := figures.NewMemo() // of both: what did not change is not solved again
	if p.base != "" && p.head != "" {
		same, err := v.unchanged(p)
		if err != nil || same {
			return nil, 0, err
		}
	}
	side := func(w *workspace.Workspace, dir string) (*compare.Side, error) {
		if dir == "" {
			return nil, nil
		}
		solved++
		plan, fig, verdict, err := judgeVersion(ctx, w, dir, memo)
		if err != nil {
			return nil, err
		}
		return &compare.Side{Plan: plan, Figures: fig, Findings: verdict.Findings, Hidden: verdict.Hidden}, nil
	}
	base, err := side(v.base, p.base)
	if err != nil {
		return nil, solved, err
	}
	head, err := side(v.head, p.head)
	if err != nil {
		return nil, solved, err
	}
	out = compare.Plans(base, head, threshold)
	out.Dir = p.key
	return out, solved, nil
}

func (c *comparing) fails(r *compare.Report) bool {
	least := lint.Error
	switch c.failOn {
	case "never":
		return false
	case "any-change":
		return len(r.Plans) > 0
	case "new-warning":
		least = lint.Warning
	}
	for _, b := range r.Baselines {
		if slices.ContainsFunc(b.New, func(e compare.Entry) bool { return e.Guard }) {
			return true
		}
	}
	for _, p := range r.Plans {
		for _, s := range p.Silenced.New {
			if s.Guard {
				return true
			}
		}
		for _, f := range p.Findings.New {
			if l, ok := lint.LevelNamed(f.Level); ok && l >= least {
				return true
			}
		}
	}
	return false
}

func writeComparison(s sink, out io.Writer, r *compare.Report) error {
	to := map[string]func(io.Writer, *compare.Report) error{
		"text": compare.Text, "markdown": compare.Markdown, "json": compare.JSON, "html": compare.HTML,
	}[s.form]
	if s.file == "" {
		return to(report.Out(out, s.form), r)
	}
	var b strings.Builder
	if err := to(report.Out(&b, s.form), r); err != nil {
		return err
	}
	if s.form == "text" { // which is kept; the other forms say it themselves
		fmt.Fprintf(&b, "\nohmstead %s\n", r.Version)
	}
	return wholefile.Write(s.file, []byte(b.String()))
}
