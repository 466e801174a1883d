package sheets

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"regexp"
	"strings"
	"sync"
	"unicode"

	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

//go:embed page.html.tmpl
var pageText string

//go:embed page.css
var pageStyle string

// HTML writes the sheets as one page that holds all it needs, and no script.
func (d *Document) HTML() ([]byte, error) {
	page, err := template.New("page").Funcs(template.FuncMap{
		"full": withContent,
		"say":  func(key string) string { return say(key) },
		"kind": func(b Block) string { return fmt.Sprintf("%T", b)[len("sheets."):] },
		"svg":  func(s *drawing.Scene) template.HTML { return template.HTML(s.SVG()) }, // it escapes what it holds
		"show": func(t *lists.Table, r lists.Row, i int) string {
			return typeset(t.Columns[i].Show(r.Cells[i], t.Habit))
		},
		"set":    typeset,
		"parted": parted,
		"right":  func(t *lists.Table, i int) bool { return t.Columns[i].Right() },
		"blank":  func(t *lists.Table, i int) bool { return t.Columns[i].Kind == lists.Blank },
		"ticked": func(t *lists.Table, i int) bool { return t.Columns[i].Kind == lists.Blank && ticked(t.Columns[i]) },
		"head":   func(t *lists.Table, c lists.Column) string { return upper(c.Head(t.Habit)) },
		"upper":  upper,
		"begins": func(t *lists.Table, i int) bool {
			return t.Groups != "" && t.Rows[i].Group != "" && (i == 0 || t.Rows[i-1].Group != t.Rows[i].Group)
		},
	}).Parse(pageText)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = page.Execute(&b, map[string]any{"Doc": d, "Style": template.CSS(typeface() + pageStyle)}) // our own text, embedded
	return b.Bytes(), err
}

// parted writes what stands in a cell so that a line ends at a space, or in a
// name of the plan after a dot: nowhere within a word, nor between a figure and
// its unit.
func parted(s string) template.HTML {
	words := strings.Split(readings().ReplaceAllString(s, "$1\u00a0$2$3"), " ")
	for i, w := range words {
		parts := []string{w}
		if !strings.ContainsRune(w, '\u00a0') && strings.ContainsFunc(w, unicode.IsLower) {
			parts = strings.SplitAfter(w, ".")
		}
		for j, p := range parts {
			parts[j] = template.HTMLEscapeString(p)
			if strings.Contains(p, "-") && len(p) <= longestName {
				parts[j] = `<span class="whole">` + parts[j] + "</span>"
			}
		}
		words[i] = strings.Join(parts, "<wbr>")
	}
	return template.HTML(strings.Join(words, " "))
}

// longestName is what is never parted at its hyphens, in bytes.
const longestName = 40

var readings = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(\d) (mm²|[mc]?m|AWG|[mk]?Ω|[VAW]|mA|%|°[CF]|px)([ ,;:.)]|$)`)
})

// typeface brings the family along, so that a page looks the same everywhere.
var typeface = sync.OnceValue(func() string {
	out := ""
	for face, rule := range [...]string{drawing.Regular: "font-weight:400", drawing.Bold: "font-weight:700"} {
		out += fmt.Sprintf("@font-face{font-family:%q;%s;src:url(data:font/woff;base64,%s)}\n", drawing.Family, rule, base64.StdEncoding.EncodeToString(woff(drawing.Face(face).Data())))
	}
	return out
})

// withType puts the family into a picture that stands alone.
func withType(svg []byte) []byte {
	i := bytes.IndexByte(svg, '>') + 1
	return bytes.Join([][]byte{svg[:i], []byte("\n<style>\n" + typeface() + "</style>"), svg[i:]}, nil)
}
