package lists

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
)

// JSON writes the table as a contract for programs, a row a line: numbers in SI
// units or, of money, in the currency that the column names; null where nothing
// is known. Fields and keys are added, never renamed.
//
//	{
//	  "list": "wires", "title": "…", "plan": "…",
//	  "columns": [{"key": "length", "title": "cut length", "kind": "length", "unit": "m"}, …],
//	  "rows": [{"block": "lead.left", "group": "", "length": 1.2, …}, …],
//	  "totals": [{…}],
//	  "notes": [{"text": "…", "caution": false}]
//	}
func (t *Table) JSON(w io.Writer) error {
	words := map[string]string{} // as JSON: most stand in many rows
	word := func(s string) string {
		if _, ok := words[s]; !ok {
			words[s] = encoded(s)
		}
		return words[s]
	}
	row := func(r Row) string { return t.json(r, word) }
	_, err := fmt.Fprintf(w, "{\n  \"list\": %s, \"title\": %s, \"plan\": %s,\n  \"columns\": %s,\n  \"rows\": %s,\n  \"totals\": %s,\n  \"notes\": %s\n}\n",
		encoded(t.Name), encoded(t.Title), encoded(t.Plan),
		array(t.Columns, Column.json), array(t.Rows, row), array(t.Totals, row), array(t.Notes, func(n Note) string { return encoded(n) }))
	return err
}

func (c Column) json() string {
	return encoded(struct {
		Key   string `json:"key"`
		Title string `json:"title"`
		Kind  Kind   `json:"kind"`
		Unit  string `json:"unit"`
	}{c.Key, c.Title, c.Kind, c.si().Symbol})
}

func (t *Table) json(r Row, word func(string) string) string {
	b := append([]byte(`{"block": `), word(r.ID())...)
	b = append(append(b, `, "group": `...), word(r.Group)...)
	for i, x := range r.Cells {
		c := t.Columns[i]
		b = append(append(append(b, ", "...), word(c.Key)...), ": "...)
		switch {
		case x.Numeric:
			b = strconv.AppendFloat(b, quantity.InUnit(x.Number, c.si()), 'g', -1, 64)
		case x.Text != "":
			b = append(b, word(x.Text)...)
		default:
			b = append(b, "null"...)
		}
	}
	return string(append(b, '}'))
}

// array writes each item on a line.
func array[T any](items []T, one func(T) string) string {
	if len(items) == 0 {
		return "[]"
	}
	lines := make([]string, len(items))
	for i, x := range items {
		lines[i] = "    " + one(x)
	}
	return "[\n" + strings.Join(lines, ",\n") + "\n  ]"
}

// encoded is a value as JSON that people can read too: "<" stays "<".
func encoded(v any) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic(err) // texts and finite numbers can all be written
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// si is the unit of a column's numbers for programs.
func (c Column) si() quantity.Unit {
	if c.Unit.Symbol == "" || c.Kind == Money {
		return c.Unit
	}
	return quantity.Of(c.Unit.Dim, 0).Unit
}
