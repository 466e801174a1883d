package sheets

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"ohmstead/calc/quantity"
	"ohmstead/lint/lists"
)

// A library that did not write it reads the workbook: numbers are numbers, texts
// are texts whatever they look like, and nothing is a formula.
func TestWorkbook(t *testing.T) {
	table := &lists.Table{Name: "t", Title: `a/b:c [d]*?\ that is too long for a tab`, Groups: "case", Columns: []lists.Column{
		column("name", "name"), measured(quantity.Voltage, "V", "volts", "volts", 2), counted("n", "n"), blank("read", "read")},
		Rows:  []lists.Row{{Group: "full", Cells: []lists.Cell{words("lead <a> & b"), number(4.5678), number(12), {}}}},
		Notes: []lists.Note{{Text: "=1+1"}}}
	for _, text := range hostile {
		table.Rows = append(table.Rows, lists.Row{Group: "hostile", Cells: []lists.Cell{words(text), {}, {}, {}}})
	}
	data, err := workbook([]*lists.Table{table, {Name: "u", Title: table.Title, Columns: []lists.Column{column("a", "a")}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	tabs := f.GetSheetList()
	if len(tabs) != 2 || tabs[0] == tabs[1] || len([]rune(tabs[0])) > 31 {
		t.Fatalf("tabs %q", tabs)
	}
	for cell, want := range map[string]string{"A1": "case", "B1": "name", "C1": "volts (V)", "A2": "full", "B2": "lead <a> & b", "C2": "4.57", "D2": "12"} {
		if got, err := f.GetCellValue(tabs[0], cell); err != nil || got != want {
			t.Errorf("%s is %q, %v, want %q", cell, got, err, want)
		}
	}
	for cell, want := range map[string]excelize.CellType{"B2": excelize.CellTypeInlineString, "C2": excelize.CellTypeUnset, "D2": excelize.CellTypeUnset} {
		if got, err := f.GetCellType(tabs[0], cell); err != nil || got != want { // unset is a number
			t.Errorf("%s is of type %v, %v, want %v", cell, got, err, want)
		}
	}
	rows, err := f.GetRows(tabs[0])
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for i, r := range rows {
		for j, x := range r {
			cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
			if formula, _ := f.GetCellFormula(tabs[0], cell); formula != "" {
				t.Errorf("%s reckons %q", cell, formula)
			}
			for _, text := range hostile {
				if x == text {
					found++
				}
			}
		}
	}
	if found != len(hostile) {
		t.Errorf("%d of %d texts came through", found, len(hostile))
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range z.File {
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(r)
		for err == nil {
			_, err = d.Token()
		}
		if !errors.Is(err, io.EOF) {
			t.Errorf("%s: %v", part.Name, err)
		}
		if strings.Contains(part.Name, "..") {
			t.Errorf("part %q", part.Name)
		}
	}
}
