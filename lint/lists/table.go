// Package lists turns the figures of a plan into tables that people take along
// to the shop, the bench and the wall. A list is rows of typed cells; what
// writes it (text, CSV, JSON here; paper and workbooks elsewhere) knows nothing
// of plans. The package knows no files and no protocol.
package lists

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/sentences"
	"ohmstead/schema"
)

// Table is one list.
type Table struct {
	Name    string // as the command and a file call it: "wires"
	Title   string // above it on paper: "Wire schedule"
	Plan    string // the name of the plan
	Groups  string // what Row.Group says: "cut from"; empty where rows have no groups
	Columns []Column
	Rows    []Row
	Totals  []Row // in the same columns
	Notes   []Note
	Habit   quantity.Habit // of the people who read it
}

// Kind is what a column holds.
type Kind string

// The kinds of columns.
const (
	Text   Kind = "text"
	Number Kind = "number" // a count or number, or a quantity in the column's unit
	Length Kind = "length" // as Number; who thinks in feet reads "3 ft 4 in"
	Money  Kind = "money"  // an amount in the currency that is the column's unit
	Blank  Kind = "blank"  // to be filled in by hand
)

// Column is what the cells below it have in common.
type Column struct {
	Key   string // for programs: it stays
	Title string // for people
	Kind  Kind
	Unit  quantity.Unit // of the numbers for people; zero where they are counted
	// Places is how many decimal places people are shown; -1 for as many as it takes.
	Places int
}

// Row is one line of a list. Group is the same in rows that belong together,
// which follow each other.
type Row struct {
	Group string
	Block schema.Block // what the row is of; nil where no block stands for it
	Cells []Cell       // by Table.Columns
}

// Cell is a text, a number, or nothing: what is not known stays empty.
type Cell struct {
	Text    string
	Number  float64 // SI; of Money in its currency
	Numeric bool
	About   bool // it is estimated: people are shown a ~ and no millimetres
}

// Note is a sentence below a list.
type Note struct {
	Text    string `json:"text"`
	Caution bool   `json:"caution"` // someone or something may be hurt
}

// words is a cell of text, number one of a number. An infinite number, and one that is none, is not known.
func words(s string) Cell { return Cell{Text: s} }

func number(si float64) Cell {
	if math.IsNaN(si) || math.IsInf(si, 0) {
		return Cell{}
	}
	return Cell{Number: si, Numeric: true}
}

func count(n int) Cell { return number(float64(n)) }

// Empty reports whether nothing stands in the cell.
func (c Cell) Empty() bool { return !c.Numeric && c.Text == "" }

// ID is the address of the block that a row is of, or "".
func (r Row) ID() string {
	if r.Block == nil {
		return ""
	}
	return schema.HeaderOf(r.Block).ID()
}

// Right reports whether the column stands to the right, as numbers do.
func (c Column) Right() bool { return c.Kind == Number || c.Kind == Length || c.Kind == Money }

// Head is the column's title with its unit, for a reader of that habit.
func (c Column) Head(h quantity.Habit) string {
	if c.Unit.Symbol == "" || c.tape(h) {
		return c.Title
	}
	return c.Title + " (" + c.Unit.Symbol + ")"
}

// Show is what people read in a cell: a number in the unit that Head names.
func (c Column) Show(x Cell, h quantity.Habit) string {
	switch {
	case !x.Numeric:
		return x.Text
	case c.tape(h):
		return about(x, quantity.Imperial.Tape(x.Number))
	case x.About:
		c.Places = max(c.Places-1, 0)
	}
	return about(x, strconv.FormatFloat(c.In(x), 'f', c.Places, 64))
}

func about(x Cell, s string) string {
	if x.About {
		return "~" + s
	}
	return s
}

// In is a number in the column's unit, rounded to its places.
func (c Column) In(x Cell) float64 {
	n := quantity.InUnit(x.Number, c.Unit)
	digits := 9 // the rounding of the arithmetic
	if c.Places >= 0 {
		digits = c.Places
	}
	p := math.Pow10(digits)
	if r := math.Round(n*p) / p; !math.IsInf(r, 0) {
		return r + 0 // no -0
	}
	return n
}

// tape reports whether lengths are read as on a tape measure with feet and inches.
func (c Column) tape(h quantity.Habit) bool { return c.Kind == Length && h == quantity.Imperial }

// Filled is the table without the columns in which nothing stands, and of which nothing is written by hand: for
// paper and terminals. Programs want all columns.
func (t *Table) Filled() *Table {
	out := *t
	var keep []int
	out.Columns = nil
	for i, c := range t.Columns {
		filled := c.Kind == Blank
		for _, r := range t.Rows {
			filled = filled || !r.Cells[i].Empty()
		}
		if filled {
			keep, out.Columns = append(keep, i), append(out.Columns, c)
		}
	}
	pick := func(rows []Row) []Row {
		picked := make([]Row, len(rows))
		for k, r := range rows {
			cells := make([]Cell, len(keep))
			for j, i := range keep {
				cells[j] = r.Cells[i]
			}
			picked[k] = Row{r.Group, r.Block, cells}
		}
		return picked
	}
	out.Rows, out.Totals = pick(t.Rows), pick(t.Totals)
	return &out
}

// add appends a row; it has a cell for each column.
func (t *Table) add(group string, of schema.Block, cells ...Cell) {
	t.Rows = append(t.Rows, Row{group, of, cells})
}

// note adds a sentence, once.
func (t *Table) note(caution bool, text string) {
	for _, n := range t.Notes {
		if n.Text == text {
			return
		}
	}
	t.Notes = append(t.Notes, Note{text, caution})
}

// colored says what the letters of colours stand for.
func (t *Table) colored(letters []string) {
	var names []string
	for _, c := range slices.Sorted(slices.Values(letters)) {
		if name := schema.ColorName(c); name != "" {
			names = appendNew(names, say("note.color", "letters", c, "color", name))
		}
	}
	if len(names) > 0 {
		t.note(false, say("note.colors", "colors", strings.Join(names, ", ")))
	}
}

func say(key string, with ...string) string { return sentences.Say(key, with...) }

// Columns of the usual kinds; their titles stand in the catalogue, by the table's name and their keys. A length is read in metres or, by who thinks in feet, off a tape; its
// numbers are then inches.

func textColumn(key string) Column { return Column{Key: key, Kind: Text} }

func countColumn(key string) Column { return Column{Key: key, Kind: Number} }

func lengthColumn(h quantity.Habit, key string) Column {
	unit, places := quantity.Of(quantity.Length, 0).Unit, 3
	if h == quantity.Imperial {
		unit = quantity.UnitNamed(quantity.Length, "in")
		places = 2
	}
	return Column{key, "", Length, unit, places}
}

func measureColumn(d quantity.Dimension, key string, places int) Column {
	return Column{key, "", Number, quantity.Of(d, 0).Unit, places}
}
