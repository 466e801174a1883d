package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/cobra"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/report"
	"ohmstead/lint/rules"
	"ohmstead/schema"
)

func newFix(g *globals) *cobra.Command {
	f := &fixing{}
	var onlyDiff bool
	cmd := &cobra.Command{
		Use:   "fix [PATH...]",
		Short: "Apply the fixes that findings offer",
		Long: `Fix applies the fixes that have only one sensible outcome, judges the plan again,
and goes on until nothing is left to apply. With --unsafe it also applies those
that may change what you meant: look at them with --diff first.`,
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			return f.run(cmd, g, orHere(args), onlyDiff)
		},
	}
	cmd.Flags().BoolVar(&f.unsafe, "unsafe", false, "also apply fixes that may change the meaning")
	cmd.Flags().BoolVar(&onlyDiff, "diff", false, "write nothing; print the changes as a unified diff")
	return cmd
}

// fixing applies fixes to texts that are kept in memory until all is well.
type fixing struct {
	unsafe  bool
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
	for _, name := range names {
		errs = append(errs, wholefile.Write(filepath.Join(w.Root, filepath.FromSlash(name)), f.texts[name]))
	}
	for _, a := range f.applied {
		fmt.Fprintln(cmd.OutOrStdout(), a)
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%d fixed in %s, %s left\n", len(f.applied), quantity.Count(len(names), "file"), quantity.Count(f.left, "finding"))
	return errors.Join(errs...)
}

func (f *fixing) diff(out io.Writer, before *workspace.Workspace, name string) error {
	old := before.File(name).Text.Bytes()
	_, err := out.Write(diff.Diff("a/"+name, old, "b/"+name, f.texts[name]))
	return err
}

// mostRounds bounds how often a plan is judged again: fixes that undo each
// other would go on for ever.
const mostRounds = 10

// plan fixes one plan.
func (f *fixing) plan(ctx context.Context, dir string) error {
	for range mostRounds {
		plan, _, found, err := decodeAndJudge(ctx, f.w, dir)
		if err != nil {
			return err
		}
		run := report.NewRun([]*report.Plan{report.Resolve(plan, found)}, rules.All)
		if run.Failed() {
			f.left += len(found)
			return fmt.Errorf("%s: a rule failed, so nothing says whether a fix is harmless; ohmstead check tells which", dir)
		}
		edits, done := f.choose(run)
		if len(done) == 0 {
			f.left += len(found)
			return nil
		}
		next := maps.Clone(f.texts)
		for name, es := range edits {
			next[name] = apply(es)
		}
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
	_, _, found, err := decodeAndJudge(ctx, f.w, dir)
	f.left += len(found)
	return err
}

// choose picks for each finding its first fix that may be applied and whose
// edits touch none that were picked before.
func (f *fixing) choose(run *report.Run) (edits map[string][]report.Change, done []string) {
	edits = map[string][]report.Change{}
	for found := range run.All {
		for _, r := range found.Repairs {
			if !r.Safe && !f.unsafe || touches(edits, r) {
				continue
			}
			for _, e := range r.Edits {
				edits[e.Path()] = append(edits[e.Path()], e)
			}
			line, _ := found.Place.From()
			done = append(done, fmt.Sprintf("%s:%d: %s [%s]", f.w.Shown(found.Place.Path()), line, r.Title, found.Rule))
			break
		}
	}
	return edits, done
}

// touches reports whether a fix changes what others change, or inserts where
// they do: which comes first would be a guess.
func touches(edits map[string][]report.Change, r report.Repair) bool {
	for i, e := range r.Edits {
		for _, o := range slices.Concat(edits[e.Path()], sameFile(r.Edits[:i], e)) {
			if e.Start < o.End && o.Start < e.End || e.Start == o.Start || e.Start == o.End && e.Start == e.End || o.Start == e.End && o.Start == o.End {
				return true
			}
		}
	}
	return false
}

func sameFile(edits []report.Change, e report.Change) []report.Change {
	var out []report.Change
	for _, o := range edits {
		if o.Path() == e.Path() {
			out = append(out, o)
		}
	}
	return out
}

// apply carries out edits of one file that do not overlap.
func apply(edits []report.Change) []byte {
	slices.SortFunc(edits, func(a, b report.Change) int { return a.Start - b.Start })
	old := edits[0].Text.Bytes()
	var b bytes.Buffer
	at := 0
	for _, e := range edits {
		b.Write(old[at:e.Start])
		b.WriteString(e.New)
		at = e.End
	}
	b.Write(old[at:])
	return b.Bytes()
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
