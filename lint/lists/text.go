package lists

import (
	"bufio"
	"io"
	"strings"

	"ohmstead/lint/terminal"
)

// Text writes the table for people, in columns as wide as they need; those in which nothing stands are left out.
func (t *Table) Text(w io.Writer) error {
	t = t.Filled()
	b := bufio.NewWriter(w)
	b.WriteString(t.Title)
	if t.Plan != "" {
		b.WriteString(say("text.plan", "plan", terminal.Printable(t.Plan)))
	}
	b.WriteByte('\n')
	head := make([]string, len(t.Columns))
	widths := make([]int, len(t.Columns))
	for i, c := range t.Columns {
		head[i] = c.Head(t.Habit)
		widths[i] = terminal.Width(head[i])
		if c.Kind == Blank {
			widths[i] = max(widths[i], 10)
		}
	}
	shown := func(rows []Row, pen bool) [][]string {
		out := make([][]string, len(rows))
		for k, r := range rows {
			out[k] = make([]string, len(r.Cells))
			for i, x := range r.Cells {
				s := terminal.Printable(t.Columns[i].Show(x, t.Habit))
				if pen && x.Empty() && t.Columns[i].Kind == Blank {
					s = strings.Repeat("_", widths[i])
				}
				out[k][i] = s
				widths[i] = max(widths[i], terminal.Width(s))
			}
		}
		return out
	}
	rows, totals := shown(t.Rows, true), shown(t.Totals, false)
	line := func(cells []string) {
		end := 0 // blanks at the end of a line are left out
		for i, s := range cells {
			pad := widths[i] - terminal.Width(s)
			if t.Columns[i].Right() {
				end, pad = end+pad, 0
			}
			end += 2
			if s != "" {
				b.WriteString(strings.Repeat(" ", end) + s)
				end = 0
			}
			end += pad
		}
		b.WriteByte('\n')
	}
	if len(rows) > 0 {
		b.WriteByte('\n')
		line(head)
	}
	for i, r := range rows {
		if g := t.Rows[i].Group; g != "" && (i == 0 || t.Rows[i-1].Group != g) {
			b.WriteString("\n  " + terminal.Printable(g) + "\n")
		}
		line(r)
	}
	if len(totals) > 0 {
		b.WriteByte('\n')
	}
	for _, r := range totals {
		line(r)
	}
	for i, n := range t.Notes {
		if i == 0 {
			b.WriteByte('\n')
		}
		if n.Caution {
			b.WriteString(say("text.caution") + " ")
		}
		b.WriteString(terminal.Printable(n.Text) + "\n")
	}
	return b.Flush()
}
