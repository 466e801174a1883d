package lists

import (
	"strconv"
	"strings"

	"ohmstead/calc/address"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sentences"
)

// Controller is what the firmware of each controller has to be told, in neutral words: a row for each run in the
// order of the wiring, with what its output needs and its numbers in each order. An output that drives nothing has
// a row too.
func Controller(f *figures.Figures) *Table {
	t := of(f, "controller",
		textColumn("controller"), textColumn("output"), countColumn("pin"),
		textColumn("chip"), textColumn("channels"),
		countColumn("output_pixels"), countColumn("output_first"),
		measureColumn(quantity.Current, "ceiling", -1),
		textColumn("run"), countColumn("pixels"), countColumn("first"), countColumn("last"), textColumn("data"),
		textColumn("order"), countColumn("order_first"), countColumn("order_last"),
		textColumn("universes"), countColumn("universe"), countColumn("slot"), countColumn("last_universe"), countColumn("last_slot"))
	t.Groups = say("controller.groups")
	placed := map[*figures.Run][]placing{}
	for _, o := range f.Orders {
		for _, u := range addresses(f, o.Order) {
			for _, s := range o.Spans {
				placed[s.Run] = append(placed[s.Run], placing{o, s, u})
			}
		}
	}
	for _, c := range f.Controllers {
		first := 0
		for _, p := range c.Ports {
			t.output(c, p, first, placed)
			first += p.Pixels
		}
	}
	if len(t.Rows) > 0 {
		t.note(false, say("controller.note.count"))
		t.note(true, say("controller.note.ceiling"))
	}
	return t
}

// placing is where a run stands in an order.
type placing struct {
	order *figures.Order
	span  figures.OrderSpan
	laid  *figures.Universes // nil where the order has no addresses
}

func (t *Table) output(c *figures.Controller, p *figures.Port, first int, placed map[*figures.Run][]placing) {
	pin, ceiling := Cell{}, Cell{}
	group := say("controller.group", "port", p.ID(), "pixels", sentences.Count(p.Pixels, "pixel"))
	if p.Pin.Known() {
		pin = count(p.Pin.V)
		group = say("controller.group.pin", "port", p.ID(), "pin", strconv.Itoa(p.Pin.V), "pixels", sentences.Count(p.Pixels, "pixel"))
	}
	if c.Ceiling.Known() {
		ceiling = number(c.Ceiling.V.SI)
	}
	head := func(chip, channels Cell) []Cell {
		return []Cell{words(c.Name), words(p.Name), pin, chip, channels, count(p.Pixels), count(first), ceiling}
	}
	if len(p.Runs) == 0 {
		t.add(group, c.Controller, append(head(Cell{}, Cell{}), make([]Cell, len(t.Columns)-8)...)...)
	}
	for _, r := range p.Runs {
		var chip, channels Cell
		if s := r.Strip.V; r.Strip.Known() {
			chip, channels = words(s.Chip.V), words(strings.ToUpper(s.Channels.V))
		}
		direction := say("controller.forth")
		if r.DataEnters.V == "end" {
			direction = say("controller.back")
		}
		row := append(head(chip, channels), words(r.Name), count(r.Pixels), count(r.First), count(r.First+r.Pixels-1), words(direction))
		in := placed[r]
		if len(in) == 0 {
			in = []placing{{}}
		}
		for _, x := range in {
			t.add(group, r.Run, append(row[:len(row):len(row)], x.cells(r)...)...)
		}
	}
}

// cells are the numbers of the run's pixels in the order, first the one that data reaches first, and the slots from
// the first channel of the lowest to the last channel of the highest.
func (x placing) cells(r *figures.Run) []Cell {
	out := make([]Cell, 8)
	if x.order == nil || x.span.Count == 0 {
		return out
	}
	a, b := x.span.First, x.span.First+x.span.Count-1
	if x.span.FromEnd != (r.DataEnters.V == "end") {
		a, b = b, a
	}
	out[0], out[1], out[2] = words(x.order.Name), count(a), count(b)
	if x.laid == nil {
		return out
	}
	out[3] = words(x.laid.Name)
	for k, n := range []int{min(a, b), max(a, b)} {
		u, s, err := x.laid.Layout.Locate(n)
		if err != nil {
			continue
		}
		if k == 1 {
			s += x.laid.Layout.Channels - 1
			u, s = u+(s-1)/address.MaxSlot, (s-1)%address.MaxSlot+1 // a pixel may straddle two universes
		}
		out[4+2*k], out[5+2*k] = count(u), count(s)
	}
	return out
}
