package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/schema"
)

func newCatalog(*globals) *cobra.Command {
	return &cobra.Command{
		Use:   "catalog [TYPE | NAME]",
		Short: "List the parts of the built-in catalogue, with values and source",
		Example: `  ohmstead catalog
  ohmstead catalog strip
  ohmstead catalog ws2815_12v_60`,
		Args: cobra.MaximumNArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return append(catalogTypes(), catalogNames()...), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			out := cmd.OutOrStdout()
			if len(args) == 0 {
				return catalogIndex(out)
			}
			if entries := schema.Catalogue().Entries(args[0]); len(entries) > 0 {
				for i, b := range entries {
					if i > 0 {
						fmt.Fprintln(out)
					}
					if err := catalogEntry(out, b); err != nil {
						return err
					}
				}
				return nil
			}
			name := strings.TrimPrefix(args[0], "catalog.")
			for _, b := range schema.Catalogue().Entries() {
				if schema.HeaderOf(b).Name == name {
					return catalogEntry(out, b)
				}
			}
			hint := "; ohmstead catalog lists them"
			if best, ok := schema.Nearest(name, append(catalogTypes(), catalogNames()...)); ok {
				hint = fmt.Sprintf("; did you mean %q?", best)
			}
			return errors.New("the catalogue has no type and no entry " + fmt.Sprintf("%q", args[0]) + hint)
		},
	}
}

func catalogTypes() []string {
	var out []string
	for _, b := range schema.Catalogue().Entries() {
		if t := schema.HeaderOf(b).Type.Name; !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	slices.Sort(out)
	return out
}

func catalogNames() []string {
	var out []string
	for _, b := range schema.Catalogue().Entries() {
		out = append(out, schema.HeaderOf(b).Name)
	}
	return out
}

// catalogIndex lists the names by type.
func catalogIndex(w io.Writer) error {
	var b strings.Builder
	for i, t := range catalogTypes() {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(t + "\n")
		for _, e := range schema.Catalogue().Entries(t) {
			b.WriteString("  catalog." + schema.HeaderOf(e).Name + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// catalogEntry writes an entry as the catalogue has it, then what it takes
// over from the entry that it is like.
func catalogEntry(w io.Writer, b schema.Block) error {
	h := schema.HeaderOf(b)
	at := h.Node.Whole
	if _, err := fmt.Fprintf(w, "# catalog.%s\n%s\n", h.Name, at.Piece.Bytes()[at.Start:at.End]); err != nil {
		return err
	}
	if h.Like == nil {
		return nil
	}
	fmt.Fprintln(w, "# what it takes over:")
	return catalogEntry(w, h.Like)
}
