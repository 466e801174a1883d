package sheets

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmstead/lint/lists"
)

// workbook writes tables as an Office Open XML workbook (ECMA-376), a sheet for
// each: texts are texts, whatever they begin with, numbers are numbers in the
// unit of their column. It holds no formula. Written by hand, since a library
// for it costs every command 7 ms at its start.
func workbook(tables []*lists.Table) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	put := func(name, text string) error {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write([]byte(xml.Header + text))
		}
		return err
	}
	var types, sheets, links, parts []string
	formats := &formats{}
	for i, t := range tables {
		n := i + 1
		types = append(types, fmt.Sprintf(`<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>`, n))
		sheets = append(sheets, fmt.Sprintf(`<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escaped(tabName(t.Title, i)), n, n))
		links = append(links, fmt.Sprintf(`<Relationship Id="rId%d" Type="%sworksheet" Target="worksheets/sheet%d.xml"/>`, n, relation, n))
		parts = append(parts, worksheet(t, formats))
	}
	links = append(links, fmt.Sprintf(`<Relationship Id="rId%d" Type="%sstyles" Target="styles.xml"/>`, len(tables)+1, relation))
	files := [][2]string{
		{"[Content_Types].xml", `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/>` + strings.Join(types, "") + `</Types>`},
		{"_rels/.rels", related(fmt.Sprintf(`<Relationship Id="rId1" Type="%sofficeDocument" Target="xl/workbook.xml"/>`, relation))},
		{"xl/workbook.xml", `<workbook xmlns="` + spreadsheet + `" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets>` + strings.Join(sheets, "") + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", related(strings.Join(links, ""))},
		{"xl/styles.xml", formats.styles()},
	}
	for i, p := range parts {
		files = append(files, [2]string{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), p})
	}
	for _, f := range files {
		if err := put(f[0], f[1]); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

const (
	relation    = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	spreadsheet = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
)

func related(links string) string {
	return `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` + links + `</Relationships>`
}

// formats are the ways in which numbers are shown, by decimal places.
type formats struct{ places []int }

// Styles of cells: plain, bold, bold with a ground for heads; then those of numbers.
const (
	plainCell = iota
	boldCell
	headCell
	numberCell
)

func (f *formats) style(places int) int {
	if places < 0 {
		return plainCell
	}
	for i, p := range f.places {
		if p == places {
			return numberCell + i
		}
	}
	f.places = append(f.places, places)
	return numberCell + len(f.places) - 1
}

func (f *formats) styles() string {
	var codes, cells strings.Builder
	for i, p := range f.places {
		code := "0"
		if p > 0 {
			code += "." + strings.Repeat("0", p)
		}
		fmt.Fprintf(&codes, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+i, code)
		fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>`, 164+i)
	}
	numbers := ""
	if len(f.places) > 0 {
		numbers = fmt.Sprintf(`<numFmts count="%d">%s</numFmts>`, len(f.places), codes.String())
	}
	return `<styleSheet xmlns="` + spreadsheet + `">` + numbers +
		`<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
		`<fills count="3"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFECEFF1"/></patternFill></fill></fills>` +
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		fmt.Sprintf(`<cellXfs count="%d">`, numberCell+len(f.places)) +
		`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>` +
		`<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/>` +
		`<xf numFmtId="0" fontId="1" fillId="2" borderId="0" xfId="0" applyFont="1" applyFill="1" applyAlignment="1"><alignment vertical="bottom" wrapText="1"/></xf>` +
		cells.String() + `</cellXfs></styleSheet>`
}

// worksheet is one table: a head that stays, then its rows.
func worksheet(t *lists.Table, f *formats) string {
	var b strings.Builder
	b.WriteString(`<worksheet xmlns="` + spreadsheet + `"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`)
	grouped := 0
	if t.Groups != "" {
		grouped = 1
		b.WriteString(`<col min="1" max="1" width="24" customWidth="1"/>`)
	}
	for i, c := range t.Columns {
		fmt.Fprintf(&b, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, i+1+grouped, i+1+grouped, columnWidth(t, c, i))
	}
	b.WriteString(`</cols><sheetData>`)
	row := 0
	line := func(cells func(put func(s string, style int), num func(v float64, style int))) {
		row++
		fmt.Fprintf(&b, `<row r="%d">`, row)
		column := 0
		cells(func(s string, style int) {
			if s != "" {
				fmt.Fprintf(&b, `<c r="%s%d" s="%d" t="inlineStr"><is><t xml:space="preserve">%s</t></is></c>`, letters(column), row, style, escaped(short(s, mostCell-1)))
			}
			column++
		}, func(v float64, style int) {
			fmt.Fprintf(&b, `<c r="%s%d" s="%d"><v>%s</v></c>`, letters(column), row, style, strconv.FormatFloat(v, 'g', -1, 64))
			column++
		})
		b.WriteString(`</row>`)
	}
	line(func(put func(string, int), _ func(float64, int)) {
		if grouped > 0 {
			put(t.Groups, headCell)
		}
		for _, c := range t.Columns {
			title := c.Title
			if c.Unit.Symbol != "" {
				title += " (" + c.Unit.Symbol + ")"
			}
			put(title, headCell)
		}
	})
	for _, rows := range [][]lists.Row{t.Rows, t.Totals} {
		for _, r := range rows {
			line(func(put func(string, int), num func(float64, int)) {
				if grouped > 0 {
					put(r.Group, plainCell)
				}
				for i, x := range r.Cells {
					if v := t.Columns[i].In(x); x.Numeric && !math.IsInf(v, 0) {
						num(v, f.style(t.Columns[i].Places))
					} else {
						put(x.Text, plainCell)
					}
				}
			})
		}
	}
	for _, n := range t.Notes {
		line(func(put func(string, int), _ func(float64, int)) { put(n.Text, boldCell) })
	}
	b.WriteString(`</sheetData></worksheet>`)
	return b.String()
}

// mostCell is the most characters that a cell takes (ECMA-376 part 1, 18.3.1.4: 32,767).
const mostCell = 32767

// columnWidth in characters.
func columnWidth(t *lists.Table, c lists.Column, i int) int {
	w := utf8.RuneCountInString(c.Head(t.Habit))
	for _, r := range t.Rows[:min(len(t.Rows), 500)] {
		w = max(w, utf8.RuneCountInString(c.Show(r.Cells[i], t.Habit)))
	}
	return min(max(w+2, 8), 60)
}

// letters is the name of a column, counted from 0.
func letters(n int) string {
	s := ""
	for n++; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// tabName is a sheet's name: at most 31 characters, none of []:*?/\, and no two the same.
func tabName(title string, i int) string {
	s := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) || r < ' ' {
			return ' '
		}
		return r
	}, title)
	return fmt.Sprintf("%d %s", i+1, short(strings.TrimSpace(s), 26))
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a builder takes everything
	return b.String()
}
