package compare

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"ohmstead/lint/terminal"
)

// Text writes the report for a terminal.
func Text(w io.Writer, r *Report) error {
	var b strings.Builder
	for _, l := range r.top() {
		b.WriteString(terminal.Printable(l) + "\n")
	}
	short := 0
	for i, g := range r.groups() {
		b.WriteByte('\n')
		whole := i < wholeGroups || g.lead.gravity() >= otherWarning
		g.text(&b, r, whole)
		if !whole {
			short++
		}
	}
	if short > 0 {
		fmt.Fprintf(&b, "\nTables are left out of %s of less weight: ohmstead compare --format html shows them.\n", countOf(short, "paragraph", "paragraphs"))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// wholeGroups is how many paragraphs come with their tables whatever they tell.
const wholeGroups = 2

// mostProfiles is how many profiles a text shows.
const mostProfiles = 6

func (g group) text(b *strings.Builder, r *Report, whole bool) {
	p := g.lead
	title := terminal.Printable(g.heading(r))
	fmt.Fprintf(b, "%s\n%s\n", title, strings.Repeat("=", utf8.RuneCountInString(title)))
	for _, x := range g.summary(r) {
		fmt.Fprintf(b, "%-10s %s\n", x.About, terminal.Printable(x.Text))
	}
	if !whole {
		return
	}
	profiles, left := p.drawn(mostProfiles)
	if p.Status == Added {
		profiles = nil // there is nothing to hold them against
	}
	for _, t := range p.tables() {
		fmt.Fprintf(b, "\n%s\n", t.title)
		t.text(b)
	}
	if len(profiles) > 0 {
		b.WriteString("\nVoltage along the runs\n")
		for _, x := range profiles {
			b.WriteString("  " + strings.ReplaceAll(strings.TrimRight(x.spark(), "\n"), "\n", "\n  ") + "\n")
		}
		if left > 0 {
			fmt.Fprintf(b, "  and %s\n", countOf(left, "more run", "more runs"))
		}
	}
}

// heading names the plan.
func (p *Plan) heading() string {
	s := clip(oneLine(p.Title), 120)
	if p.Name != "" && p.Name != p.Title {
		s += " (" + clip(oneLine(p.Name), 60) + ")"
	}
	switch p.Status {
	case Added:
		s += ": new"
	case Removed:
		s += ": removed"
	}
	return s
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// widest is the most characters that a column is padded to.
const widest = 44

func (t table) text(b *strings.Builder) {
	width := make([]int, len(t.head))
	for i, r := range t.rows {
		cells := make([]string, len(r.cells))
		for k, c := range r.cells {
			cells[k] = terminal.Printable(c)
		}
		t.rows[i].cells = cells
	}
	for _, r := range append([]row{{cells: t.head}}, t.rows...) {
		for i, c := range r.cells {
			width[i] = max(width[i], min(widest, utf8.RuneCountInString(c)))
		}
	}
	line := func(cells []string, mark string) {
		out := mark
		for i, c := range cells {
			space := strings.Repeat(" ", max(0, width[i]-utf8.RuneCountInString(c)))
			if i < len(t.right) && t.right[i] {
				out += space + c + "  "
			} else {
				out += c + space + "  "
			}
		}
		b.WriteString(strings.TrimRight(out, " ") + "\n")
	}
	line(t.head, "  ")
	for _, r := range t.rows {
		mark := "  "
		if r.marked {
			mark = "! "
		}
		line(r.cells, mark)
	}
}
