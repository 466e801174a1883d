package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/lint/terminal"
)

// errFindings ends the program with exit code 1: what was asked for was done,
// and there is something to mend. It has been reported already. Every other
// error means that something could not be done: code 2.
var errFindings = errors.New("findings")

// run runs the command line and returns the exit code.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errs)
	switch err := root.Execute(); {
	case err == nil:
		return 0
	case errors.Is(err, errFindings):
		return 1
	default:
		complain(errs, err)
		return 2
	}
}

// complain tells an error. One that has several tells each in a line; what else
// has lines, as where the program failed, has a bar before the others, so that no
// argument or name that is echoed begins a line, which a forge may take for an order.
func complain(w io.Writer, err error) {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		var lines []string
		for _, e := range several.Unwrap() {
			lines = append(lines, e.Error())
		}
		if strings.Join(lines, "\n") == err.Error() {
			for _, e := range several.Unwrap() {
				complain(w, e)
			}
			return
		}
	}
	for i, l := range strings.Split(err.Error(), "\n") {
		fmt.Fprintf(w, "%s%s\n", [...]string{"ohmstead: ", "  | "}[min(i, 1)], terminal.Printable(l))
	}
}

// globals are the flags that every command has.
type globals struct {
	color string
	root  string
}

func newRoot() *cobra.Command {
	g := &globals{}
	root := &cobra.Command{
		Use:   "ohmstead",
		Short: "Check plans of addressable LED strip installations",
		Long: `Ohmstead checks plans of addressable LED strip installations before anything is
cut: voltages, currents, fuses, wires, pixels, data and addresses.

A plan is a directory with *.ohm.hcl files. Begin with "ohmstead new NAME".

Low voltage is not low energy: a strip supply can start a fire. Mains wiring is
for a qualified person under the code in force at the place.`,
		SuggestionsMinimumDistance: 2,
		SilenceUsage:               true,
		SilenceErrors:              true,
		Args:                       cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
		PersistentPreRunE: func(*cobra.Command, []string) error {
			if !slices.Contains(colorChoices, g.color) {
				return fmt.Errorf("--color is %q; it takes %s", g.color, strings.Join(colorChoices, ", "))
			}
			return nil
		},
	}
	root.SetFlagErrorFunc(flagError)
	root.Version = version()
	root.SetVersionTemplate("ohmstead {{.Version}}\n")
	flags := root.PersistentFlags()
	flags.StringVar(&g.color, "color", "auto", "colour the output: auto, always or never")
	flags.StringVar(&g.root, "root", "", "directory that plans and their stock stay inside (default: the repository, else the parent directory)")
	complete(root, "color", colorChoices)
	if err := root.MarkPersistentFlagDirname("root"); err != nil {
		panic(err) // the flag is defined above
	}
	root.AddCommand(
		newCheck(g), newFix(g), newSize(g), newFmt(g), newShow(g), newLocate(g), newList(g), newView(g), newExplain(g), newCatalog(g),
		newNew(g), newCompare(g), newResolve(g), newSheets(g), newLSP(), newVersion(),
	)
	return root
}

var colorChoices = []string{"auto", "always", "never"}

func unknownCommand(root *cobra.Command, name string) error {
	hint := ""
	if s := root.SuggestionsFor(name); len(s) > 0 {
		hint = fmt.Sprintf("; did you mean %q?", s[0])
	}
	return fmt.Errorf("there is no command %q%s (see ohmstead --help)", name, hint)
}

// complete offers the values of a flag to the shell.
func complete(cmd *cobra.Command, flag string, values []string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // a flag that is not defined
	}
}

// colored reports whether what is written to w has colours: on a terminal that
// has them, unless the environment says NO_COLOR (no-color.org).
func (g *globals) colored(w io.Writer) bool {
	switch g.color {
	case "always":
		return true
	case "never":
		return false
	}
	return isTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// open opens the workspace that some paths lie in.
func (g *globals) open(paths []string) (*workspace.Workspace, error) {
	root := g.root
	if root == "" {
		var err error
		if root, err = workspace.FindRoot(paths); err != nil {
			return nil, err
		}
	}
	return workspace.Open(root)
}

// orHere is the paths given, or the current directory.
func orHere(args []string) []string {
	if len(args) == 0 {
		return []string{"."}
	}
	return args
}

// planFiles lets the shell complete plan files and directories.
func planFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"hcl"}, cobra.ShellCompDirectiveFilterFileExt
}
