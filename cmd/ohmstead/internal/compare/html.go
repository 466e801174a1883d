package compare

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"sync"

	"ohmstead/calc/quantity"
	"ohmstead/lint/terminal"
)

//go:embed page.html.tmpl
var pageText string

//go:embed page.css
var pageStyle string

// page is parsed when it is wanted: other commands start without it.
var page = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{"marked": marked}).Parse(pageText))
})

// HTML writes the report as one page that holds all it needs, for a screen and
// for paper.
func HTML(w io.Writer, r *Report) error {
	type plan struct {
		Heading, Dir   string
		Short, Verdict string
		Also           []string // directories of plans that are alike
		Summary        []Point
		Tables         []htmlTable
		Moved          []template.HTML // pictures; they escape what they hold
		Drawings       []profileDrawing
		Left           int
	}
	var plans []plan
	for _, g := range r.groups() {
		p := g.lead
		x := plan{Heading: terminal.Printable(p.heading()), Dir: p.Dir, Short: g.short(r), Verdict: terminal.Printable(g.verdict()), Summary: g.summary(r)}
		if len(g.plans) > 1 {
			x.Heading = terminal.Printable(g.heading(r))
		}
		for _, other := range g.plans {
			if other != p {
				x.Also = append(x.Also, other.Dir)
			}
		}
		for _, t := range p.tables() {
			x.Tables = append(x.Tables, t.html())
		}
		for _, s := range p.pictures {
			x.Moved = append(x.Moved, template.HTML(s.SVG()))
		}
		profiles, left := p.drawn(24)
		for _, q := range profiles {
			x.Drawings = append(x.Drawings, draw(q))
		}
		x.Left = left
		plans = append(plans, x)
	}
	return page().Execute(w, map[string]any{
		"Style":     template.CSS(pageStyle), // our own file, embedded
		"Headline":  capital(r.headline()),
		"News":      r.top()[1:],
		"Base":      r.Base,
		"Head":      r.Head,
		"Version":   r.Version,
		"Threshold": quantity.Show(quantity.Share, r.Threshold),
		"Plans":     plans,
		"Several":   r.Total > 1 || len(r.Plans) != 1,
	})
}

type htmlTable struct {
	Title string
	Head  []htmlCell
	Rows  []htmlRow
}

type htmlRow struct {
	Marked bool
	Cells  []htmlCell
}

type htmlCell struct {
	Text  string
	Right bool
}

func (t table) html() htmlTable {
	cells := func(texts []string) []htmlCell {
		out := make([]htmlCell, len(texts))
		for i, c := range texts {
			out[i] = htmlCell{c, i < len(t.right) && t.right[i]}
		}
		return out
	}
	out := htmlTable{Title: t.title, Head: cells(t.head)}
	for _, r := range t.rows {
		out.Rows = append(out.Rows, htmlRow{r.marked, cells(r.cells)})
	}
	return out
}

// marked escapes a text and sets addresses of blocks as code.
func marked(s string) template.HTML {
	s = terminal.Printable(s)
	var b strings.Builder
	at := 0
	for _, m := range addresses(s) {
		b.WriteString(template.HTMLEscapeString(s[at:m[0]]))
		fmt.Fprintf(&b, "<code>%s</code>", template.HTMLEscapeString(s[m[0]:m[1]]))
		at = m[1]
	}
	b.WriteString(template.HTMLEscapeString(s[at:]))
	return template.HTML(b.String()) // every part was escaped above
}
