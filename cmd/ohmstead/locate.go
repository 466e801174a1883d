package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/lint/figures"
	"ohmstead/lint/locating"
	"ohmstead/lint/report"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func newLocate(g *globals) *cobra.Command {
	var readings taken
	cmd := &cobra.Command{
		Use:   "locate PLAN",
		Short: "Say what may be wrong on the wall, from meter readings",
		Long: `Locate ranks what may be wrong on the wall by what a meter showed: one cause at a
time, with the size that fits, the heat in it, and what to read next. The readings
that the plan holds count, and those of the command line. Each of these begins with
--at; the places are those of a reading block: supply.x.out, joint.x, run.x.end,
lead.x for all of a lead, and lead.x.from, .fuse, .to_fuse (both), .wire or .to for
a part of it.

Measure at low voltage only, behind the supply. Never bridge plus and minus with the
probes; switch off before anything is opened, and let it cool.`,
		Example: `  ohmstead locate plans/porch --at run.b.end --volts "4.62 V"
  ohmstead locate plans/porch --at run.b.end --volts "4.62 V" --at lead.b --amps "2.80 A" --case case.evening`,
		Args:              arguments(1, 1, "PLAN"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			w, dir, err := g.one(args[0])
			if err != nil {
				return err
			}
			plan, err := w.Decode(dir)
			if err != nil {
				return err
			}
			if plan, err = readings.written(plan); err != nil {
				return err
			}
			fig, err := figures.Work(cmd.Context(), plan, nil)
			if err != nil {
				return err
			}
			return locate(cmd.Context(), fig, report.Out(cmd.OutOrStdout(), "text"))
		},
	}
	flags := cmd.Flags()
	flags.Var(&readings.at, "at", "where the meter's probes were; begins a reading, may be repeated")
	for name, use := range map[string]string{
		"volts": "what it showed between plus and minus, or along a lead",
		"amps":  "the current that it showed there",
		"ohms":  "the resistance that it showed of a lead, with the power off",
		"case":  "what was lit, such as case.evening; full where it is not said",
	} {
		flags.Var(&detail{&readings, name}, name, use)
	}
	readings.at.taken = &readings
	return cmd
}

// taken are the readings of a command line, as text of a plan.
type taken struct {
	at   place
	list []string
	bad  error
}

// place is --at, which begins a reading.
type place struct{ *taken }

func (p *place) String() string { return "" }
func (p *place) Type() string   { return "PLACE" }
func (p *place) Set(s string) error {
	p.list = append(p.list, "at = "+s+"\n")
	return nil
}

// detail is what belongs to the reading begun last.
type detail struct {
	*taken
	name string
}

func (s *detail) String() string { return "" }
func (s *detail) Type() string   { return "VALUE" }
func (s *detail) Set(v string) error {
	if len(s.list) == 0 {
		s.bad = fmt.Errorf("--%s stands before any --at; write --at PLACE first", s.name)
		return nil
	}
	if s.name != "case" {
		v = fmt.Sprintf("%q", v)
	}
	s.list[len(s.list)-1] += s.name + " = " + v + "\n"
	return nil
}

// written is the plan with the readings in its text, so that they are read and refused as any other.
func (t *taken) written(plan *schema.Plan) (*schema.Plan, error) {
	if t.bad != nil || len(t.list) == 0 {
		return plan, t.bad
	}
	if plan.Head == nil {
		return nil, errors.New("there is no plan block; ohmstead check says what is missing")
	}
	p := plan.Head.Node.Piece()
	name := func(i int) string { return fmt.Sprintf("command line %d", i+1) }
	var text strings.Builder
	for i, r := range t.list {
		if strings.ContainsAny(r, "{}#") {
			return nil, fmt.Errorf("%q is no reading", r)
		}
		fmt.Fprintf(&text, "\nreading %q {\n%s}\n", name(i), r)
	}
	end := len(p.Bytes())
	changed, err := plan.With([]schema.Edit{{At: source.Span{Piece: p, Start: end, End: end}, New: text.String()}})
	if err != nil {
		return nil, err
	}
	for _, pr := range changed.Problems {
		if strings.HasPrefix(changed.BlockAt(pr.At), "reading.command line ") {
			return nil, errors.New(pr.Message)
		}
	}
	for i := range t.list {
		if _, ok := changed.Find("reading." + name(i)); !ok {
			return nil, fmt.Errorf("%q is no reading", t.list[i])
		}
	}
	return changed, nil
}

func locate(ctx context.Context, fig *figures.Figures, w io.Writer) error {
	found, err := locating.Find(ctx, fig, true)
	switch {
	case err != nil:
		return err
	case len(fig.Plan.Readings) == 0:
		return errors.New("the plan holds no reading; say one: --at PLACE --volts VALUE")
	case len(found) == 0:
		return errors.New("nothing is worked out for the places of the readings; ohmstead check says why")
	}
	for i := range found {
		if i > 0 {
			fmt.Fprintln(w)
		}
		if _, err := io.WriteString(w, found[i].Text()); err != nil {
			return err
		}
	}
	return nil
}
