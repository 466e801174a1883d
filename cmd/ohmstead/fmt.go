package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint/layout"
	"ohmstead/lint/terminal"
	"ohmstead/schema/plans"
	"ohmstead/schema/source"
)

func newFmt(g *globals) *cobra.Command {
	var check bool
	cmd := &cobra.Command{
		Use:   "fmt [PATH... | -]",
		Short: "Give plan files their canonical layout",
		Long: `Fmt gives plan files their canonical layout, in place, and names those that it
changed. Of a directory it takes all *.ohm.hcl files in it and below; "-" reads
the standard input and writes to the standard output. A file with a syntax error
stays as it is. Without PATH it writes only where the current directory is a plan
or lies in a repository, and never into another repository.

Exit code: 0 done, 1 with --check when a file is not in its layout, 2 something
could not be done.`,
		ValidArgsFunction: planFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			f := formatting{cmd, check}
			if len(args) == 1 && args[0] == "-" {
				return f.stream()
			}
			if check {
				return f.files(g, orHere(args))
			}
			args, err := toWrite(args)
			if err != nil {
				return err
			}
			return f.files(g, args)
		},
	}
	cmd.Flags().BoolVar(&check, "check", false, "change nothing; name the files that are not in their layout, and exit with 1")
	return cmd
}

type formatting struct {
	cmd   *cobra.Command
	check bool
}

// stream formats the standard input.
func (f formatting) stream() error {
	text, err := io.ReadAll(io.LimitReader(f.cmd.InOrStdin(), source.MaxFile+1))
	if err != nil {
		return err
	}
	out, err := layout.Format(text)
	if err != nil {
		return notFormatted("standard input", text, err)
	}
	if f.check {
		if !bytes.Equal(text, out) {
			if _, err := fmt.Fprintln(f.cmd.OutOrStdout(), "standard input"); err != nil {
				return err
			}
			return errFindings
		}
		return nil
	}
	_, err = f.cmd.OutOrStdout().Write(out)
	return err
}

// files formats files; one that cannot be formatted does not stop the others.
func (f formatting) files(g *globals, args []string) error {
	var errs []error
	names, err := planFilesIn(g, args)
	if err != nil {
		errs = append(errs, err)
	}
	within, err := borderOf(args)
	if err != nil {
		return err
	}
	changed := 0
	for _, name := range names {
		is, err := f.file(name, within)
		if err != nil {
			errs = append(errs, err)
		}
		if is {
			changed++
			if _, err := fmt.Fprintln(f.cmd.OutOrStdout(), terminal.Printable(name)); err != nil {
				errs = append(errs, err)
			}
		}
	}
	switch {
	case len(errs) > 0:
		return errors.Join(errs...)
	case f.check && changed > 0:
		return errFindings
	}
	return nil
}

func (f formatting) file(name string, within border) (changed bool, err error) {
	text, err := readPlanFile(name)
	if err != nil {
		return false, err
	}
	out, err := layout.Format(text)
	switch {
	case err != nil:
		return false, notFormatted(name, text, err)
	case bytes.Equal(text, out):
		return false, nil
	case f.check:
		return true, nil
	}
	if err := within.crossed(name); err != nil {
		return false, err
	}
	return true, wholefile.Write(name, out)
}

// readPlanFile reads a file of sensible size.
func readPlanFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is not a regular file", name)
	case info.Size() > source.MaxFile:
		return nil, fmt.Errorf("%s has %d bytes; at most %d are read", name, info.Size(), source.MaxFile)
	}
	return os.ReadFile(name)
}

// notFormatted says where a text that is not formatted is broken.
func notFormatted(name string, text []byte, err error) error {
	var b *layout.Broken
	if !errors.As(err, &b) {
		return fmt.Errorf("%s: %w", name, err)
	}
	at := source.NewText(name, text).OffsetPosition(b.Offset, source.Rune)
	return fmt.Errorf("%s:%d:%d: not formatted: %s", name, at.Line+1, at.Column+1, b.Message)
}

// planFilesIn lists the plan files that paths name: files as they are, and all
// that lie in directories and below.
func planFilesIn(g *globals, args []string) ([]string, error) {
	w, err := g.open(args)
	if err != nil {
		return nil, err
	}
	var out []string
	var errs []error
	for _, arg := range args {
		info, err := os.Stat(arg)
		switch {
		case err != nil:
			errs = append(errs, err)
		case !info.IsDir() && !strings.HasSuffix(arg, plans.Suffix):
			errs = append(errs, fmt.Errorf("%s is not a plan file; their names end in %s", arg, plans.Suffix))
		case !info.IsDir():
			out = append(out, filepath.ToSlash(filepath.Clean(arg)))
		default:
			dir, err := w.Rel(arg)
			if err == nil {
				var names []string
				names, err = w.Below(dir)
				for _, n := range names {
					out = append(out, w.Shown(n))
				}
			}
			if err != nil {
				errs = append(errs, err)
			}
		}
	}
	return out, errors.Join(errs...)
}
