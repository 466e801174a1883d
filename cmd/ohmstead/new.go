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
	"sync"

	"github.com/spf13/cobra"

	"ohmstead/cmd/ohmstead/internal/wholefile"
	"ohmstead/lint/terminal"
	"ohmstead/schema/plans"
)

//go:embed starter.ohm.hcl
var starter string

// starterName is the name in the starter that the new plan's replaces.
const starterName = "NAME"

var planName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`) })

func newNew(*globals) *cobra.Command {
	var from, scale string
	var said answers
	cmd := &cobra.Command{
		Use:   "new NAME",
		Short: "Write a commented plan to start from",
		Long: `New makes the directory NAME with a small, commented plan that passes check.
NAME may be a path; the plan is called after its last part.

With --length, --strip or --mains, the plan has one run of that strip, and a supply, a
controller, wires and fuses that it passes with. What is not said is 3 m, ws2815_12v_60
and 230 V. Where no such plan passes, it is said why, and nothing is written.

With --from, the plan begins with the runs of a drawing in SVG: each path, line,
polygon, circle and rectangle that is seen becomes a run of the same shape, called
after its id, and each rectangle in a group or layer called "keepout" a keepout of
the surface. The surface is the page. What is not understood is listed on standard
error. What the drawing does not say is left to be decided.

A drawing whose width and height are in mm, cm, in or pt has its scale in it; for
one to scale, --scale 1:20 says which. For any other, --scale "1 mm" says how long
one of its units is, and --scale "96 dpi" how many are an inch.`,
		Args: arguments(1, 1, "NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := filepath.Clean(args[0])
			name := filepath.Base(dir)
			if !planName().MatchString(name) {
				return fmt.Errorf("%q is no name for a plan; it begins with a letter and goes on with letters, digits, - and _", name)
			}
			file := filepath.Join(dir, "plan"+plans.Suffix)
			if have, err := filepath.Glob(filepath.Join(dir, "*"+plans.Suffix)); err == nil && len(have) > 0 {
				return fmt.Errorf("%s is there already; nothing was written", have[0])
			}
			text, told := []byte(strings.ReplaceAll(starter, starterName, name)), ""
			switch {
			case from != "" && said != answers{}:
				return errors.New("--length, --strip and --mains make a plan without a drawing; leave them out, or --from")
			case said != answers{}:
				var err error
				if text, err = fromAnswers(cmd.Context(), name, said); err != nil {
					return fmt.Errorf("nothing was written: %w", err)
				}
			case from != "":
				var err error
				if text, told, err = fromDrawing(cmd.ErrOrStderr(), name, from, scale); err != nil {
					return err
				}
			case scale != "":
				return errors.New("--scale is that of a drawing; name it with --from")
			}
			err := createIn(dir, file, text)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s is there already; nothing was written", file)
			}
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s%s\nnext: ohmstead check %s\n", terminal.Printable(file), told, terminal.Printable(dir))
			return err
		},
	}
	cmd.Flags().StringVar(&said.length, "length", "", `how long the strip is, such as "3.6 m"`)
	cmd.Flags().StringVar(&said.strip, "strip", "", "strip of the catalogue, such as ws2815_12v_60")
	cmd.Flags().StringVar(&said.mains, "mains", "", `voltage of the mains, such as "230 V"`)
	cmd.Flags().StringVar(&from, "from", "", "drawing in SVG whose paths become runs")
	cmd.Flags().StringVar(&scale, "scale", "", `scale of the drawing: "1 mm" or "96 dpi" for one without real units, else as in 1:20`)
	if err := cmd.MarkFlagFilename("from", "svg"); err != nil {
		panic(err) // the flag is defined above
	}
	return cmd
}

// createIn writes a file that must not be there yet, with the directories above
// it. Where it cannot, it leaves none of those behind that it made.
func createIn(dir, file string, text []byte) error {
	var made []string // deepest first
	for d := dir; ; d = filepath.Dir(d) {
		if _, err := os.Lstat(d); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append(made, d)
	}
	err := os.MkdirAll(dir, 0o755)
	if err == nil {
		err = wholefile.Create(file, text)
	}
	if err != nil {
		for _, d := range made {
			_ = os.Remove(d) // one that somebody else uses by now stays
		}
	}
	return err
}
