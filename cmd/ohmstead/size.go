package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/cobra"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/remedy"
	"ohmstead/lint/rules"
	"ohmstead/lint/sizing"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

func newSize(g *globals) *cobra.Command {
	var opt sizing.Options
	var write, choices bool
	cmd := &cobra.Command{
		Use:   "size PLAN",
		Short: "Find the cheapest gauges, fuses and feeds with which a plan passes",
		Long: `Size looks for the cheapest change of gauges, fuses, feed points, supplies and joints
with which a plan has no error and no warning about them left, over every pattern
that the ceilings allow. It prints the change as a unified diff, and what it costs
before and after: the wire, and the supplies and holders that say a price, where every
wire of the plan has a price by the reel in one currency, else the copper and the number
of parts.

Where it can go through all choices it says that nothing is cheaper, else how much
less the cheapest could cost. A lead that is new has an estimated length: measure
before cutting. It silences nothing, fits no fuse above what its wire carries, and
keeps the pluses of supplies apart. A lead that gets another wire gets a fuse where a
fault in it is fed with more than a usual wire of its load carries, even if thick wire
without a fuse were cheaper; a lead that the plan has without a fuse stays so if it
passes. It is a proposal: check it against the code in force where the work is done.

A plan that has runs and no leads gets a first draft: a supply, a controller, a lead
with its fuse to the start of each run (over a joint where they are many) and a line of
data through them. A draft that passes is given as it is; run size again for thinner
wire. What the plan says of supply and controller is used.

Ctrl-C ends the search and gives the best found so far.`,
		Example: `  ohmstead size plans/porch
  ohmstead size plans/porch --only gauges,fuses --keep lead.trunk
  ohmstead size plans/porch --least-work --write`,
		Args:              arguments(1, 1, "PLAN"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, k := range opt.Only {
				if !slices.Contains(sizing.Kinds, k) {
					return fmt.Errorf("--only %s: it takes %s", k, strings.Join(sizing.Kinds, ", "))
				}
			}
			w, dir, err := g.one(args[0])
			if err != nil {
				return err
			}
			plan, fig, v, err := decodeAndJudge(cmd.Context(), w, dir)
			if err != nil {
				return err
			}
			if broken(plan) > 0 {
				return fmt.Errorf("%s: parts of the plan could not be read; ohmstead check says where", w.Shown(dir))
			}
			for _, id := range opt.Keep {
				_, one := plan.Find(id)
				if _, copies := plan.Find(id + "-1"); !one && !copies {
					return fmt.Errorf("--keep %s: the plan has no such block", id)
				}
			}
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt)
			defer stop()
			progress := &sizeProgress{w: cmd.ErrOrStderr(), on: isTerminal(cmd.ErrOrStderr())}
			opt.Tell = progress.tell
			drafted := sizing.Bare(plan)
			plan, sized, err := sizes(ctx, plan, fig, v, opt)
			progress.end()
			if drafted && plan == nil {
				err = fmt.Errorf("%s: %w", w.Shown(dir), err)
			}
			if err != nil {
				return err
			}
			return sizeOut(cmd, w, plan, sized, sizeOutput{opt, args[0], drafted, write, choices})
		},
	}
	cmd.Flags().StringSliceVar(&opt.Keep, "keep", nil, "a block that stays as it is, such as lead.trunk; may be repeated")
	cmd.Flags().StringSliceVar(&opt.Only, "only", nil, "what may be changed: "+strings.Join(sizing.Kinds, ", ")+" (default all but ceilings)")
	cmd.Flags().BoolVar(&opt.LeastWork, "least-work", false, "as few changed blocks as can be, and of those the cheapest")
	cmd.Flags().BoolVar(&write, "write", false, "also write the change into the plan")
	cmd.Flags().BoolVar(&choices, "choices", false, "also print what is chosen from")
	complete(cmd, "only", sizing.Kinds)
	return cmd
}

// sizes searches the cheapest sizes of a plan. One that has only runs is drafted
// first; the plan is that draft then, or nil where there can be none.
func sizes(ctx context.Context, plan *schema.Plan, fig *figures.Figures, v lint.Verdict, opt sizing.Options) (*schema.Plan, sizing.Sized, error) {
	if sizing.Bare(plan) {
		return remedy.First(ctx, fig, rules.All, opt)
	}
	sized, err := remedy.New(plan, fig, v.Findings, rules.All).Size(ctx, opt)
	return plan, sized, err
}

// sizeOutput says what is printed and written of a search.
type sizeOutput struct {
	sizing.Options
	arg                     string
	drafted, write, choices bool
}

// sizeOut prints what a search found, and writes it where that is wanted.
func sizeOut(cmd *cobra.Command, w *workspace.Workspace, plan *schema.Plan, s sizing.Sized, opt sizeOutput) error {
	var out strings.Builder
	if opt.choices {
		for _, line := range s.Finite {
			fmt.Fprintln(&out, terminal.Printable("choices: "+line))
		}
	}
	texts := map[string][]byte{}
	switch {
	case s.Draft == nil:
		for _, o := range s.Left[:min(len(s.Left), 8)] {
			if o.Rule != "" {
				fmt.Fprintln(&out, terminal.Printable(fmt.Sprintf("in the way: %s of %s", o.Rule, o.Subject)))
			}
		}
		out.WriteString(waysOut(s.Left, opt.Options))
		_, err := io.WriteString(cmd.OutOrStdout(), out.String())
		return errors.Join(err, errors.New("no change of the sizes that may be chosen makes the plan pass"))
	case s.Draft.Empty() && !opt.drafted:
		fmt.Fprintf(&out, "the plan passes as it is: %s\n", s.Is)
	default:
		var err error
		if texts, err = plan.Edited(remedy.LaidOut(s.Edits())); err != nil {
			return err
		}
	}
	for _, f := range plan.Files { // what was drafted and not sized any more
		if name := f.Text.Path(); opt.drafted && texts[name] == nil && !bytes.Equal(f.Text.Bytes(), w.File(name).Text.Bytes()) {
			texts[name] = f.Text.Bytes()
		}
	}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		out.Write(diff.Diff("a/"+name, w.File(name).Text.Bytes(), "b/"+name, texts[name]))
	}
	if opt.drafted {
		s.Before = nil // there was nothing to compare with
	}
	if opt.drafted || !s.Draft.Empty() {
		figuresOut(&out, s)
	}
	if !opt.drafted || !s.Draft.Empty() {
		fmt.Fprintln(&out, bounded(s))
	}
	for _, l := range s.After.Leads {
		if l.OK && !l.Lead.Length.Set {
			fmt.Fprintf(&out, "lengths are estimated from positions: the answer holds up to those, such as %s of %s\n", s.After.Habit.Show(quantity.Length, l.Length), l.ID())
			break
		}
	}
	if !s.Measured() {
		fmt.Fprintln(&out, "new leads have estimated lengths: the answer holds up to those; measure before cutting")
	}
	if len(texts) > 0 && !opt.write {
		fmt.Fprintln(&out, "It is a proposal: check it against the code in force where the work is done.")
	}
	if _, err := io.WriteString(cmd.OutOrStdout(), out.String()); err != nil || !opt.write || len(texts) == 0 {
		return err
	}
	within, err := borderOf([]string{opt.arg})
	if err != nil {
		return err
	}
	var errs []error
	out.Reset()
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		file := filepath.Join(w.Root, filepath.FromSlash(name))
		if err := within.crossed(file); err != nil {
			errs = append(errs, err)
			continue
		}
		if err := wholefile.Write(file, texts[name]); err != nil {
			errs = append(errs, err)
			continue
		}
		fmt.Fprintln(&out, "written to "+terminal.Printable(w.Shown(name)))
	}
	if len(errs) == 0 {
		fmt.Fprintf(&out, "Check it against the code in force where the work is done.\nnext: ohmstead check %s\n", terminal.Printable(opt.arg))
	}
	_, err = io.WriteString(cmd.OutOrStdout(), out.String())
	return errors.Join(append(errs, err)...)
}

// waysOut says what can still be done where no change of sizes passes: what the search was not free to change, and what
// it never does.
func waysOut(left []sizing.Obstacle, opt sizing.Options) string {
	var out strings.Builder
	if untried := opt.Untried(); len(untried) > 0 {
		fmt.Fprintf(&out, "left alone: %s; free all with --only %s", strings.Join(untried, ", "), strings.Join(sizing.Kinds, ","))
		if slices.Contains(untried, sizing.Ceilings) {
			out.WriteString(" (a ceiling takes light away)")
		}
		out.WriteByte('\n')
	}
	if len(opt.Keep) > 0 {
		fmt.Fprintf(&out, "kept: %s; free it by leaving out --keep\n", terminal.Printable(quantity.List(opt.Keep)))
	}
	var explained []string
	for _, o := range left {
		if o.Rule != "" && !slices.Contains(explained, o.Rule) && len(explained) < 3 {
			explained = append(explained, o.Rule)
		}
	}
	out.WriteString("size changes no strip, diffuser or length: you may")
	if len(explained) > 0 {
		out.WriteString(", and what helps is told by ohmstead explain " + strings.Join(explained, ", ohmstead explain "))
	}
	out.WriteByte('\n')
	return out.String()
}

// figuresOut prints what changes for runs and the purse; of copies, the one that is
// the worst off.
func figuresOut(out *strings.Builder, s sizing.Sized) {
	volts := func(f *figures.Figures) map[string]float64 {
		least := map[string]float64{}
		for _, r := range f.Runs {
			if r.OK && r.Strip.V.MinVoltage.Known() {
				w := f.WorstVolts(r, r.Strip.V.MinVoltage.V.SI).Value
				if was, ok := least[textOf(r)]; !ok || w < was {
					least[textOf(r)] = w
				}
			}
		}
		return least
	}
	was, is := map[string]float64{}, volts(s.After)
	if s.Before != nil {
		was = volts(s.Before)
	}
	for _, id := range slices.Sorted(maps.Keys(is)) {
		line := fmt.Sprintf("%s: least voltage %s", id, quantity.Show(quantity.Voltage, is[id]))
		if before, ok := was[id]; ok {
			line += ", was " + quantity.Show(quantity.Voltage, before)
		}
		fmt.Fprintln(out, terminal.Printable(line))
	}
	if s.Before != nil && sizing.Dims(s.Before, s.After) != "" {
		fmt.Fprintln(out, "light: "+sizing.Dims(s.Before, s.After))
	}
	fmt.Fprintf(out, "cost: %s", s.Is)
	if s.Before != nil {
		fmt.Fprintf(out, "; was %s", s.Was)
	}
	fmt.Fprintln(out)
}

// textOf names the block that a run or its copies are written as.
func textOf(r *figures.Run) string {
	if r.Copy == 0 {
		return r.ID()
	}
	return strings.TrimSuffix(r.ID(), fmt.Sprintf("-%d", r.Copy))
}

// bounded says how good the answer is.
func bounded(s sizing.Sized) string {
	judged := quantity.Count(s.Judged, "plan") + " judged"
	switch {
	case s.Is.Dims && s.Exact:
		return "no choice keeps all of the light (" + judged + "; --choices prints what is chosen from)"
	case s.Is.Dims: // what is bounded are plans that do not
		return "the best found; none that keeps all of the light was among " + judged
	case s.Exact:
		return "no choice is cheaper (" + judged + "; --choices prints what is chosen from)"
	case !(s.Bound > 0):
		return "the best found (" + judged + ")"
	}
	within := fmt.Sprintf("within %.3g %% of the cheapest possible (%s)", 100*(s.Is.Sum/s.Bound-1), judged)
	if s.Ended {
		within += ", as far as it got"
	}
	return within
}

// sizeProgress tells on a terminal how far a search is.
type sizeProgress struct {
	w    io.Writer
	on   bool
	said time.Time
}

func (p *sizeProgress) tell(judged int, best sizing.Price) {
	if now := time.Now(); p.on && now.Sub(p.said) >= interval {
		p.said = now
		text := fmt.Sprintf("\r\x1b[K%d plans judged", judged)
		if best.Parts > 0 {
			text += "; the best so far: " + best.String()
		}
		fmt.Fprint(p.w, text)
	}
}

func (p *sizeProgress) end() {
	if p.on && !p.said.IsZero() {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
