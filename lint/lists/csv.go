package lists

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmstead/lint/terminal"
)

// CSV writes the table after RFC 4180, with a line of titles. Numbers are plain
// numbers in the unit that the title names. Totals and notes are left out.
//
// A spreadsheet takes a text that begins with one of a few characters for a
// formula and runs it. Such a text gets an apostrophe before it, by which a
// spreadsheet knows it for text. Source: OWASP, CSV Injection. Nothing but text stands in a text (section 2.6 of the
// RFC and its grammar): control characters are replaced, and a cell is one line.
func (t *Table) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var line []string
	if t.Groups != "" {
		line = append(line, harmless(t.Groups))
	}
	for _, c := range t.Columns {
		title := c.Title
		if c.Unit.Symbol != "" {
			title += " (" + c.Unit.Symbol + ")"
		}
		line = append(line, harmless(title))
	}
	if err := out.Write(line); err != nil {
		return err
	}
	for _, r := range t.Rows {
		line = line[:0]
		if t.Groups != "" {
			line = append(line, harmless(r.Group))
		}
		for i, x := range r.Cells {
			line = append(line, t.Columns[i].plain(x))
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func (c Column) plain(x Cell) string {
	if x.Numeric {
		return strconv.FormatFloat(c.In(x), 'f', -1, 64)
	}
	return harmless(x.Text)
}

// formulaic are the characters at which a spreadsheet begins to reckon, the last four as some take them in East Asian
// writing. Tabs and line ends are blanks by then.
const formulaic = "=+-@＝＋－＠"

// harmless is a text that no spreadsheet runs and that does not steer a terminal.
func harmless(s string) string {
	s = terminal.Printable(s)
	if r, _ := utf8.DecodeRuneInString(strings.TrimLeft(s, " ")); strings.ContainsRune(formulaic, r) {
		return "'" + s
	}
	return s
}
