package sheets

import (
	"slices"
	"strings"

	"ohmstead/lint/drawing"
	"ohmstead/lint/lists"
)

// Spaces of a table, mm.
const (
	cellX     = 1.4
	cellY     = 0.9
	blankCell = 18  // least width of a cell to write in
	blankRow  = 6.4 // least height of a row with such cells
	tickBox   = 3.6
	mostLines = 10 // of a cell
)

// grid is a table as it is laid out.
type grid struct {
	*lists.Table
	size   float64
	width  []float64 // of the columns, spaces included
	before []float64 // of a column of numbers: the widest part up to the decimal point
	after  []float64 // and from there on
}

// cell is what stands in a cell.
func (g *grid) cell(r lists.Row, i int) string {
	return printable(g.Columns[i].Show(r.Cells[i], g.Habit))
}

func (g *grid) wide(s string, face drawing.Face) float64 { return drawing.TextWidth(face, g.size, s) }

// split parts a number at its decimal point.
func split(s string) (whole, rest string) {
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return s[:i], s[i:]
	}
	return s, ""
}

// fit gives the columns of a table their widths: what their content takes, and
// less of those that take the most where the room is too small.
func fit(t *lists.Table, room, size float64) (*grid, bool) {
	g := &grid{Table: t, size: size, width: make([]float64, len(t.Columns)), before: make([]float64, len(t.Columns)), after: make([]float64, len(t.Columns))}
	natural, least := make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		head := printable(upper(c.Head(t.Habit)))
		least[i] = g.longest(head, drawing.Bold)
		natural[i] = max(least[i], g.wide(head, drawing.Bold)/2)
		for _, rows := range [][]lists.Row{t.Rows, t.Totals} {
			for _, r := range rows {
				s := g.cell(r, i)
				if c.Right() {
					whole, rest := split(s)
					for _, face := range []drawing.Face{drawing.Regular, drawing.Bold} {
						g.before[i], g.after[i] = max(g.before[i], g.wide(whole, face)), max(g.after[i], g.wide(rest, face))
					}
					continue
				}
				natural[i], least[i] = max(natural[i], g.wide(s, drawing.Regular)), max(least[i], min(g.longest(s, drawing.Regular), room/4))
			}
		}
		if c.Right() {
			natural[i] = max(natural[i], g.before[i]+g.after[i])
			least[i] = max(least[i], g.before[i]+g.after[i])
		}
		if c.Kind == lists.Blank && !ticked(c) {
			natural[i], least[i] = max(natural[i], blankCell), max(least[i], blankCell*0.75)
		}
		natural[i], least[i] = natural[i]+2*cellX, least[i]+2*cellX
	}
	copy(g.width, natural)
	if sum(natural) <= room {
		return g, true
	}
	// The widest columns give way to one common width.
	low, high := 0.0, room
	for range 40 {
		most := (low + high) / 2
		for i := range natural {
			g.width[i] = min(natural[i], max(most, least[i]))
		}
		if sum(g.width) > room {
			high = most
		} else {
			low = most
		}
	}
	if sum(g.width) > room+0.1 {
		for i := range g.width {
			g.width[i] *= room / sum(least)
		}
		return g, false
	}
	return g, true
}

// longest is the width of the longest word.
func (g *grid) longest(s string, face drawing.Face) float64 {
	w := 0.0
	for _, word := range strings.Fields(s) {
		w = max(w, g.wide(word, face))
	}
	return w
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// withContent is a table without the columns in which nothing stands.
func withContent(t *lists.Table) *lists.Table {
	var keep []int
	for i, c := range t.Columns {
		if c.Kind == lists.Blank || slices.ContainsFunc(t.Rows, func(r lists.Row) bool { return !r.Cells[i].Empty() }) {
			keep = append(keep, i)
		}
	}
	if len(keep) == len(t.Columns) {
		return t
	}
	out := *t
	out.Columns, out.Rows, out.Totals = nil, nil, nil
	for _, i := range keep {
		out.Columns = append(out.Columns, t.Columns[i])
	}
	kept := func(rows []lists.Row) (out []lists.Row) {
		for _, r := range rows {
			cells := make([]lists.Cell, len(keep))
			for j, i := range keep {
				cells[j] = r.Cells[i]
			}
			r.Cells = cells
			out = append(out, r)
		}
		return out
	}
	out.Rows, out.Totals = kept(t.Rows), kept(t.Totals)
	return &out
}

// table sets a list: its head again on each page, no row on two.
func (l *layout) table(t Table, follows float64) {
	for _, n := range t.Notes {
		if n.Caution {
			l.caution(n.Text, l.leaf.left(), l.leaf.width())
			l.y += gap
		}
	}
	filled := withContent(t.Table)
	g, ok := fit(filled, l.leaf.width(), 3)
	if !ok {
		g, _ = fit(filled, l.leaf.width(), small)
	}
	if len(t.Rows) == 0 {
		l.paragraph(say("table.empty"), l.leaf.left(), l.leaf.width(), body, drawing.Regular)
	} else {
		for _, n := range t.Notes {
			if !n.Caution {
				follows += float64(len(wrap(n.Text, l.leaf.width(), small, drawing.Regular, 60)))*small*leading + 0.8
			}
		}
		l.rows(g, follows+gap)
	}
	for _, n := range t.Notes {
		if !n.Caution {
			l.paragraph(n.Text, l.leaf.left(), l.leaf.width(), small, drawing.Regular)
			l.y += 0.8
		}
	}
	l.y += gap
}

// together is how many rows at the end of a table do not stand apart from each other and from what follows.
const together = 3

func (l *layout) rows(g *grid, follows float64) {
	head := g.layHead()
	first := head.height + 6
	for _, r := range g.Rows[:min(together, len(g.Rows))] {
		first += g.lay(r, drawing.Regular).height
	}
	l.room(first)
	l.draw(g, head)
	group := ""
	for i, r := range g.Rows {
		row := g.lay(r, drawing.Regular)
		begins := g.Groups != "" && r.Group != "" && (i == 0 || r.Group != group)
		need := row.height
		if begins {
			need += g.size*leading + 2*cellY + 1
		}
		if i == max(len(g.Rows)-together, 0) {
			need += follows
			for _, r := range g.Rows[i+1:] {
				need += g.lay(r, drawing.Regular).height
			}
			for _, t := range g.Totals {
				need += g.lay(t, drawing.Bold).height
			}
		}
		if l.y+need > l.leaf.bottom() && l.y > l.top+head.height+1 {
			l.turn()
			l.draw(g, head)
			if !begins && r.Group != "" && g.Groups != "" {
				l.group(g, say("table.continued", "group", g.groupName(r.Group)))
			}
		}
		if begins {
			l.group(g, g.groupName(r.Group))
		}
		group = r.Group
		l.draw(g, row)
	}
	if len(g.Totals) > 0 {
		l.mark(rule(l.leaf.left(), l.y, l.leaf.left()+sum(g.width), l.y, fine, drawing.Line))
		for _, r := range g.Totals {
			l.draw(g, g.lay(r, drawing.Bold))
		}
	}
	l.mark(rule(l.leaf.left(), l.y, l.leaf.left()+sum(g.width), l.y, fine, drawing.Line))
	l.y += gap / 2
}

// ticked tells that a blank of a column takes a tick, not a number.
func ticked(c lists.Column) bool { return slices.Contains([]string{"got", "done", "lights"}, c.Key) }

func (g *grid) groupName(group string) string { return upper(g.Groups) + ": " + group }

// group is the line above rows that belong together.
func (l *layout) group(g *grid, name string) {
	l.y += 1
	lines := wrap(name, l.leaf.width()-2*cellX, g.size, drawing.Bold, 1)
	l.y += cellY
	for _, s := range lines {
		l.line(s, l.leaf.left()+cellX, g.size, drawing.Bold, drawing.Line)
	}
	l.y += cellY
	l.mark(rule(l.leaf.left(), l.y, l.leaf.left()+sum(g.width), l.y, hair, drawing.Line))
}

// laid is a row with its lines broken.
type laid struct {
	lines  [][]string
	face   drawing.Face
	head   bool
	blank  bool // it has cells to write in
	height float64
}

func (g *grid) layHead() laid {
	out := laid{face: drawing.Bold, head: true}
	n := 1
	for i, c := range g.Columns {
		lines := wrap(upper(c.Head(g.Habit)), g.width[i]-2*cellX+0.01, g.size, drawing.Bold, 4)
		out.lines = append(out.lines, lines)
		n = max(n, len(lines))
	}
	out.height = float64(n)*g.size*leading + 2*cellY
	return out
}

func (g *grid) lay(r lists.Row, face drawing.Face) laid {
	out := laid{face: face}
	n, blank := 1, false
	for i, c := range g.Columns {
		var lines []string
		if s := g.cell(r, i); s != "" && r.Cells[i].Numeric {
			lines = []string{s}
		} else if s != "" {
			lines = wrap(short(s, 2000), g.width[i]-2*cellX+0.01, g.size, face, mostLines)
		}
		out.lines = append(out.lines, lines)
		n = max(n, len(lines))
		blank = blank || c.Kind == lists.Blank && !ticked(c)
	}
	out.height = float64(n)*g.size*leading + 2*cellY
	if out.blank = blank; blank {
		out.height = max(out.height, blankRow)
	}
	return out
}

func (l *layout) draw(g *grid, r laid) {
	x, top := l.leaf.left(), l.y
	if r.head {
		l.mark(&drawing.Rect{Style: drawing.Style{Fill: drawing.Shade}, Box: drawing.Box{X: x, Y: top, W: sum(g.width), H: r.height}})
	}
	for i, c := range g.Columns {
		first := top + cellY + g.size
		if r.blank {
			first = top + (r.height-float64(len(r.lines[i]))*g.size*leading)/2 + g.size
		}
		if r.head {
			first += r.height - 2*cellY - float64(len(r.lines[i]))*g.size*leading // on the lower edge
		}
		for j, s := range r.lines[i] {
			y := first + float64(j)*g.size*leading
			switch {
			case r.head && c.Right():
				l.mark(textAt(s, x+g.width[i]-cellX, y, g.size, r.face, drawing.Line, drawing.End))
			case c.Right():
				whole, _ := split(s)
				l.mark(text(s, x+g.width[i]-cellX-g.after[i]-g.wide(whole, r.face), y, g.size, r.face, drawing.Line))
			default:
				l.mark(text(s, x+cellX, y, g.size, r.face, drawing.Line))
			}
		}
		if c.Kind == lists.Blank && !r.head && r.face == drawing.Regular {
			box := drawing.Box{X: x + 0.7, Y: top + 0.7, W: g.width[i] - 1.4, H: r.height - 1.4}
			if ticked(c) {
				box = drawing.Box{X: x + cellX, Y: top + (r.height-tickBox)/2, W: tickBox, H: tickBox}
			}
			l.mark(&drawing.Rect{Style: drawing.Style{Stroke: drawing.Soft, Width: hair}, Box: box})
		}
		x += g.width[i]
	}
	l.y += r.height
	ink, w := drawing.Faint, hair
	if r.head {
		ink, w = drawing.Line, fine
	}
	l.mark(rule(l.leaf.left(), l.y, l.leaf.left()+sum(g.width), l.y, w, ink))
}
