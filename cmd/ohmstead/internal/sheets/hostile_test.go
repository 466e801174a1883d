package sheets

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"ohmstead/calc/quantity"
	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

// hostile are texts that no sheet may choke on.
var hostile = map[string]string{
	"script":        `</title></style><script>alert(1)</script><img src=x onerror=alert(1)>`,
	"entities":      `&lt;script&gt; ' " -- ]]> <!--`,
	"long":          strings.Repeat("Wall ", 2000),
	"one word":      strings.Repeat("W", 10000),
	"right to left": "שלום עולם \u202eabc\u202c مرحبا",
	"formula":       `=HYPERLINK("http://example.org";"x")`,
	"no letters":    "\u200b\u2028漢字🎄",
	"braces":        "{page} {{.Doc}} ${x} %s %!d(MISSING)",
	"pdf":           `) Tj ET (\) \( \\ endstream endobj`,
}

// plan of which the title, a note and a surface's material are a hostile text.
func hostilePlan(text string) string {
	q := strings.NewReplacer("\\", "\\\\", "\"", "\\\"", "${", "$${", "%{", "%%{").Replace(text)
	return strings.Replace(`plan "p" {
  title = "T"
  note  = "T"
  mains = "230 V"
}
surface "s" {
  width    = "2 m"
  height   = "1 m"
  material = "T"
  keepout "door" {
    from = ["10 cm", "10 cm"]
    to   = ["20 cm", "20 cm"]
    why  = "T"
  }
}
supply "b" {
  output = "12 V"
  rating = "5 A"
  source = "T"
}
wire "w" { gauge = "1.5 mm2" }
run "r" {
  strip   = catalog.ws2815_12v_60
  on      = surface.s
  through = [["10 cm", "50 cm"], ["150 cm", "50 cm"]]
}
lead "l" {
  from = supply.b.out
  to   = run.r.start
  wire = wire.w
  length = "1 m"
  fuse = "3 A"
}
`, `"T"`, `"`+q+`"`, -1)
}

func TestHostileTexts(t *testing.T) {
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			d := made(t, hostilePlan(text), func(j *Job) { j.Stamp = Stamp{By: text, Revision: text, Date: text} })
			if d.Alarm != "" && strings.Contains(d.Alarm, "read") {
				t.Fatalf("the plan does not decode: %s", d.Alarm)
			}
			files, err := d.Files(t.Context(), papers[0], 10, func() {})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range files {
				switch {
				case strings.HasSuffix(f.Name, ".html"):
					harmlessHTML(t, f.Data)
				case strings.HasSuffix(f.Name, ".svg"):
					wellFormed(t, f.Name, f.Data)
				case strings.HasSuffix(f.Name, ".csv"):
					harmlessCSV(t, f)
				case strings.HasSuffix(f.Name, ".pdf"):
					if n := len(readPDF(t, f.Data)); n < 5 || n > 60 {
						t.Errorf("%d pages", n)
					}
				}
				if strings.ContainsAny(f.Name, "/\\<>:\"|?* ") {
					t.Errorf("a file is called %q", f.Name)
				}
			}
		})
	}
}

// harmlessHTML knows elements and attributes by a tokenizer of its own: any that the page has not itself is foreign.
func harmlessHTML(t *testing.T, page []byte) {
	t.Helper()
	lower := strings.ToLower(string(page))
	for _, bad := range []string{"<script", "<img", "<iframe", "<object", "<embed", "<link", "<base", "<form", "<!--", "javascript:", "http://", "https://"} {
		if i := strings.Index(lower, bad); i >= 0 {
			around := lower[i:min(i+80, len(lower))]
			if strings.HasPrefix(around, "http://www.w3.org/2000/svg") {
				lower = lower[:i] + lower[i+7:]
				continue
			}
			if strings.HasPrefix(bad, "http") || bad == "javascript:" { // as text it does nothing
				continue
			}
			t.Errorf("the page has %q", around)
		}
	}
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if strings.HasPrefix(strings.ToLower(a.Name.Local), "on") {
					t.Errorf("<%s> has %s", e.Name.Local, a.Name.Local)
				}
			}
		}
	}
}

func wellFormed(t *testing.T, name string, data []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "script" {
			t.Errorf("%s holds a script", name)
		}
	}
}

func harmlessCSV(t *testing.T, f File) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(f.Data)).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", f.Name, err)
	}
	for _, r := range rows {
		for _, x := range r {
			if x != "" && strings.ContainsRune("=+@\t\r", rune(x[0])) {
				t.Errorf("%s: a spreadsheet reckons with %q", f.Name, short(x, 60))
			}
		}
	}
}

// What the font lacks is seen to be missing, and nothing else changes.
func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"Bögen, 12 Ω ± 3 %": "Bögen, 12 Ω ± 3 %",
		"漢字 a":              "�� a",
		"a\u202eb":          "a�b",
		"a\nb\tc":           "a b c",
		"a\x00b":            "a�b",
		"Жук":               "Жук",
		"2 x 1.5 mm2":       "2 x 1.5 mm²",
		"about 25 degC":     "about 25 °C",
		"house of ohm":      "house of ohm",
	} {
		if got := printable(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

// Lines are no wider than they may be, and together are the text.
func TestWrap(t *testing.T) {
	for name, text := range hostile {
		for _, w := range []float64{3, 30, 190} {
			lines := wrap(text, w, body, drawing.Regular, 20)
			for _, l := range lines {
				if drawing.TextWidth(drawing.Regular, body, l) > w+body && utf8.RuneCountInString(strings.TrimSuffix(l, "…")) > 1 {
					t.Errorf("%s in %g mm: %q is wider", name, w, short(l, 40))
				}
			}
			whole := strings.Join(strings.Fields(printable(text)), "")
			if got := strings.Join(strings.Fields(strings.Join(lines, "")), ""); got != whole && len(lines) < 20 {
				t.Errorf("%s in %g mm reads %q", name, w, short(got, 60))
			}
		}
	}
}

// Rows stay whole and heads come again, also where a cell holds more than a page.
func TestLongTables(t *testing.T) {
	table := &lists.Table{Name: "t", Title: "T", Columns: []lists.Column{column("a", "name"), measured(quantity.Voltage, "V", "b", "volts", 2)}}
	for i := range 200 {
		table.Rows = append(table.Rows, lists.Row{Cells: []lists.Cell{words(strings.Repeat("word ", 1+i*7%90)), number(float64(i) / 3)}})
	}
	d := &Document{Name: "p", Title: "P", Sheets: []*Sheet{{Name: "t", Title: "T", Blocks: []Block{Table{table}}}}}
	leafs := layOut(d, page{papers[0], 10})
	if len(leafs) < 5 {
		t.Fatalf("%d pages", len(leafs))
	}
	for i, l := range leafs {
		heads, point := 0, map[int]bool{}
		for _, m := range l.marks {
			x, ok := m.(*drawing.Text)
			if !ok {
				continue
			}
			if x.S == "Name" {
				heads++
			}
			if x.At.Y > l.Height-l.margin {
				t.Errorf("page %d: %q stands below the margin", i+1, x.S)
			}
			if whole, rest := split(x.S); len(rest) == 3 && x.Face == drawing.Regular && x.Size != small {
				point[int((x.At.X+drawing.TextWidth(x.Face, x.Size, whole))*100)] = true
			}
		}
		if heads != 1 {
			t.Errorf("page %d has %d heads", i+1, heads)
		}
		if len(point) > 1 {
			t.Errorf("page %d: decimal points stand at %v", i+1, point)
		}
	}
}
