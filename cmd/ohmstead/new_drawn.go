package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"ohmstead/calc/quantity"
	"ohmstead/cmd/ohmstead/internal/drawn"
	"ohmstead/lint/layout"
	"ohmstead/lint/terminal"
)

// fromDrawing is the text of a plan from a drawing, and what is to be said of
// it. What is not understood of it is told at once.
func fromDrawing(errs io.Writer, name, file, scale string) (text []byte, said string, err error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, "", err
	}
	defer f.Close()
	svg, err := io.ReadAll(io.LimitReader(f, drawn.MaxFile+1))
	if err != nil {
		return nil, "", err
	}
	at := func(line int) string {
		if line == 0 {
			return file
		}
		return fmt.Sprintf("%s:%d", file, line)
	}
	d, err := drawn.Read(svg, scale)
	if refused := (*drawn.Error)(nil); errors.As(err, &refused) {
		return nil, "", fmt.Errorf("%s: %w", at(refused.Line), err)
	}
	for _, n := range d.Notes {
		fmt.Fprintln(errs, terminal.Printable(at(n.Line)+": "+n.Text))
	}
	if len(d.Shapes) == 0 {
		return nil, "", fmt.Errorf("%s: nothing in it becomes a run; nothing was written", file)
	}
	text, err = d.Plan(name, terminal.Printable(filepath.Base(file)))
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", file, err)
	}
	if text, err = layout.Format(text); err != nil {
		return nil, "", err
	}
	said = fmt.Sprintf(": %s, %s in all", quantity.Count(len(d.Shapes), "run"), quantity.Show(quantity.Length, d.Length()))
	if len(d.Keepouts) > 0 {
		said += "; " + quantity.Count(len(d.Keepouts), "keepout")
	}
	return text, said, nil
}
