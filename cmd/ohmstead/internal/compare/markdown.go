package compare

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"ohmstead/calc/quantity"
	"ohmstead/lint/terminal"
	"ohmstead/schema"
)

// Marker is the first line of the markdown: a comment that a reader does not
// see, by which a program finds the comment that it wrote before.
const Marker = "<!-- ohmstead compare -->"

// mostCharacters bounds the markdown: forges refuse longer comments (65,536
// characters at the strictest).
const mostCharacters = 60_000

// mostWords bounds a line of the summary and a cell of a table, in characters.
const mostWords = 800

// mostRows bounds a table in the markdown.
const mostRows = 60

// Markdown writes the report as a review comment: what happens on the wall
// first, the tables folded away. It is never longer than 60,000 characters;
// what does not fit is left out with a note.
func Markdown(w io.Writer, r *Report) error {
	_, err := io.WriteString(w, markdown(r, mostCharacters))
	return err
}

func markdown(r *Report, most int) string {
	head := Marker + "\n"
	for i, l := range r.top() {
		if i == 0 {
			head += "**" + prose(capital(l)) + ".**\n"
			continue
		}
		if i == 1 {
			head += "\n"
		}
		head += "- " + prose(clip(l, mostWords)) + "\n"
	}
	foot := fmt.Sprintf("\n<sub>%s → %s; moves over %s are told; ohmstead %s.</sub>\n", code(r.Base), code(r.Head), quantity.Show(quantity.Share, r.Threshold), prose(r.Version))
	const notes = 300 // what the notes on things left out may take
	room := most - utf8.RuneCountInString(head+foot) - notes
	fits := func(s string) bool {
		n := utf8.RuneCountInString(s)
		if n > room {
			return false
		}
		room -= n
		return true
	}

	type section struct {
		summary string
		details []string
		kept    []bool
	}
	var sections []section
	unseen := []string{}
	for _, g := range r.groups() {
		s := section{summary: g.markdownSummary(r)}
		if len(unseen) > 0 || !fits(s.summary) {
			for _, p := range g.plans {
				unseen = append(unseen, r.label(p))
			}
			continue
		}
		s.details = g.lead.markdownDetails()
		s.kept = make([]bool, len(s.details))
		sections = append(sections, s)
	}
	dropped := 0
	for depth, more := 0, true; more; depth++ { // the gravest table of every plan before the next one of any
		more = false
		for i := range sections {
			if depth >= len(sections[i].details) {
				continue
			}
			more = true
			if sections[i].kept[depth] = fits(sections[i].details[depth]); !sections[i].kept[depth] {
				dropped++
			}
		}
	}
	var b strings.Builder
	b.WriteString(head)
	for _, s := range sections {
		b.WriteString(s.summary)
		for i, d := range s.details {
			if s.kept[i] {
				b.WriteString(d)
			}
		}
	}
	if dropped > 0 || len(unseen) > 0 {
		var what []string
		if len(unseen) > 0 { // the plans are in the order of what there is to know of them
			what = append(what, fmt.Sprintf("%s of less weight (%s)", countOf(len(unseen), "more plan", "more plans"), prose(clip(listed(unseen, 5), 150))))
		}
		if dropped > 0 {
			what = append(what, countOf(dropped, "table", "tables"))
		}
		fmt.Fprintf(&b, "\n> Left out, because a comment holds only so much: %s. `ohmstead compare --format html` shows everything.\n", strings.Join(what, " and "))
	}
	b.WriteString(foot)
	return b.String()
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (g group) markdownSummary(r *Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n### %s\n\n", escape(g.heading(r)))
	for _, x := range g.summary(r) {
		fmt.Fprintf(&b, "- **%s:** %s.\n", x.About, prose(clip(x.Text, mostWords)))
	}
	return b.String()
}

func (p *Plan) markdownDetails() []string {
	var out []string
	for _, t := range p.tables() {
		out = append(out, fold(t.title, t.markdown()))
	}
	if profiles, left := p.drawn(mostProfiles); len(profiles) > 0 {
		var b strings.Builder
		b.WriteString("```text\n")
		for _, x := range profiles {
			b.WriteString(strings.ReplaceAll(x.spark(), "```", "'''"))
		}
		b.WriteString("```\n")
		if left > 0 {
			fmt.Fprintf(&b, "\nand %s\n", countOf(left, "more run", "more runs"))
		}
		out = append(out, fold("Voltage along the runs", b.String()))
	}
	return out
}

func fold(title, body string) string {
	return fmt.Sprintf("\n<details><summary>%s</summary>\n\n%s\n</details>\n", escape(title), body)
}

func (t table) markdown() string {
	var b strings.Builder
	line := func(cells []string) { b.WriteString("| " + strings.Join(cells, " | ") + " |\n") }
	line(t.head)
	rule := make([]string, len(t.head))
	for i := range rule {
		rule[i] = "---"
		if i < len(t.right) && t.right[i] {
			rule[i] = "--:"
		}
	}
	line(rule)
	for i, r := range t.rows {
		if i == mostRows {
			fmt.Fprintf(&b, "\nand %s\n", countOf(len(t.rows)-i, "more row", "more rows"))
			break
		}
		cells := make([]string, len(r.cells))
		for k, c := range r.cells {
			cells[k] = prose(clip(c, mostWords))
			if r.marked && c != "" && k == len(r.cells)-2 {
				cells[k] = "**" + cells[k] + "**"
			}
		}
		line(cells)
	}
	return b.String()
}

// prose escapes a text and sets addresses of blocks as code.
func prose(s string) string {
	s = oneLine(s)
	var b strings.Builder
	at := 0
	for _, m := range addresses(s) {
		b.WriteString(escape(s[at:m[0]]))
		b.WriteString(code(s[m[0]:m[1]]))
		at = m[1]
	}
	b.WriteString(escape(s[at:]))
	return b.String()
}

// addresses finds what reads as the address of a block in a text.
func addresses(s string) [][]int {
	return slices.DeleteFunc(address().FindAllStringIndex(s, -1), func(m []int) bool {
		kind, _, _ := strings.Cut(s[m[0]:m[1]], ".")
		_, ok := schema.TypeNamed(kind)
		inPath := m[0] > 0 && s[m[0]-1] == '/' || strings.HasSuffix(s[m[0]:m[1]], ".hcl")
		return inPath || !ok && kind != "catalog"
	})
}

// special matches what markdown or HTML would take for markup.
var special = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile("[\\\\`*_\\[\\]<>|~#!]") })

// escape keeps a text from being read as markup, and from calling people: a
// forge turns @NAME into a message to NAME.
func escape(s string) string {
	s = strings.ReplaceAll(terminal.Printable(s), "&", "&amp;")
	s = special().ReplaceAllStringFunc(s, func(c string) string {
		switch c {
		case "<":
			return "&lt;"
		case ">":
			return "&gt;"
		}
		return `\` + c
	})
	s = strings.ReplaceAll(s, "@", "@\u200b")
	return strings.ReplaceAll(s, "://", ":\u200b//")
}

// code sets a text as code, whatever it holds.
func code(s string) string {
	s = strings.ReplaceAll(oneLine(terminal.Printable(s)), "|", "¦") // ends a table's cell even in code
	if s == "" {
		return ""
	}
	fence := "`"
	for strings.Contains(s, fence) {
		fence += "`"
	}
	if len(fence) > 1 {
		return fence + " " + s + " " + fence
	}
	return fence + s + fence
}
