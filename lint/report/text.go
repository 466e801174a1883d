package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// Style says how text is written.
type Style struct {
	Color bool                // with ANSI colours
	Path  func(string) string // how a path is shown; nil shows it as it is
	// Signed says at the end by which version it was judged: for what is kept.
	Signed bool
}

func (s Style) path(p string) string {
	if s.Path == nil {
		return p
	}
	return s.Path(p)
}

// paint wraps text in an ANSI colour (ECMA-48 SGR).
func (s Style) paint(sgr, text string) string {
	if !s.Color || text == "" {
		return text
	}
	return "\x1b[" + sgr + "m" + text + "\x1b[0m"
}

var levelPaint = map[lint.Level]string{lint.Error: "1;31", lint.Warning: "1;33", lint.Hint: "1;36"}

// Text writes findings for a person: each with its line of the file, a mark
// under the place, what to do, other places and the fixes on offer; then a
// summary line, what is not shown, and what the summary stands on.
func Text(w io.Writer, r *Run, s Style) error {
	b := bufio.NewWriter(w)
	for _, p := range r.Plans {
		s.alarms(b, r, p)
	}
	for f := range r.All {
		s.finding(b, f)
	}
	for _, p := range r.Plans {
		for _, n := range p.Unjudged {
			fmt.Fprintf(b, "%s: %s\n", s.paint("1", s.where(n.Place, p.Dir)), terminal.Printable(n.Message))
		}
	}
	for _, p := range r.Plans {
		for _, n := range p.Open {
			fmt.Fprintf(b, "%s: open: %s\n", s.paint("1", s.where(n.Place, p.Dir)), terminal.Printable(n.Message))
		}
	}
	fmt.Fprintln(b, r.Summary())
	s.hidden(b, r)
	s.policies(b, r)
	whole := !slices.ContainsFunc(r.Plans, func(p *Plan) bool { return len(p.Unjudged) > 0 })
	if len(r.Plans) > 0 && whole && r.Count(lint.Error)+r.Count(lint.Warning) == 0 {
		b.WriteString(Scope())
	}
	if s.Signed {
		fmt.Fprintf(b, "ohmstead %s and its %s\n", r.Version, quantity.Count(len(r.Rules), "rule"))
	}
	return b.Flush()
}

// policies tells what is judged otherwise than before, what several plans have in
// common once.
func (s Style) policies(b *bufio.Writer, r *Run) {
	of := map[string][]string{}
	var order []string
	for _, p := range r.Policies {
		if of[p.Text] == nil {
			order = append(order, p.Text)
		}
		of[p.Text] = append(of[p.Text], s.path(p.Plan))
	}
	for _, text := range order {
		where := of[text][0]
		if n := len(of[text]) - 1; n > 0 {
			where += fmt.Sprintf(" and %d more", n)
		}
		fmt.Fprintf(b, "judged otherwise than before: %s: %s\n", terminal.Printable(where), terminal.Printable(text))
	}
}

// alarms tells the guards of a plan that are newly hidden, those that one comment or
// entry hides together.
func (s Style) alarms(b *bufio.Writer, r *Run, p *Plan) {
	type same struct {
		rule string
		by   Place
	}
	n := map[same]int{}
	for _, h := range p.Hidden {
		if r.alarms(h) {
			n[same{h.Rule, h.By}]++
		}
	}
	for _, h := range p.Hidden {
		k := same{h.Rule, h.By}
		if !r.alarms(h) || n[k] == 0 {
			continue
		}
		more := ""
		if n[k] > 1 {
			more = fmt.Sprintf(" (and %d more)", n[k]-1)
		}
		n[k] = 0
		fmt.Fprintf(b, "%s: %s: %s newly hidden, %s %s\n", s.paint("1", s.where(h.Place, h.Plan)), s.paint(levelPaint[lint.Error], "error"), h.Rule, terminal.Printable(h.how()), s.paint("2", "["+h.Rule+"]"))
		fmt.Fprintf(b, "  = it hides: %s%s\n\n", terminal.Printable(h.Message), more)
	}
}

func (s Style) finding(b *bufio.Writer, f *Finding) {
	what, advice, _ := strings.Cut(f.Message, "; ")
	fmt.Fprintf(b, "%s: %s: %s %s\n", s.paint("1", s.where(f.Place, f.Plan)), s.paint(levelPaint[f.Level], f.Level.String()),
		terminal.Printable(what), s.paint("2", "["+f.Rule+"]"))
	gutter := s.excerpt(b, f.Place, levelPaint[f.Level])
	line := func(label, text string) {
		fmt.Fprintf(b, "%s %s %s %s\n", gutter, s.paint("2", "="), s.paint("1", label+":"), terminal.Printable(text))
	}
	if advice != "" {
		line("do", advice)
	}
	for _, n := range f.Notes {
		line("see", s.where(n.Place, "")+": "+n.Message)
	}
	shown := map[schema.Grade]bool{} // only the first of a grade is what the command takes
	for _, x := range f.Repairs {
		how := x.Grade.Caution()
		switch {
		case x.Grade == schema.GradeFact:
		case shown[x.Grade] || shown[schema.GradeNotation]:
		case x.Grade == schema.GradeNotation:
			how = " (ohmstead fix)"
		default:
			how = " (ohmstead fix --choose " + f.Rule + ")"
		}
		shown[x.Grade] = true
		line("fix", x.Title+how)
	}
	b.WriteByte('\n')
}

// where writes path:line:column, or the plan's directory where there is no file.
func (s Style) where(p Place, dir string) string {
	if p.Text == nil {
		return terminal.Printable(s.path(dir))
	}
	line, column := p.From()
	return fmt.Sprintf("%s:%d:%d", terminal.Printable(s.path(p.Path())), line, column)
}

// mostColumns is how much of a long line an excerpt shows.
const mostColumns = 120

// excerpt writes the first line of a place with a mark below it, and returns
// the indentation of what belongs to it.
func (s Style) excerpt(b *bufio.Writer, p Place, paint string) string {
	if p.Text == nil || p.Start == 0 && p.End == 0 {
		return " "
	}
	number, _ := p.From()
	text := p.Text.Line(number - 1)
	start := min(max(p.Start-p.Text.LineStart(number-1), 0), len(text))
	end := min(max(p.End-p.Text.LineStart(number-1), start), len(text))
	before, marked, after := cells(text[:start]), cells(text[start:end]), cells(text[end:])
	// What lies far before or behind the mark is left out.
	if n := terminal.Width(before); n > mostColumns/2 {
		before = "…" + terminal.Cut(before, n-mostColumns/2)
	}
	if n := terminal.Width(marked); n > mostColumns {
		marked = terminal.Keep(marked, mostColumns) + "…"
	}
	if terminal.Width(before)+terminal.Width(marked)+terminal.Width(after) > mostColumns {
		after = terminal.Keep(after, max(mostColumns-terminal.Width(before)-terminal.Width(marked), 0)) + "…"
	}
	gutter := strings.Repeat(" ", len(strconv.Itoa(number)))
	bar := s.paint("2", "|")
	fmt.Fprintf(b, "%s %s %s\n", s.paint("2", strconv.Itoa(number)), bar, strings.TrimRight(before+marked+after, " "))
	fmt.Fprintf(b, "%s %s %s%s\n", gutter, bar, strings.Repeat(" ", terminal.Width(before)), s.paint(paint, strings.Repeat("^", max(terminal.Width(marked), 1))))
	return gutter
}

// cells is a stretch of a line as a terminal shows it: tabs as four blanks,
// nothing that could steer the terminal.
func cells(text []byte) string {
	return terminal.Printable(strings.ReplaceAll(string(text), "\t", "    "))
}

// Summary is the run in one line.
func (r *Run) Summary() string {
	out := quantity.Count(len(r.Plans), "plan") + ": "
	var parts []string
	for _, l := range []lint.Level{lint.Error, lint.Warning, lint.Hint} {
		if n := r.Count(l); n > 0 {
			parts = append(parts, quantity.Count(n, l.String()))
		}
	}
	alarms := 0
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			if r.alarms(h) {
				alarms++
			}
		}
	}
	if alarms > 0 {
		parts = append([]string{quantity.Count(alarms, "newly silenced guard")}, parts...)
	}
	if r.Missed > 0 {
		parts = append(parts, quantity.Count(r.Missed, "plan")+" could not be judged")
	}
	if len(parts) == 0 {
		parts = []string{"nothing found"}
	}
	open := 0
	for _, p := range r.Plans {
		open += len(p.Open)
	}
	if open > 0 {
		parts = append(parts, lint.OpenQuestions(open))
	}
	out += strings.Join(parts, ", ")
	if r.Known > 0 {
		out += fmt.Sprintf(" (%d known before)", r.Known)
	}
	return out
}

// Bold is text in bold where the style has colours.
func (s Style) Bold(text string) string { return s.paint("1", text) }
