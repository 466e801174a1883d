package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/sheets"
	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint/rules"
	"ohmstead/lint/terminal"
)

// printing is one run of the sheets command.
type printing struct {
	*globals
	cmd    *cobra.Command
	out    string
	only   []string
	paper  string
	margin string
	labels string
	stamp  sheets.Stamp
}

func newSheets(g *globals) *cobra.Command {
	p := &printing{globals: g}
	cmd := &cobra.Command{
		Use:   "sheets PLAN -o DIR",
		Short: "Put a plan on paper: drawings, lists, template, commissioning",
		Long: `Sheets writes a plan as pages to print and to take along: one PDF and one HTML
page of the same, each drawing as SVG, each table as CSV, all tables as XLSX.

Files in DIR that have the same names are replaced; nothing else in it is
touched. Print at actual size, 100 %: the first page of the template tells how
to see that the printer did.

Who drew it, the revision and the date are what you say; no clock is asked. At
the foot of each page stands a digest of the plan, so that paper that is older
than the plan shows.

Exit code: 0 written, 2 it could not be done. Findings do not stop it: they
stand in the summary, and errors at the foot of each page.`,
		Example: `  ohmstead sheets plans/porch -o paper
  ohmstead sheets plans/porch -o paper --only template --paper A3
  ohmstead sheets plans/porch -o paper --drawn-by "M. Weaver" --revision B --date 2026-05-01`,
		Args:              arguments(1, 1, "PLAN"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			p.cmd = cmd
			return p.run(cmd.Context(), args[0])
		},
	}
	f := cmd.Flags()
	f.StringVarP(&p.out, "output", "o", "", "directory to write to; it is made where it is not there")
	f.StringSliceVar(&p.only, "only", nil, "only these sheets: "+strings.Join(sheets.Names(), ", "))
	f.StringVar(&p.paper, "paper", "A4", "size of the paper: "+strings.Join(sheets.PaperNames(), ", "))
	f.StringVar(&p.margin, "margin", "10 mm", fmt.Sprintf("edge of the paper that is left free, from %d mm to %d mm", sheets.LeastMargin, sheets.MostMargin))
	f.StringVar(&p.labels, "labels", sheets.LabelForms[0], "form of the labels: "+strings.Join(sheets.LabelForms, ", "))
	f.StringVar(&p.stamp.By, "drawn-by", "", "who drew it, for the title block")
	f.StringVar(&p.stamp.Revision, "revision", "", "the revision, for the title block")
	f.StringVar(&p.stamp.Date, "date", "", "the date, for the title block")
	complete(cmd, "only", sheets.Names())
	complete(cmd, "labels", sheets.LabelForms)
	complete(cmd, "paper", sheets.PaperNames())
	return cmd
}

func (p *printing) run(ctx context.Context, path string) error {
	if p.out == "" {
		return errors.New("sheets needs -o DIR, the directory to write to")
	}
	for _, o := range p.only {
		if !slices.Contains(sheets.Names(), o) {
			return fmt.Errorf("--only is %q; it takes %s", o, strings.Join(sheets.Names(), ", "))
		}
	}
	if !slices.Contains(sheets.LabelForms, p.labels) {
		return fmt.Errorf("--labels is %q; it takes %s", p.labels, strings.Join(sheets.LabelForms, ", "))
	}
	paper, err := sheets.PaperNamed(p.paper)
	if err != nil {
		return fmt.Errorf("--paper: %w", err)
	}
	margin, err := quantity.ParseFor(quantity.Length, p.margin)
	if err != nil || !(margin.SI*1000 >= sheets.LeastMargin-1e-9 && margin.SI*1000 <= sheets.MostMargin+1e-9) {
		return fmt.Errorf("--margin is %q; it takes a length from %d mm to %d mm, such as \"10 mm\"", p.margin, sheets.LeastMargin, sheets.MostMargin)
	}
	w, dir, err := p.one(path)
	if err != nil {
		return err
	}
	_, fig, v, err := decodeAndJudge(ctx, w, dir)
	if err != nil {
		return err
	}
	if broken(fig.Plan) > 0 {
		fmt.Fprintln(p.cmd.ErrOrStderr(), "ohmstead: parts of the plan could not be read and are missing; ohmstead check says where")
	}
	others, err := sharing(w, fig.Plan)
	if err != nil {
		return err
	}
	progress := newProgress(p.cmd.ErrOrStderr(), len(sheets.Names())+sheets.Forms, "steps")
	mm := margin.SI * 1000
	doc := sheets.Of(sheets.Job{Figures: fig, Others: others, Verdict: v, Program: "ohmstead " + version(), Rules: len(rules.All), Stamp: p.stamp, Paper: paper, Margin: mm, Only: p.only, Labels: p.labels}, progress.step)
	files, err := doc.Files(ctx, paper, mm, progress.step)
	progress.end()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(p.out, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := wholefile.Write(filepath.Join(p.out, f.Name), f.Data); err != nil {
			return err
		}
	}
	if len(p.only) == 0 {
		if err := p.stale(doc, files); err != nil {
			return err
		}
	}
	_, err = fmt.Fprintf(p.cmd.OutOrStdout(), "%s of the plan %s, digest %s, in %s\n", quantity.Count(len(files), "file"), terminal.Printable(doc.Name), doc.Digest, terminal.Printable(p.out))
	return err
}

// stale tells of files that a former run has left: of a surface that is no more,
// say. They look like this plan's, and are not.
func (p *printing) stale(doc *sheets.Document, files []sheets.File) error {
	entries, err := os.ReadDir(p.out)
	if err != nil {
		return err
	}
	var left []string
	for _, e := range entries {
		ours := strings.HasPrefix(e.Name(), doc.Stem()+"-") && slices.Contains([]string{".svg", ".csv", ".json", ".xlsx"}, filepath.Ext(e.Name()))
		if ours && !slices.ContainsFunc(files, func(f sheets.File) bool { return f.Name == e.Name() }) {
			left = append(left, e.Name())
		}
	}
	if len(left) > 0 {
		fmt.Fprintf(p.cmd.ErrOrStderr(), "ohmstead: not written this time, perhaps from an older state of the plan: %s\n", terminal.Printable(quantity.List(left)))
	}
	return nil
}
