package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/cobra"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint"
	"ohmstead/lint/remedy"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

func newFix(g *globals) *cobra.Command {
	f := &fixing{}
	var onlyDiff bool
	cmd := &cobra.Command{
		Use:   "fix [PATH...]",
		Short: "Apply the fixes that findings offer",
		Long: `Fix writes rightly what has one sensible meaning, judges the plan again, and goes
on until nothing is left to apply. What costs money, moves something or is a
guess is a choice: --choose RULE applies the first one that each finding of the
rule offers; look at it with --diff first. A fix that states what only a look at
the wall can settle is never applied; editors offer it.

Every fix was tried before: its finding is gone then, no error or warning has come,
and nothing that can burn is nearer to it. What is written rightly may show what
could not be judged before.

Without PATH it writes only where the current directory is a plan or lies in a
repository, and never into another repository; --diff may be asked for anywhere.`,
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, name := range f.rules {
				if _, ok := lint.RuleNamed(rules.All, name); !ok {
					return fmt.Errorf("--choose %s: there is no such rule; ohmstead explain lists them", name)
				}
			}
			if f.any {
				fmt.Fprintln(cmd.ErrOrStderr(), "ohmstead: --unsafe applies the choices of every rule; --choose RULE applies those of one")
			}
			if !onlyDiff {
				var err error
				if args, err = toWrite(args); err != nil {
					return err
				}
			}
			return f.run(cmd, g, orHere(args), onlyDiff)
		},
	}
	cmd.Flags().StringSliceVar(&f.rules, "choose", nil, "also apply the choices that findings of this rule offer; may be repeated")
	cmd.Flags().BoolVar(&f.any, "unsafe", false, "also apply the choices of every rule")
	cmd.Flags().BoolVar(&onlyDiff, "diff", false, "write nothing; print the changes as a unified diff")
	return cmd
}

// fixing applies fixes to texts that are kept in memory until all is well.
type fixing struct {
	rules   []string // whose choices are applied
	any     bool     // those of every rule
	w       *workspace.Workspace
	texts   map[string][]byte // of the changed files, by path below the root
	applied []string          // what was done, for people
	left    int               // findings that remain
}

func (f *fixing) run(cmd *cobra.Command, g *globals, args []string, onlyDiff bool) error {
	w, err := g.open(args)
	if err != nil {
		return err
	}
	plans, err := w.Find(args)
	if err != nil && len(plans) == 0 {
		return err
	}
	errs := []error{err}
	f.w, f.texts = w, map[string][]byte{}
	for _, dir := range plans {
		errs = append(errs, f.plan(cmd.Context(), dir))
	}
	names := slices.Sorted(maps.Keys(f.texts))
	if onlyDiff {
		for _, name := range names {
			errs = append(errs, f.diff(cmd.OutOrStdout(), w, name))
		}
		return errors.Join(errs...)
	}
	within, err := borderOf(args)
	if err != nil {
		return err
	}
	for _, name := range names {
		file := filepath.Join(w.Root, filepath.FromSlash(name))
		if err := within.crossed(file); err != nil {
			errs = append(errs, err)
			continue
		}
		errs = append(errs, wholefile.Write(file, f.texts[name]))
	}
	var told strings.Builder
	for _, a := range f.applied {
		fmt.Fprintln(&told, terminal.Printable(a))
	}
	fmt.Fprintf(&told, "%d fixed in %s, %s left\n", len(f.applied), quantity.Count(len(names), "file"), quantity.Count(f.left, "finding"))
	_, err = io.WriteString(cmd.OutOrStdout(), told.String())
	return errors.Join(append(errs, err)...)
}

func (f *fixing) diff(out io.Writer, before *workspace.Workspace, name string) error {
	old := before.File(name).Text.Bytes()
	_, err := out.Write(diff.Diff("a/"+name, old, "b/"+name, f.texts[name]))
	return err
}

// mostRounds bounds how often a plan is judged again: fixes that undo each
// other would go on for ever.
const mostRounds = 100

// plan fixes one plan.
func (f *fixing) plan(ctx context.Context, dir string) error {
	hopeless := map[string]bool{}
	for range mostRounds {
		plan, fig, v, err := decodeAndJudge(ctx, f.w, dir)
		if err != nil {
			return err
		}
		found := v.Findings
		if slices.ContainsFunc(found, func(x lint.Finding) bool { return x.Rule == lint.RuleFailed }) {
			f.left += len(found)
			return fmt.Errorf("%s: a rule failed, so nothing says whether a fix is harmless; ohmstead check tells which", dir)
		}
		trials := remedy.New(plan, fig, found, rules.All)
		edits, done, err := f.notation(ctx, plan, found, trials)
		if err == nil && len(done) == 0 {
			edits, done, err = f.choice(ctx, plan, found, trials, hopeless)
		}
		if err != nil {
			return err
		}
		if len(done) == 0 {
			f.left += len(found)
			return nil
		}
		texts, err := plan.Edited(edits)
		if err != nil {
			return fmt.Errorf("%s: %w", dir, err)
		}
		next := maps.Clone(f.texts)
		maps.Copy(next, texts)
		w := f.w.With(next)
		after, err := w.Decode(dir)
		if err != nil {
			return err
		}
		if broken(after) > broken(plan) {
			f.left += len(found)
			return fmt.Errorf("%s: the fixes would break the text, which is a mistake in this program; they are not applied", dir)
		}
		f.w, f.texts = w, next
		f.applied = append(f.applied, done...)
	}
	_, _, v, err := decodeAndJudge(ctx, f.w, dir)
	f.left += len(v.Findings)
	return err
}

// notation picks for each finding its first fix that says the same thing
// rightly, if it changes nothing that others do.
func (f *fixing) notation(ctx context.Context, plan *schema.Plan, found []lint.Finding, trials *remedy.Trials) (edits []lint.Edit, done []string, err error) {
	for i := range found {
		if !slices.ContainsFunc(found[i].Fixes, func(x lint.Fix) bool { return x.Grade == schema.GradeNotation }) {
			continue
		}
		fixes, err := trials.For(ctx, i)
		if err != nil {
			return nil, nil, err
		}
		for _, x := range fixes {
			if x.Grade == schema.GradeNotation && !touch(edits, x.Edits) {
				edits = append(edits, x.Edits...)
				done = append(done, f.did(plan, &found[i], x))
				break
			}
		}
	}
	return edits, done, nil
}

// choice picks the first choice that is to be applied: one at a time, as it
// decides what the next one does.
func (f *fixing) choice(ctx context.Context, plan *schema.Plan, found []lint.Finding, trials *remedy.Trials, hopeless map[string]bool) (edits []lint.Edit, done []string, err error) {
	for i := range found {
		x := &found[i]
		which := x.Rule + " " + x.Subject + " " + x.Message
		if !f.any && !slices.Contains(f.rules, x.Rule) || hopeless[which] {
			continue
		}
		fixes, err := trials.For(ctx, i)
		if err != nil {
			return nil, nil, err
		}
		if k := slices.IndexFunc(fixes, func(x lint.Fix) bool { return x.Grade != schema.GradeFact }); k >= 0 {
			return fixes[k].Edits, []string{f.did(plan, x, fixes[k])}, nil
		}
		hopeless[which] = true
	}
	return nil, nil, nil
}

// did says for people what a fix does.
func (f *fixing) did(plan *schema.Plan, of *lint.Finding, fix lint.Fix) string {
	place := report.Resolve(plan, []lint.Finding{*of}).Findings[0].Place
	line, _ := place.From()
	return fmt.Sprintf("%s:%d: %s [%s]", f.w.Shown(place.Path()), line, fix.Title, of.Rule)
}

// touch reports whether edits change what others change, or insert where they
// do: which comes first would be a guess.
func touch(others, edits []lint.Edit) bool {
	for _, e := range edits {
		for _, o := range others {
			if e.At.Piece == o.At.Piece && e.At.Start <= o.At.End && o.At.Start <= e.At.End {
				return true
			}
		}
	}
	return false
}

// broken counts the problems of a plan's syntax.
func broken(p *schema.Plan) int {
	n := 0
	for _, x := range p.Problems {
		if x.Rule == schema.RuleSyntax || x.Rule == schema.RuleTooLarge {
			n++
		}
	}
	return n
}
