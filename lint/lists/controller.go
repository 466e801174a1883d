package lists

import (
	"fmt"
	"strings"

	"ohmstead/calc/address"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// Controller is what the firmware of each controller has to be told, in neutral words: a row for each run in the
// order of the wiring, with what its output needs and its numbers in each order. An output that drives nothing has
// a row too.
func Controller(f *figures.Figures) *Table {
	t := of(f, "controller", "Controllers",
		textColumn("controller", "controller"), textColumn("output", "output"), countColumn("pin", "pin"),
		textColumn("chip", "chip"), textColumn("channels", "channel order"),
		countColumn("output_pixels", "pixels of output"), countColumn("output_first", "first index"),
		measureColumn(quantity.Current, "ceiling", "ceiling of all its outputs", -1),
		textColumn("run", "run"), countColumn("pixels", "pixels"), countColumn("first", "from"), countColumn("last", "to"), textColumn("data", "data runs"),
		textColumn("order", "order"), countColumn("order_first", "order from"), countColumn("order_last", "order to"),
		textColumn("universes", "universes"), countColumn("universe", "universe from"), countColumn("slot", "first slot"), countColumn("last_universe", "universe to"), countColumn("last_slot", "last slot"))
	t.Groups = "output"
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
		t.note(false, "Indexes count from 0; the first index of an output counts on over the outputs of a controller. Universes and slots count from 1.")
		t.note(true, "A ceiling is software: it dims, but it protects no wire. Set it before the first power-up all the same.")
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
	group := fmt.Sprintf("%s, %s", p.ID(), quantity.Count(p.Pixels, "pixel"))
	if p.Pin.Known() {
		pin = count(p.Pin.V)
		group = fmt.Sprintf("%s, pin %d, %s", p.ID(), p.Pin.V, quantity.Count(p.Pixels, "pixel"))
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
		way := "start to end"
		if r.DataEnters.V == "end" {
			way = "end to start"
		}
		row := append(head(chip, channels), words(r.Name), count(r.Pixels), count(r.First), count(r.First+r.Pixels-1), words(way))
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
