package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/lint/layout"
	"ohmstead/lint/report"
	"ohmstead/schema"
)

func newCatalog(*globals) *cobra.Command {
	return &cobra.Command{
		Use:   "catalog [TYPE | NAME | PART OF A NAME]",
		Short: "List the parts of the built-in catalogue, with values and source",
		Example: `  ohmstead catalog
  ohmstead catalog strip
  ohmstead catalog ws2815
  ohmstead catalog ws2815_12v_60`,
		Args: arguments(0, 1, "WORD"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return append(catalogTypes(), catalogNames()...), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			out := report.Out(cmd.OutOrStdout(), "text")
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
			if holding := catalogHolding(name); len(holding) > 0 { // part of a name: "ws2815", "144"
				for _, n := range holding {
					fmt.Fprintln(out, "catalog."+n)
				}
				return nil
			}
			hint := "; ohmstead catalog lists them"
			if best, ok := schema.Nearest(name, append(catalogTypes(), catalogNames()...)); ok {
				hint = fmt.Sprintf("; did you mean %q?", best)
			}
			return errors.New("the catalogue has no type and no entry " + fmt.Sprintf("%q", args[0]) + hint)
		},
	}
}

// catalogHolding lists the entries whose names hold some text.
func catalogHolding(text string) []string {
	var out []string
	for _, n := range catalogNames() {
		if text != "" && strings.Contains(n, strings.ToLower(text)) {
			out = append(out, n)
		}
	}
	return out
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

// catalogEntry writes an entry as a block with all its values, those that it
// takes over from the entry that it is like included.
func catalogEntry(w io.Writer, b schema.Block) error {
	h := schema.HeaderOf(b)
	var out strings.Builder
	fmt.Fprintf(&out, "%s %q {\n", h.Type.Name, h.Name)
	attrs, nested := schema.Says(b)
	for _, a := range h.Type.Attrs {
		if i := slices.IndexFunc(attrs, func(w *schema.Assign) bool { return w.Name == a.Name }); i >= 0 {
			fmt.Fprintf(&out, "%s = %s\n", a.Name, writtenValue(attrs[i].Val))
		}
	}
	for _, n := range nested {
		fmt.Fprintf(&out, "%s\n", n.Whole.Bytes())
	}
	out.WriteString("}\n")
	text, err := layout.Format([]byte(out.String()))
	if err != nil {
		return fmt.Errorf("catalog.%s: %w", h.Name, err)
	}
	_, err = w.Write(text)
	return err
}

// writtenValue is a value as the catalogue writes it, with named values looked up.
func writtenValue(v *schema.Val) string {
	for v.Kind == schema.RefVal && len(v.Steps) == 2 && v.Steps[0].Name == "let" {
		l, known := schema.Catalogue().Let(v.Steps[1].Name)
		if !known {
			break
		}
		v = l.Val
	}
	return v.String()
}
