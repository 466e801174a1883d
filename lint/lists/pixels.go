package lists

import (
	"strconv"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// mostPixels bounds the list of a plan that holds absurdly many.
const mostPixels = 500_000

// Pixels is every pixel: its number in the order that effects see, where it is, and by which output and address
// it is reached. Pixels, indexes and orders count from 0, universes and slots from 1 (ANSI E1.31, E1.11). A place is
// on the surface as it lies flat, from its lower left corner: x to the right, y up, z off it; without a surface it
// is as the plan draws it.
func Pixels(f *figures.Figures) *Table {
	metre := lengthColumn(f.Habit, "")
	if f.Habit == quantity.Metric {
		metre.Places = 4
	}
	at := func(axis string) Column {
		metre.Key, metre.Kind = axis, Number // a program's, in one unit
		return metre
	}
	t := of(f, "pixels",
		textColumn("order"), countColumn("index"), textColumn("run"), countColumn("pixel"),
		textColumn("surface"), at("x"), at("y"), at("z"),
		textColumn("output"), countColumn("output_index"),
		textColumn("universes"), countColumn("universe"), countColumn("slot"))
	in := map[*figures.Run]bool{}
	full := func() bool {
		if len(t.Rows) < mostPixels {
			return false
		}
		t.note(true, say("pixels.note.most", "n", strconv.Itoa(mostPixels)))
		return true
	}
	for _, o := range f.Orders {
		laid := addresses(f, o.Order)
		for _, s := range o.Spans {
			in[s.Run] = true
			for k := range s.Count {
				if full() {
					return t
				}
				pixel := k
				if s.FromEnd {
					pixel = s.Count - 1 - k
				}
				for _, u := range laid {
					t.pixel(s.Run, pixel, o.Name, count(s.First+k), u, s.First+k)
				}
			}
		}
	}
	for _, r := range f.Runs {
		if r.OK && !in[r] {
			for k := range r.Pixels {
				if full() {
					return t
				}
				t.pixel(r, k, "", Cell{}, nil, 0)
			}
		}
	}
	if len(t.Rows) > 0 {
		t.note(false, say("pixels.note.count"))
	}
	return t
}

// addresses lists the universes of an order that could be laid out; one nil where it has none.
func addresses(f *figures.Figures, o *schema.Order) []*figures.Universes {
	var out []*figures.Universes
	for _, u := range f.Universes {
		if u.OK && u.Order.V == o {
			out = append(out, u)
		}
	}
	if len(out) == 0 {
		out = append(out, nil)
	}
	return out
}

func (t *Table) pixel(r *figures.Run, k int, order string, index Cell, u *figures.Universes, line int) {
	var surface, x, y, z, output, on, name, universe, slot Cell
	if px, py, pz, ok := r.XYZ((float64(k) + 0.5) * r.Pitch); ok {
		x, y, z = number(px), number(py), number(pz)
	}
	if r.On.Known() {
		surface = words(r.On.V.Name)
	}
	if r.Port != nil {
		output, on = words(r.Port.ID()), count(onOutput(r, k))
	}
	if u != nil {
		if n, s, err := u.Layout.Locate(line); err == nil {
			name, universe, slot = words(u.Name), count(n), count(s)
		}
	}
	t.add("", r.Run, words(order), index, words(r.Name), count(k), surface, x, y, z, output, on, name, universe, slot)
}

// onOutput is the number of a run's pixel on its output.
func onOutput(r *figures.Run, k int) int {
	if r.DataEnters.V == "end" {
		k = r.Pixels - 1 - k
	}
	return r.First + k
}
