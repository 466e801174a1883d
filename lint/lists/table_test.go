package lists

import (
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

func sample(h quantity.Habit) *Table {
	t := &Table{Name: "sample", Title: "Sample", Plan: "p", Groups: "cut from", Habit: h, Columns: []Column{
		textColumn("what"), countColumn("n"), lengthColumn(h, "length"),
		measureColumn(quantity.Voltage, "drop", 2), {Key: "read", Kind: Blank},
	}}
	for i, title := range []string{"what", "pieces", "cut length", "drop", "read"} {
		t.Columns[i].Title = title
	}
	t.add("reel 1", nil, words("=2+3"), count(-2), number(1.2004), number(0.456), Cell{})
	t.add("reel 1", nil, words("a \"b\", c\nd"), count(12), number(12), Cell{}, Cell{})
	t.add("reel 2", &schema.Lead{Header: schema.Header{Name: "left", Type: &schema.BlockType{Name: "lead", Label: "name"}}}, words("left"), count(1), number(0.9), number(-0.001), Cell{})
	t.Totals = append(t.Totals, Row{Cells: []Cell{words("all"), count(11), number(14.1), {}, {}}})
	t.note(true, "Fuses out.")
	t.note(true, "Fuses out.")
	return t
}

// Quotes, line ends and CRLF after RFC 4180, sections 2.1 to 2.7; the apostrophe
// after OWASP, CSV Injection.
func TestCSV(t *testing.T) {
	var b strings.Builder
	if err := sample(quantity.Metric).CSV(&b); err != nil {
		t.Fatal(err)
	}
	want := "cut from,what,pieces,cut length (m),drop (V),read\r\n" +
		"reel 1,'=2+3,-2,1.2,0.46,\r\n" +
		"reel 1,\"a \"\"b\"\", c d\",12,12,,\r\n" +
		"reel 2,left,1,0.9,0,\r\n"
	if b.String() != want {
		t.Errorf("got %q\nwant %q", b.String(), want)
	}
	b.Reset()
	if err := sample(quantity.Imperial).CSV(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "cut length (in)") || !strings.Contains(b.String(), ",47.26,") { // 1.2004 m / 25.4 mm
		t.Errorf("%s", b.String())
	}
}

func TestFormulasAreText(t *testing.T) {
	for s, want := range map[string]string{
		"=1": "'=1", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "' =1", "\n=1": "' =1", "＝1": "'＝1", "-": "'-",
		"\r=1": "\ufffd=1", "\x1b[2J": "\ufffd[2J", "\xff=": "\ufffd=", "": "", "a=1": "a=1", "'=1": "'=1", "é": "é", "1-2": "1-2",
	} {
		if got := harmless(s); got != want {
			t.Errorf("%q became %q, want %q", s, got, want)
		}
	}
}

func TestJSON(t *testing.T) {
	var b strings.Builder
	if err := sample(quantity.Imperial).JSON(&b); err != nil {
		t.Fatal(err)
	}
	var got struct {
		List    string
		Columns []struct{ Key, Kind, Unit string }
		Rows    []map[string]any
		Totals  []map[string]any
		Notes   []Note
	}
	if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
		t.Fatal(err)
	}
	if c := got.Columns[2]; c.Key != "length" || c.Kind != "length" || c.Unit != "m" {
		t.Errorf("%+v", c)
	}
	if r := got.Rows[0]; r["length"] != 1.2004 || r["what"] != "=2+3" || r["read"] != nil || r["group"] != "reel 1" || r["block"] != "" {
		t.Errorf("%v", r)
	}
	if r := got.Rows[2]; r["block"] != "lead.left" {
		t.Errorf("%v", r)
	}
	if got.List != "sample" || len(got.Totals) != 1 || len(got.Notes) != 1 || !got.Notes[0].Caution {
		t.Errorf("%s", b.String())
	}
}

func TestText(t *testing.T) {
	for h, want := range map[quantity.Habit]string{quantity.Metric: `Sample, plan p

  what        pieces  cut length (m)  drop (V)  read

  reel 1
  =2+3            -2           1.200      0.46  __________
  a "b", c d      12          12.000            __________

  reel 2
  left             1           0.900      0.00  __________

  all             11          14.100

CAUTION: Fuses out.
`, quantity.Imperial: `Sample, plan p

  what        pieces       cut length  drop (V)  read

  reel 1
  =2+3            -2   3 ft 11 1/4 in      0.46  __________
  a "b", c d      12  39 ft 4 7/16 in            __________

  reel 2
  left             1       35 7/16 in      0.00  __________

  all             11   46 ft 3 1/8 in

CAUTION: Fuses out.
`} {
		var b strings.Builder
		if err := sample(h).Text(&b); err != nil {
			t.Fatal(err)
		}
		if b.String() != want {
			t.Errorf("got:\n%s\nwant:\n%s", b.String(), want)
		}
	}
}

func FuzzCSV(f *testing.F) {
	f.Add("=cmd|' /C calc'!A0", "\"\r\n")
	f.Fuzz(func(t *testing.T, a, b string) {
		tab := &Table{Columns: []Column{{Key: "a", Title: a, Kind: Text}, {Key: "b", Title: "b", Kind: Text}}}
		tab.add("", nil, words(a), words(b))
		var out strings.Builder
		if err := tab.CSV(&out); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(out.String())).ReadAll()
		if err != nil || len(rows) != 2 || len(rows[1]) != 2 {
			t.Fatalf("%q: %v", out.String(), err)
		}
		for _, r := range rows {
			for _, cell := range r {
				if cell != "" && strings.ContainsRune(formulaic, []rune(cell)[0]) {
					t.Errorf("%q is a formula", cell)
				}
			}
		}
	})
}
