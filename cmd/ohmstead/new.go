package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint/terminal"
	"ohmstead/schema/plans"
)

//go:embed starter.ohm.hcl
var starter string

// starterName is the name in the starter that the new plan's replaces.
const starterName = "NAME"

var planName = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`)

func newNew(*globals) *cobra.Command {
	return &cobra.Command{
		Use:   "new NAME",
		Short: "Write a commented plan to start from",
		Long: `New makes the directory NAME with a small, commented plan that passes check.
NAME may be a path; the plan is called after its last part.`,
		Args: arguments(1, 1, "NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := filepath.Clean(args[0])
			name := filepath.Base(dir)
			if !planName.MatchString(name) {
				return fmt.Errorf("%q is no name for a plan; it begins with a letter and goes on with letters, digits, - and _", name)
			}
			file := filepath.Join(dir, "plan"+plans.Suffix)
			if have, err := filepath.Glob(filepath.Join(dir, "*"+plans.Suffix)); err == nil && len(have) > 0 {
				return fmt.Errorf("%s is there already; nothing was written", have[0])
			}
			if err := os.MkdirAll(dir, 0o755); err != nil {
				return err
			}
			err := wholefile.Create(file, []byte(strings.ReplaceAll(starter, starterName, name)))
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s is there already; nothing was written", file)
			}
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s\nnext: ohmstead check %s\n", terminal.Printable(file), terminal.Printable(dir))
			return err
		},
	}
}
