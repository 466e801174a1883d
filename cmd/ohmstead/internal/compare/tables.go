package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

// table is a part of a comparison as rows of text; every form of output draws
// the same tables.
type table struct {
	title string
	head  []string
	right []bool // columns of numbers
	rows  []row
}

type row struct {
	cells  []string
	marked bool // beyond a limit, or a finding that is new and an error
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, row{cells: cells}) }

// none stands where there is nothing on one side.
const none = "–"

func orNone(s string) string {
	if s == "" {
		return none
	}
	return s
}

// tables lists what there is to say besides the summary, the gravest first.
func (p *Plan) tables() []table {
	var out []table
	if p.Status == Added { // all of it is new: what is found, what it needs, what to enter
		for _, t := range []table{p.silenceTable(), p.findingTable(), p.partTable(), p.entryTable()} {
			if len(t.rows) > 0 {
				out = append(out, t)
			}
		}
		return out
	}
	for _, t := range []table{p.silenceTable(), p.findingTable(), p.figureTable(), p.blockTable(), p.placeTable(), p.partTable(), p.entryTable(), p.numberTable(), p.addressTable()} {
		if len(t.rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

func (p *Plan) findingTable() table {
	f := p.Findings
	t := table{title: fmt.Sprintf("Findings: %d new, %d gone, %d as before", len(f.New), len(f.Gone), len(f.Kept)),
		head: []string{"", "level", "rule", "what was found"}}
	if len(f.New)+len(f.Gone) == 0 {
		return t // what stays as it was is not news
	}
	list := func(what string, fs []Finding) {
		for _, x := range byGravity(fs) {
			how := what
			if x.Worse {
				how = "worse"
			}
			t.rows = append(t.rows, row{[]string{how, x.Level, x.Rule, x.Message}, what == "new" && x.Level == lint.Error.String()})
		}
	}
	list("new", f.New)
	list("gone", f.Gone)
	list("still", f.Kept)
	return t
}

func (p *Plan) figureTable() table {
	t := table{title: "Figures that moved by more than " + quantity.Show(quantity.Share, p.threshold),
		head: []string{"figure", "of", "case", "before", "after", "limit"}, right: []bool{false, false, false, true, true, true}}
	at := map[string]int{}
	for _, m := range p.families() {
		was, is := m.shown()
		limit := ""
		if m.Limit != nil {
			limit = showFigure(m.Figure, *m.Limit) + " (" + m.LimitOf + ")"
		}
		key := strings.Join([]string{string(m.Figure), m.who(), was, is}, "\x00")
		if i, seen := at[key]; seen { // the same in several cases
			t.rows[i].cells[2] += ", " + m.Case
			continue
		}
		at[key] = len(t.rows)
		t.rows = append(t.rows, row{[]string{string(m.Figure), m.who(), m.Case, was, is, limit}, m.beyond()})
	}
	first := map[string]int{} // of a block: where it is told first
	for i, r := range t.rows {
		if _, seen := first[r.cells[1]]; !seen {
			first[r.cells[1]] = i
		}
	}
	slices.SortStableFunc(t.rows, func(a, b row) int {
		if d := figureRank(a) - figureRank(b); d != 0 {
			return d
		}
		return first[a.cells[1]] - first[b.cells[1]]
	})
	return t
}

// figureRank puts the figures of one kind together, the voltages first.
func figureRank(r row) int {
	return slices.Index([]Figure{LeastVoltage, Brightness, Current, Load, Heat, FrameRate, Length}, Figure(r.cells[0]))
}

// familyMove is the move of one of the copies that times makes: the one that
// moved farthest speaks for all.
type familyMove struct {
	Move
	of int
}

func (p *Plan) families() []familyMove {
	type key struct {
		figure       Figure
		family, name string
	}
	at := map[key]int{}
	var out []familyMove
	for _, m := range p.Moves {
		k := key{m.Figure, m.Family, m.Case}
		i, seen := at[k]
		switch {
		case !seen:
			at[k] = len(out)
			out = append(out, familyMove{m, 1})
		default:
			out[i].of++
			if math.Abs(change(m)) > math.Abs(change(out[i].Move))+1e-9 {
				out[i].Move = m
			}
		}
	}
	return out
}

func (m familyMove) who() string {
	if m.of == 1 {
		return m.ID
	}
	return fmt.Sprintf("%s (most of %d)", m.ID, m.of)
}

// shown writes both values with as many digits as it takes to tell them apart.
func (m Move) shown() (was, is string) {
	if m.Was == nil {
		return none, showFigure(m.Figure, *m.Is)
	}
	if m.moved && m.Pixel != nil && m.WasAt != nil {
		return fmt.Sprintf("%s at pixel %d", volts(*m.Was), *m.WasAt), fmt.Sprintf("%s at pixel %d", volts(*m.Is), *m.Pixel)
	}
	a, b := *m.Was, *m.Is
	if m.Figure == Length {
		return length{a, m.Estimated[0], true}.String(), length{b, m.Estimated[1], true}.String()
	}
	if m.Unit == "1" {
		a, b = a*100, b*100
	}
	unit := map[string]string{"1": " %"}[m.Unit]
	if unit == "" {
		unit = " " + m.Unit
	}
	return number(a, b) + unit, number(b, a) + unit
}

func showFigure(f Figure, v float64) string {
	switch f {
	case LeastVoltage:
		return quantity.Show(quantity.Voltage, v)
	case Heat:
		return quantity.Show(quantity.PowerPerLength, v)
	case Current:
		return quantity.Show(quantity.Current, v)
	case Length:
		return quantity.Show(quantity.Length, v)
	case FrameRate:
		return quantity.Show(quantity.Frequency, v)
	}
	return share(v)
}

func (p *Plan) blockTable() table {
	t := table{title: "Blocks: " + p.blockCount(), head: []string{"block", "attribute", "before", "after", "shows at"}}
	for _, b := range p.Blocks {
		reach := listed(b.Reach, 4)
		switch b.What {
		case BlockAdded:
			t.add(b.name(), "", none, orNone(clip(b.Brief, 100)), reach)
		case BlockRemoved:
			t.add(b.name(), "", orNone(clip(b.Brief, 100)), none, reach)
		case BlockSplit, BlockJoined:
			var pieces []string
			for _, x := range b.Pieces {
				s := fmt.Sprintf("%s: pixels %d to %d", x.ID, x.From, x.From+x.Pixels-1)
				if x.Turned {
					s += ", turned"
				}
				pieces = append(pieces, s)
			}
			if b.What == BlockSplit {
				t.add(b.name(), "split", b.Brief, strings.Join(pieces, "; "), reach)
			} else {
				t.add(b.name(), "joined", strings.Join(pieces, "; "), b.Brief, reach)
			}
		default:
			if b.Was != "" {
				t.add(b.name(), "name", b.Was, b.ID, reach)
			}
			for _, a := range b.Attrs {
				name := a.Name
				if a.Through == "like" {
					name += " (through like)"
				}
				t.add(b.name(), name, orNone(clip(a.Was, 100)), orNone(clip(a.Is, 100)), reach)
			}
		}
	}
	return t
}

func (p *Plan) blockCount() string {
	n := map[What]int{}
	for _, b := range p.Blocks {
		n[b.What]++
	}
	var parts []string
	for _, w := range []What{BlockChanged, BlockRenamed, BlockSplit, BlockJoined, BlockAdded, BlockRemoved} {
		if n[w] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[w], w))
		}
	}
	return strings.Join(parts, ", ")
}

func (p *Plan) partTable() table {
	t := table{title: "Shopping list", head: []string{"part", "unit", "needed before", "after", "bought before", "after", "price of one", "difference"},
		right: []bool{false, false, true, true, true, true, true, true}}
	for _, x := range p.Parts {
		each := none
		switch {
		case x.Was.Each != nil && x.Is.Each != nil && !sameAmount(x.Was.Each, x.Is.Each):
			each = x.Was.Each.String() + " → " + x.Is.Each.String()
		case x.Is.Each != nil:
			each = x.Is.Each.String()
		case x.Was.Each != nil:
			each = x.Was.Each.String()
		}
		difference := "?"
		if x.Cost != nil {
			difference = x.Cost.signed()
		}
		t.add(x.Part, x.Unit, x.need(x.Was), x.need(x.Is), fmt.Sprint(x.Was.Buy), fmt.Sprint(x.Is.Buy), each, difference)
	}
	for _, c := range p.Cost {
		t.add("all that is bought", "", "", "", "", "", Amount{c.Was, c.Currency}.String()+" → "+Amount{c.Is, c.Currency}.String(), Amount{c.Is - c.Was, c.Currency}.signed())
	}
	return t
}

// entryTable lists what must be entered again by hand.
func (p *Plan) entryTable() table {
	t := table{title: "To enter again", head: []string{"where", "what"}}
	for _, s := range p.Pixels.Controller {
		t.add("controller", s)
	}
	for _, s := range p.Pixels.Show {
		t.add("show", s)
	}
	return t
}

func (p *Plan) numberTable() table {
	t := table{title: "Pixel numbers", head: []string{"line", "runs", "pixels", "number before", "number now"}, right: []bool{false, false, true, true, true}}
	for _, l := range append(append([]Line{}, p.Pixels.Orders...), p.Pixels.Ports...) {
		for _, s := range l.Shifts {
			t.add(l.ID, listed(s.Runs, 2), fmt.Sprint(s.Pixels), between(s.Was[0], s.Was[1]), between(s.Is[0], s.Is[1]))
		}
		for _, r := range l.New {
			t.add(l.ID, "new", fmt.Sprint(r.Last-r.First+1), none, between(r.First, r.Last))
		}
		for _, r := range l.Gone {
			t.add(l.ID, "gone", fmt.Sprint(r.Last-r.First+1), between(r.First, r.Last), none)
		}
	}
	return t
}

func between(a, b int) string {
	if a == b {
		return fmt.Sprint(a)
	}
	return fmt.Sprintf("%d … %d", a, b)
}

func (p *Plan) addressTable() table {
	t := table{title: "Network addresses (universe/slot of a pixel's first channel)", head: []string{"universes", "run", "pixels", "before", "now"}, right: []bool{false, false, true, true, true}}
	for _, a := range p.Pixels.Universes {
		for _, s := range a.Shifts {
			t.add(a.ID, listed(s.Runs, 2), fmt.Sprint(s.Pixels), fmt.Sprintf("%s … %s", s.Was[0], s.Was[1]), fmt.Sprintf("%s … %s", s.Is[0], s.Is[1]))
		}
	}
	return t
}
