package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ohmstead/lint/layout"
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
	for _, a := range h.Type.Attrs {
		if text, ok := writtenValue(b, a.Name); ok {
			fmt.Fprintf(&out, "%s = %s\n", a.Name, text)
		}
	}
	for _, n := range nestedBlocks(b) {
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

// writtenValue is an attribute's value as the catalogue writes it, in the block
// or in what it is like, with named values looked up.
func writtenValue(b schema.Block, name string) (string, bool) {
	for ; b != nil; b = schema.HeaderOf(b).Like {
		v, ok := schema.HeaderOf(b).Node.Assign(name)
		if !ok {
			continue
		}
		val := v.Val
		for val.Kind == schema.RefVal && len(val.Steps) == 2 && val.Steps[0].Name == "let" {
			l, known := schema.Catalogue().Let(val.Steps[1].Name)
			if !known {
				break
			}
			val = l.Val
		}
		return val.String(), true
	}
	return "", false
}

// nestedBlocks are those of the nearest block that has any.
func nestedBlocks(b schema.Block) []*schema.Node {
	for ; b != nil; b = schema.HeaderOf(b).Like {
		if n := schema.HeaderOf(b).Node; len(n.Blocks) > 0 {
			return n.Blocks
		}
	}
	return nil
}
