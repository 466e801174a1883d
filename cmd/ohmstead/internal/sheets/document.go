// Package sheets puts a plan on paper: it composes pictures of package drawing
// and tables of package lists with its own pages to one document, and writes
// that as PDF and HTML, its pictures as SVG, its tables as CSV and as a
// workbook. It touches no file.
package sheets

import (
	"ohmstead/calc/quantity"
	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

// Document is all sheets of a plan, the same for paper and screen.
type Document struct {
	Name   string // the plan's, for file names and links
	Title  string
	Stamp  Stamp
	Digest string // of the plan's text: two sheets with the same one show the same plan
	Alarm  string // what every page must say: the plan has errors; else ""
	Habit  quantity.Habit
	Sheets []*Sheet
}

// Stamp is what the user has to say of a set of sheets. No clock is asked.
type Stamp struct {
	By       string // who drew it
	Revision string
	Date     string
}

// Sheet is one subject: a page or several.
type Sheet struct {
	Name   string // as --only calls it
	Title  string
	Head   string // what stands above it on paper, where that is not its title
	Wide   bool   // its pages lie on their side
	Framed bool   // its pages have a frame along their margin
	Blocks []Block
}

// Block is a piece of a sheet, from top to bottom.
type Block interface{ block() }

// The blocks.
type (
	// Heading begins a part of a sheet.
	Heading string
	// Contents lists the sheets.
	Contents []Entry
	// Text is a paragraph.
	Text string
	// Caution is a sentence about what can hurt someone, or something.
	Caution string
	// Step is a thing to do and to tick off.
	Step struct {
		Number   int
		Head     string // what to do
		Text     string // how, and what is right
		Cautions []string
	}
	// Facts are names with what they stand for, in two columns, beside a picture
	// if there is one.
	Facts struct {
		Lines []Fact
		Scene *drawing.Scene
		Fine  bool // in small type
	}
	// Blanks are lines to fill in by hand.
	Blanks []string
	// Table is a list.
	Table struct{ *lists.Table }
	// Data is a list for programs and workbooks alone; JSON asks for that form too.
	Data struct {
		*lists.Table
		JSON bool
	}
	// Picture is a drawing that is made as large as its place allows.
	Picture struct {
		File  string // of the SVG, without the plan's name and the suffix
		Scene *drawing.Scene
		Scale string // said in the title block; "" for none
		Fill  bool   // it has a page of its own, but for others of its scale that have room there
	}
	// Tile is a page that is drawn edge to edge and true to scale, or the map of them.
	Tile struct {
		Scene *drawing.Scene
		Map   bool
	}
	// Attached is a file for other programs.
	Attached struct {
		Name string // without the plan's
		Data []byte
	}
)

// Entry is a sheet in a list of contents.
type Entry struct{ Name, Title, For string }

// Fact is one line of them.
type Fact struct{ Name, Value string }

func (Heading) block()  {}
func (Contents) block() {}
func (Text) block()     {}
func (Caution) block()  {}
func (Step) block()     {}
func (Facts) block()    {}
func (Blanks) block()   {}
func (Table) block()    {}
func (Picture) block()  {}
func (Tile) block()     {}
func (Data) block()     {}
func (Attached) block() {}
