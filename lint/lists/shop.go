package lists

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/cutting"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Shopping is Shop as a list. Prices stand in a column for each currency: sums are never mixed.
func Shopping(f *figures.Figures, others ...*figures.Figures) *Table {
	p := Shop(f, others...)
	t := of(f, "shopping", "Shopping list",
		textColumn("what", "what"), textColumn("kind", "kind"), textColumn("part", "part"), textColumn("color", "colour"),
		countColumn("need", "need"), lengthColumn(f.Habit, "need_length", "need"),
		countColumn("others", "other plans"), lengthColumn(f.Habit, "others_length", "other plans"),
		countColumn("have", "have"), lengthColumn(f.Habit, "have_length", "have"),
		countColumn("buy", "buy"), countColumn("spare", "of them spare"), textColumn("unit", "in"))
	var currencies []string
	for _, x := range p.Items {
		if x.Each != nil {
			currencies = appendNew(currencies, x.Each.Unit.Symbol)
		}
	}
	for _, c := range currencies {
		u := quantity.Unit{Symbol: c, Dim: quantity.Money, Factor: 1}
		t.Columns = append(t.Columns, Column{"each_" + c, "each", Money, u, 2}, Column{"cost_" + c, "cost", Money, u, 2})
	}
	t.Columns = append(t.Columns, Column{Key: "got", Title: "got", Kind: Blank})
	for _, x := range p.Items {
		row := []Cell{words(x.What), words(x.Kind), words(x.Part), words(x.Color)}
		for _, n := range []float64{x.Need, x.Others, x.Have} {
			pair := [2]Cell{}
			if n > 0 {
				pair[index(x.Long)] = number(n)
			}
			row = append(row, pair[:]...)
		}
		spare := Cell{}
		if x.Spare > 0 {
			spare = count(x.Spare)
		}
		row = append(row, count(x.Buy), spare, words(x.Unit))
		cost, priced := x.Cost()
		for _, c := range currencies {
			if priced && cost.Unit.Symbol == c {
				row = append(row, number(x.Each.SI), number(cost.SI))
			} else {
				row = append(row, Cell{}, Cell{})
			}
		}
		t.add("", x.Use, append(row, Cell{})...)
	}
	total := make([]Cell, len(t.Columns))
	total[0] = words("all that is bought")
	for i, c := range t.Columns {
		for _, q := range p.Totals {
			if c.Key == "cost_"+q.Unit.Symbol {
				total[i] = number(q.SI)
			}
		}
	}
	if len(p.Totals) > 0 {
		t.Totals = []Row{{Cells: total}}
	}
	p.notes(t)
	return t
}

func index(long bool) int {
	if long {
		return 1
	}
	return 0
}

func appendNew(all []string, s string) []string {
	for _, x := range all {
		if x == s {
			return all
		}
	}
	return append(all, s)
}

// notes says what the numbers of a list leave open.
func (p Purchase) notes(t *Table) {
	long, shared, colorless, paired := false, false, false, false
	var colors []string
	for _, x := range p.Items {
		long = long || x.Long
		shared = shared || x.Others > 0
		colors = append(colors, x.Color)
		if j, ok := x.Use.(*schema.Joint); ok {
			paired = paired || j.Kind.V != "plug"
		}
		colorless = colorless || x.Kind == "wire" && x.Color == ""
	}
	if len(p.Items) > 0 {
		spare := "Nothing is bought beyond what is needed"
		if p.SpareShare > 0 {
			spare = fmt.Sprintf("Of what is cut or used up %s more is bought than needed, as far as offcuts do not serve for it; of what is counted, nothing more", p.Habit.Show(quantity.Share, p.SpareShare))
		}
		t.note(false, spare+": the spares that the hand-over sheet asks for come on top.")
	}
	if long {
		t.note(false, "A length in the drawer is taken for one piece.")
	}
	if left := p.leftovers(); left != "" {
		t.note(false, "Left over of what is bought when all is cut: "+left+". The cut list tells from which.")
	}
	if colorless {
		t.note(false, "A wire without a colour is not said to be of one: write color at the wire or a marking block, and each colour is an item of its own.")
	}
	if shared {
		t.note(false, "Other plans take from the same drawer: what all of them need and do not find there is bought here.")
	}
	t.colored(colors)
	if paired {
		t.note(false, "Of splices, terminal strips and bus bars a joint takes two: one for plus and one for minus.")
	}
	if p.Unpriced > 0 {
		t.note(false, fmt.Sprintf("No price is known of %s.", quantity.Count(p.Unpriced, "item")))
	}
	for _, why := range p.Missing {
		t.note(true, "Not counted: "+why+".")
	}
}

// leftovers sums up what the cuts leave of new reels and profiles, by part, the longest first.
func (p Purchase) leftovers() string {
	var parts []string
	for _, x := range p.Items {
		if x.Cut == nil || x.Cut.Bar == "" {
			continue
		}
		pieces := map[string]int{}
		var lengths []string
		plan, _ := cutting.Solve(x.Cut.Job) // an error stands in the cut list
		slices.SortStableFunc(plan.Bars, func(a, b cutting.Bar) int { return cmp.Compare(b.Offcut, a.Offcut) })
		for _, bar := range plan.Bars {
			if bar.Leftover < 0 && bar.Offcut > 0 {
				s := p.Habit.Tape(bar.Offcut)
				lengths = appendNew(lengths, s)
				pieces[s]++
			}
		}
		for i, s := range lengths {
			lengths[i] = quantity.Count(pieces[s], "piece") + " of " + s
		}
		if len(lengths) > 0 {
			parts = append(parts, x.Name()+" "+strings.Join(lengths, ", "))
		}
	}
	return strings.Join(parts, "; ")
}

// Cutting is the cut list: which piece comes from which reel, bar or spool, in the order of the cuts, and what is left
// over. Wire is cut conductor by conductor.
func Cutting(f *figures.Figures, others ...*figures.Figures) *Table {
	p := Shop(f, others...)
	t := of(f, "cutting", "Cut list",
		textColumn("part", "part"), countColumn("cut", "cut"), textColumn("for", "piece for"),
		lengthColumn(f.Habit, "length", "length"), lengthColumn(f.Habit, "mark", "mark at"), textColumn("remark", "remark"), Column{Key: "done", Title: "done", Kind: Blank})
	t.Groups = "cut from"
	kerf := false
	for _, x := range p.Items {
		if x.Cut == nil {
			continue
		}
		kerf = kerf || x.Cut.Job.Kerf > 0
		if x.Cut.Bar == "" {
			t.spool(x)
		} else {
			t.bars(x, f.Habit)
		}
	}
	if kerf {
		t.note(false, fmt.Sprintf("Marks are from the end that the first piece is cut from, with %s for each cut of the saw.", f.Habit.Show(quantity.Length, sawKerf)))
	}
	for _, why := range p.Missing {
		t.note(true, "Not counted: "+why+".")
	}
	return t
}

// bars lists the cuts of reels and profiles.
func (t *Table) bars(x Item, h quantity.Habit) {
	plan, err := cutting.Solve(x.Cut.Job)
	if err != nil {
		t.note(true, x.Name()+": "+quantity.ErrorIn(err, h)+".")
	}
	bought, each := 0, ""
	if plan.NewReels > 1 {
		each = " each"
	}
	for _, bar := range plan.Bars {
		from := ""
		if bar.Leftover >= 0 {
			from = fmt.Sprintf("what is in the drawer, %s", h.Tape(bar.Length))
		} else {
			bought++
			from = fmt.Sprintf("%s %d of %d (%s%s)", x.Cut.Bar, bought, plan.NewReels, strings.TrimPrefix(x.Unit, x.Cut.Bar+" of "), each) // reel 2 of 3 (5 m each)
		}
		mark := 0.0
		for n, k := range bar.Pieces {
			p := x.Cut.For[k]
			mark += p.Length
			t.cut(x, from, count(n+1), p, number(mark))
			mark += x.Cut.Job.Kerf
		}
		if bar.Offcut > 0 {
			t.add(x.group(from), x.Use, words(x.Name()), Cell{}, words("left over"), number(bar.Offcut), Cell{}, Cell{}, Cell{})
		}
	}
	if !plan.Optimal && err == nil {
		t.note(false, fmt.Sprintf("%s: it is not proven that %d will not do.", x.Name(), plan.Least))
	} else if plan.AtMost-plan.Longest > 0.001 {
		t.note(false, fmt.Sprintf("%s: the longest offcut is %s; another plan might leave up to %s.", x.Name(), h.Tape(plan.Longest), h.Tape(plan.AtMost)))
	}
}

// spool lists what is cut from wire or tape of which no reel is known, the longest first.
func (t *Table) spool(x Item) {
	from := "the spool"
	if x.Buy > 0 {
		from = fmt.Sprintf("the spool, %d %s to buy", x.Buy, x.Unit)
	}
	for n, p := range longestFirst(x.Cut.For) {
		t.cut(x, from, count(n+1), p, Cell{})
	}
}

// group is the heading above what is cut from one reel, bar or spool.
func (x Item) group(from string) string { return x.What + " (" + x.Name() + "): " + from }

func (t *Table) cut(x Item, from string, n Cell, p Piece, mark Cell) {
	label, remark := p.Label, ""
	if p.Of != "" {
		label = "plan " + p.Of + ": " + label
	}
	if p.Estimated {
		remark = "estimated: measure before cutting"
	}
	t.add(x.group(from), p.Block, words(x.Name()), n, words(label), number(p.Length), mark, words(remark), Cell{})
}
