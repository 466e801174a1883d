package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"syscall"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/watched"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/rules"
	"ohmstead/lint/terminal"
	"ohmstead/lsp/ide"
	"ohmstead/lsp/page"
	"ohmstead/schema"
)

func newView(g *globals) *cobra.Command {
	var open bool
	cmd := &cobra.Command{
		Use:   "view [PATH]",
		Short: "Show a plan in the browser, and again whenever a file of it is saved",
		Long: `View shows the runs of a plan where they hang, the voltage along them in every load
case, what was found, and the way of the data pixel by pixel. The page follows the
files of the plan: whatever editor saves them, the picture changes.

Only this machine can reach the page, and only a browser that is given its whole
address. It ends with the command (Ctrl-C). The language server shows the same page,
from text that is not saved yet: see lsp/SETTINGS.md.`,
		Example: `  ohmstead view plans/porch
  ohmstead view plans/porch --open`,
		Args:              arguments(0, 1, "PATH"),
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			w, dir, err := g.one(orHere(args)[0])
			if err != nil {
				return err
			}
			root, err := os.OpenRoot(w.Root)
			if err != nil {
				return err
			}
			defer root.Close()
			roomy(24 << 20)
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			p, err := page.Serve(ctx, page.Options{Log: cmd.ErrOrStderr()})
			if err != nil {
				return fmt.Errorf("the page cannot be served on this machine: %w", err)
			}
			defer p.Close()
			fmt.Fprintf(cmd.OutOrStdout(), "%s is shown at %s until this command ends (Ctrl-C).\n", terminal.Printable(w.Shown(dir)), p.Address())
			if open {
				if err := browse(p.Address()); err != nil {
					fmt.Fprintf(cmd.ErrOrStderr(), "ohmstead: no browser could be opened (%v); open the address in one\n", err)
				}
			}
			return follow(ctx, p, watched.New(root.FS(), dir))
		},
	}
	cmd.Flags().BoolVar(&open, "open", false, "open the page in the browser")
	return cmd
}

// follow shows each version of a plan until ctx ends.
func follow(ctx context.Context, p *page.Page, plan *watched.Plan) error {
	memo := figures.NewMemo()
	for {
		next, err := plan.Next(ctx)
		if err == nil {
			err = show(ctx, p, next, memo)
		}
		switch {
		case ctx.Err() != nil:
			return nil
		case err != nil:
			return err
		}
	}
}

// show works a plan out and shows what is known of it as soon as it is.
func show(ctx context.Context, p *page.Page, plan *schema.Plan, memo *figures.Memo) error {
	fig := figures.Prepare(plan, memo)
	p.Show(fig)
	if err := fig.Solve(ctx); err != nil {
		return err
	}
	p.Solved(fig)
	v, err := lint.Run(ctx, plan, fig, rules.All)
	if err != nil {
		return err
	}
	p.Judged(&ide.View{Plan: plan, Figures: fig, Findings: v.Findings, Hidden: v.Hidden, Rules: rules.All}, lint.Hint)
	return nil
}

// browse opens an address in the user's browser.
func browse(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	err := exec.Command(name, args...).Run()
	if errors.Is(err, exec.ErrNotFound) {
		return fmt.Errorf("%s is not there", name)
	}
	return err
}
