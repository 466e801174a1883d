package main

import (
	"os"
	"path"

	"github.com/spf13/cobra"

	"ohmstead/lint/report"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func newResolve(g *globals) *cobra.Command {
	var alone bool
	cmd := &cobra.Command{
		Use:   "resolve PATH",
		Short: "Write a plan with like, let and the functions followed",
		Long: `Resolve writes the blocks of a plan, or those of one of its files, with like, let
and the functions followed, and with the copies that times makes and the blocks that
usual, chain and feed stand for spelt out. Comments are left out.

With --alone the file is read by itself, with nothing but the built-in catalogue:
what it takes from elsewhere stays as it is written. So git can show what a change
of a plan really changes (see editors/git).`,
		Example: `  ohmstead resolve plans/porch
  git config diff.ohmstead.textconv "ohmstead resolve --alone"`,
		Args:              arguments(1, 1, "PATH"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			blocks, err := g.blocks(args[0], alone)
			if err != nil {
				return err
			}
			return resolved.Write(report.Out(cmd.OutOrStdout(), "text"), blocks)
		},
	}
	cmd.Flags().BoolVar(&alone, "alone", false, "read the file by itself, without its plan and stock")
	return cmd
}

// blocks lists the blocks of a plan, or of one file.
func (g *globals) blocks(name string, alone bool) ([]schema.Block, error) {
	if alone {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		return schema.Decode(".", []*source.File{source.Parse(source.NewText(path.Base(name), data))}, nil).Blocks, nil
	}
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		w, dir, err := g.one(name)
		if err != nil {
			return nil, err
		}
		plan, err := w.Decode(dir)
		if err != nil {
			return nil, err
		}
		return plan.Blocks, nil
	}
	w, err := g.open([]string{name})
	if err != nil {
		return nil, err
	}
	plans, err := w.Find([]string{name})
	if err != nil {
		return nil, err
	}
	plan, err := w.Decode(plans[0]) // a file of stock means the same to all that use it
	if err != nil {
		return nil, err
	}
	file, err := w.Rel(name)
	if err != nil {
		return nil, err
	}
	var out []schema.Block
	for _, b := range append(plan.Blocks, plan.Stock...) {
		if f, _, _, ok := plan.Locate(schema.HeaderOf(b).Head()); ok && f.Text.Path() == file {
			out = append(out, b)
		}
	}
	return out, nil
}
