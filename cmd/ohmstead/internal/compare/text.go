package compare

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Text writes the report for a terminal.
func Text(w io.Writer, r *Report) error {
	var b strings.Builder
	if r.Total > 1 || len(r.Plans) == 0 {
		fmt.Fprintf(&b, "%s\n\n", r.headline())
	}
	for i, p := range r.Plans {
		if i > 0 {
			b.WriteByte('\n')
		}
		p.text(&b)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// headline says how many plans change.
func (r *Report) headline() string {
	of := ""
	if r.Total > 1 {
		of = fmt.Sprintf(" of %d", r.Total)
	}
	var names []string
	for _, p := range r.Plans {
		n := p.Name
		if n == "" {
			n = p.Dir
		}
		names = append(names, n)
	}
	switch len(r.Plans) {
	case 0:
		return "nothing changes on any wall"
	case 1:
		return fmt.Sprintf("1%s plan%s changes: %s", of, plural(r.Total), names[0])
	}
	return fmt.Sprintf("%d%s plans change: %s", len(r.Plans), of, listed(names, 8))
}

func plural(n int) string {
	if n > 1 {
		return "s"
	}
	return ""
}

// mostProfiles is how many profiles a text shows.
const mostProfiles = 6

func (p *Plan) text(b *strings.Builder) {
	title := p.heading()
	fmt.Fprintf(b, "%s\n%s\n", title, strings.Repeat("=", utf8.RuneCountInString(title)))
	for _, x := range p.Summary() {
		fmt.Fprintf(b, "%-10s %s\n", x.About, x.Text)
	}
	profiles, left := p.drawn(mostProfiles)
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
