package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/remedy"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
	"ohmstead/lint/terminal"
)

// checking is one run of the check command.
type checking struct {
	*globals
	cmd           *cobra.Command
	formats       []string
	failOn        string
	baseline      string
	writeBaseline bool
	statistics    bool
	staged        bool
	since         string
	stdinPath     string
}

var failLevels = []string{"error", "warning", "hint", "never"}

func newCheck(g *globals) *cobra.Command {
	c := &checking{globals: g}
	cmd := &cobra.Command{
		Use:   "check [PATH... | -]",
		Short: "Judge plans and say what will not work, and why",
		Long: `Check judges plans. A directory stands for its plan or, when it has no *.ohm.hcl
files, for all plans below it; a file for the plan that it belongs to; and a
directory with nothing but parts for the plans that use them.

Comments that begin with "# ?" are open questions: they are listed and counted, and
change no exit code. Take one out when it is answered.

With --since, a rule against fire or shock that is newly silenced, by a comment or
by an entry of the --baseline, counts as a finding.

Exit code: 0 nothing at or above --fail-on, 1 findings, 2 something could not be done.`,
		Example: `  ohmstead check
  ohmstead check plans/porch --fail-on warning
  ohmstead check --format text --format sarif:report.sarif
  ohmstead check --staged`,
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			c.cmd = cmd
			return c.run(args)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&c.formats, "format", []string{"text"}, "text, json, sarif, junit, github or gitlab; FORMAT:FILE writes to a file; may be repeated")
	f.StringVar(&c.failOn, "fail-on", "error", "lowest level that makes the exit code 1: error, warning, hint or never")
	f.StringVar(&c.baseline, "baseline", "", "file of known findings, which are left out")
	f.BoolVar(&c.writeBaseline, "write-baseline", false, "write all findings to the --baseline file instead of reporting them")
	f.BoolVar(&c.statistics, "statistics", false, "also count the findings of each rule")
	f.BoolVar(&c.staged, "staged", false, "judge what is staged in git, not the working tree; without PATH the plans that the commit touches")
	f.StringVar(&c.since, "since", "", "report only findings that are new since this git revision; plans that did not change are left out")
	f.StringVar(&c.stdinPath, "stdin-path", "", "where the text that \"-\" reads from the standard input belongs; that file itself is not read")
	complete(cmd, "format", forms)
	complete(cmd, "fail-on", failLevels)
	return cmd
}

func (c *checking) run(args []string) error {
	sinks, err := readSinks(c.formats, forms)
	if err != nil {
		return err
	}
	failOn, ok := lint.LevelNamed(c.failOn)
	if c.failOn == "never" {
		failOn, ok = lint.Off, true
	} else if failOn == lint.Off {
		ok = false
	}
	if !ok {
		return fmt.Errorf("--fail-on is %q; it takes error, warning, hint or never", c.failOn)
	}
	if c.writeBaseline && c.baseline == "" {
		return errors.New("--write-baseline needs --baseline FILE to say where")
	}
	known, err := c.readBaseline()
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(c.cmd.Context())
	defer cancel()
	trees, err := c.trees(ctx, args)
	if err != nil {
		return err
	}
	defer trees.close()

	if trees.then != nil && c.baseline != "" && !c.writeBaseline {
		if trees.knownThen, err = trees.baselineThen(c.baseline); err != nil {
			return err
		}
	}
	trees.known = known
	run, failed := c.judgeAll(ctx, trees)
	run.FailOn = failOn
	switch {
	case c.writeBaseline && failed:
		return errors.New("the baseline is not written, because not everything could be read")
	case c.writeBaseline:
		return c.saveBaseline(run, known)
	}
	if err := c.report(run, sinks, report.Style{Color: c.colored(c.cmd.OutOrStdout()), Path: trees.now.Shown}); err != nil {
		return err
	}
	switch {
	case failed:
		return errors.New("not everything could be checked")
	case run.Failures() > 0:
		return errFindings
	}
	return nil
}

// judgeAll judges every plan. What cannot be read is told, and the rest goes on.
func (c *checking) judgeAll(ctx context.Context, t *trees) (run *report.Run, failed bool) {
	dirs := t.plans
	var pairs []planPair
	if t.then != nil {
		var err error
		if pairs, err = t.since(c.staged); err != nil {
			complain(c.cmd.ErrOrStderr(), err)
			return report.NewRun(nil, rules.All), true
		}
		dirs = nil
		for _, p := range pairs {
			dirs = append(dirs, p.head)
		}
	}
	plans := make([]*report.Plan, len(dirs))
	before := make([]*report.Plan, len(dirs))
	policies := make([][]string, len(dirs))
	p := newProgress(c.cmd.ErrOrStderr(), len(dirs), "plans")
	errs := each(dirs, p.step, func(i int, dir string) error {
		memo := figures.NewMemo() // of before and now: what did not change is not solved again
		plan, fig, v, err := judgeVersion(ctx, t.now, dir, memo)
		if fig != nil && t.then != nil {
			old, said, failed := t.before(ctx, pairs[i], plan, memo)
			if failed != nil {
				return failed
			}
			before[i], policies[i] = old, said
		}
		if fig != nil {
			tried, failed := remedy.New(plan, fig, v.Findings, rules.All).All(ctx)
			if failed != nil {
				return failed
			}
			plans[i] = report.Resolve(plan, tried)
			plans[i].Hide(plan, v.Hidden)
			plans[i].Lacks(plan, lint.UnjudgedIn(plan, fig))
		}
		return err
	})
	p.end()
	failed = t.failed
	run = report.NewRun(present(plans), rules.All)
	for _, err := range errs {
		if err != nil {
			failed = true
			run.Missed++
			complain(c.cmd.ErrOrStderr(), err)
		}
	}
	failed = failed || run.Failed()
	if t.known != nil && !c.writeBaseline {
		for _, k := range t.known.Apply(run, c.baseline, t.now.IsPlan) {
			fmt.Fprintln(c.cmd.ErrOrStderr(), terminal.Printable(fmt.Sprintf("%s: dead entry: %s %s %s: %s", c.baseline, k.Plan, k.Rule, k.Subject, k.Message)))
		}
	}
	if t.then != nil {
		was := report.NewRun(present(before), rules.All)
		if t.knownThen != nil {
			t.knownThen.Apply(was, c.baseline, t.then.IsPlan)
		}
		run.KeepNew(was)
		for i, said := range policies {
			for _, s := range said {
				run.Policies = append(run.Policies, report.Policy{Plan: dirs[i], Text: s})
			}
		}
	}
	return run, failed
}

func present(in []*report.Plan) []*report.Plan {
	var out []*report.Plan
	for _, p := range in {
		if p != nil {
			out = append(out, p)
		}
	}
	return out
}

// report writes the run to every sink. People get a summary even when no text
// goes to the standard output.
func (c *checking) report(run *report.Run, sinks []sink, style report.Style) error {
	text := false
	run.Version = version()
	for _, s := range sinks {
		text = text || s.form == "text" && s.file == ""
		if err := s.write(c.cmd.OutOrStdout(), run, style); err != nil {
			return fmt.Errorf("--format %s: %w", s.form, err)
		}
	}
	people := c.cmd.ErrOrStderr()
	if text {
		people = c.cmd.OutOrStdout()
	} else {
		fmt.Fprintln(people, run.Summary())
	}
	if c.statistics {
		return report.Statistics(people, run)
	}
	return nil
}

func (c *checking) readBaseline() (*report.Baseline, error) {
	if c.baseline == "" {
		return nil, nil
	}
	data, err := os.ReadFile(c.baseline)
	switch {
	case errors.Is(err, fs.ErrNotExist) && c.writeBaseline:
		return nil, nil
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no baseline %s; --write-baseline makes one", c.baseline)
	case err != nil:
		return nil, err
	}
	b, err := report.ReadBaseline(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.baseline, err)
	}
	return b, nil
}

func (c *checking) saveBaseline(run *report.Run, old *report.Baseline) error {
	b := report.NewBaseline(run, old)
	var text bytes.Buffer
	if err := b.Write(&text); err != nil {
		return err
	}
	if err := wholefile.Write(c.baseline, text.Bytes()); err != nil {
		return err
	}
	_, err := fmt.Fprintf(c.cmd.OutOrStdout(), "%s: %d findings are known from now on\n", terminal.Printable(c.baseline), len(b.Known))
	return err
}
