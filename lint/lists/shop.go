package lists

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/cutting"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sentences"
	"ohmstead/schema"
)

// Shopping is Shop as a list. Prices stand in a column for each currency: sums are never mixed.
func Shopping(f *figures.Figures, others ...*figures.Figures) *Table {
	p := Shop(f, others...)
	t := of(f, "shopping",
		textColumn("what"), textColumn("kind"), textColumn("part"), textColumn("color"),
		countColumn("need"), lengthColumn(f.Habit, "need_length"),
		countColumn("others"), lengthColumn(f.Habit, "others_length"),
		countColumn("have"), lengthColumn(f.Habit, "have_length"),
		countColumn("buy"), countColumn("spare"), textColumn("unit"))
	var currencies []string
	for _, x := range p.Items {
		if x.Each != nil {
			currencies = appendNew(currencies, x.Each.Unit.Symbol)
		}
	}
	for _, c := range currencies {
		u := quantity.Unit{Symbol: c, Dim: quantity.Money, Factor: 1}
		t.Columns = append(t.Columns, Column{"each_" + c, say("shopping.each"), Money, u, 2}, Column{"cost_" + c, say("shopping.cost"), Money, u, 2})
	}
	t.Columns = append(t.Columns, Column{Key: "got", Title: say("shopping.got"), Kind: Blank})
	for _, x := range p.Items {
		row := []Cell{words(x.What), words(say("part." + x.Kind)), words(x.Part), words(x.Color)}
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
	total[0] = words(say("shopping.total"))
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
	var unheld []string
	for _, r := range f.Runs {
		if !r.Fixing.Set {
			unheld = append(unheld, r.Name)
		}
	}
	if len(unheld) > 0 {
		t.note(false, say("shopping.note.unheld", "runs", strings.Join(Spans(unheld), ", ")))
	}
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
		if p.SpareShare > 0 {
			t.note(false, say("shopping.note.spare", "share", p.Habit.Show(quantity.Share, p.SpareShare)))
		} else {
			t.note(false, say("shopping.note.bare"))
		}
	}
	if long {
		t.note(false, say("shopping.note.drawer"))
	}
	if left := p.leftovers(); left != "" {
		t.note(false, say("shopping.note.left", "left", left))
	}
	if colorless {
		t.note(false, say("shopping.note.colorless"))
	}
	if shared {
		t.note(false, say("shopping.note.shared"))
	}
	t.colored(colors)
	if paired {
		t.note(false, say("shopping.note.paired"))
	}
	if p.Unpriced > 0 {
		t.note(false, say("shopping.note.unpriced", "items", sentences.Count(p.Unpriced, "item")))
	}
	for _, why := range p.Missing {
		t.note(true, say("shopping.note.missing", "why", why))
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
			lengths[i] = say("shopping.left", "pieces", sentences.Count(pieces[s], "piece"), "length", s)
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
	t := of(f, "cutting",
		textColumn("part"), countColumn("cut"), textColumn("for"),
		lengthColumn(f.Habit, "length"), lengthColumn(f.Habit, "mark"), textColumn("remark"), Column{Key: "done", Kind: Blank})
	t.Groups = say("cutting.groups")
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
		t.note(false, say("cutting.note.kerf", "kerf", f.Habit.Show(quantity.Length, sawKerf)))
	}
	for _, why := range p.Missing {
		t.note(true, say("shopping.note.missing", "why", why))
	}
	return t
}

// bars lists the cuts of reels and profiles.
func (t *Table) bars(x Item, h quantity.Habit) {
	plan, err := cutting.Solve(x.Cut.Job)
	if err != nil {
		t.note(true, say("cutting.note.error", "part", x.Name(), "why", quantity.ErrorIn(err, h)))
	}
	bought := 0
	for _, bar := range plan.Bars {
		from := ""
		if bar.Leftover >= 0 {
			from = say("cutting.drawer", "length", h.Tape(bar.Length))
		} else {
			bought++
			key := "cutting.only." + x.Cut.Bar
			if plan.NewReels > 1 {
				key = "cutting.one." + x.Cut.Bar // reel 2 of 3 (5 m each)
			}
			from = say(key, "n", strconv.Itoa(bought), "of", strconv.Itoa(plan.NewReels), "length", h.Show(quantity.Length, x.Cut.Job.Reel))
		}
		mark := 0.0
		for n, k := range bar.Pieces {
			p := x.Cut.For[k]
			mark += p.Length
			t.cut(x, from, count(n+1), p, number(mark))
			mark += x.Cut.Job.Kerf
		}
		if bar.Offcut > 0 {
			t.add(x.group(from), x.Use, words(x.Name()), Cell{}, words(say("cutting.left")), number(bar.Offcut), Cell{}, Cell{}, Cell{})
		}
	}
	if !plan.Optimal && err == nil {
		t.note(false, say("cutting.note.unproven", "part", x.Name(), "n", strconv.Itoa(plan.Least)))
	} else if plan.AtMost-plan.Longest > 0.001 {
		t.note(false, say("cutting.note.offcut", "part", x.Name(), "length", h.Tape(plan.Longest), "most", h.Tape(plan.AtMost)))
	}
}

// spool lists what is cut from wire or tape of which no reel is known, the longest first.
func (t *Table) spool(x Item) {
	from := say("cutting.spool")
	if x.Buy > 0 {
		from = say("cutting.spool.buy", "n", strconv.Itoa(x.Buy), "unit", x.Unit)
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
		label = say("cutting.plan", "plan", p.Of, "piece", label)
	}
	if p.Estimated {
		remark = say("cutting.estimated")
	}
	length := number(p.Length)
	length.About = p.Estimated
	mark.About = p.Estimated && mark.Numeric
	t.add(x.group(from), p.Block, words(x.Name()), n, words(label), length, mark, words(remark), Cell{})
}
