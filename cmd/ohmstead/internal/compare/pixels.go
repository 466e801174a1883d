package compare

import (
	"fmt"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// Pixels says which pixels have another number or address now.
type Pixels struct {
	Runs       []RunCount `json:"runs"` // that have more or fewer pixels now
	Orders     []Line     `json:"orders"`
	Ports      []Line     `json:"ports"`
	Universes  []Address  `json:"universes"`
	Controller []string   `json:"controller"` // what must be entered again in controllers
	Show       []string   `json:"show"`       // what must be entered again in the show
}

// Same reports whether every pixel keeps its number, its address, and what its
// controller has to know.
func (p Pixels) Same() bool {
	return len(p.Orders) == 0 && len(p.Ports) == 0 && len(p.Universes) == 0 && len(p.Controller) == 0 && len(p.Show) == 0
}

// Line is an order, or the chain of runs behind a port, whose pixels changed.
type Line struct {
	ID     string  `json:"id"`
	Was    int     `json:"was_pixels"`
	Is     int     `json:"pixels"`
	Moved  int     `json:"moved"` // pixels that are there on both sides with another number
	From   int     `json:"from"`  // the first number in head that moved
	Shifts []Shift `json:"shifts"`
	New    []Range `json:"new"`  // numbers in head of pixels that were not there
	Gone   []Range `json:"gone"` // numbers in base of pixels that are not there any more
	// Unknown says that it cannot be counted in head.
	Unknown bool `json:"unknown,omitempty"`
}

// RunCount is how many pixels a run has.
type RunCount struct {
	ID     string     `json:"id"`
	Family string     `json:"family"`
	Was    int        `json:"was"`
	Is     int        `json:"is"`
	Pitch  [2]float64 `json:"pitch"` // m between pixels
}

// Shift is a stretch of pixels with other numbers. Was and Is name its two
// ends in the same order: where one falls and the other rises, the stretch was
// turned round.
type Shift struct {
	Runs   []string `json:"runs"` // in head
	Pixels int      `json:"pixels"`
	Was    [2]int   `json:"was"`
	Is     [2]int   `json:"is"`
}

// Turned reports whether the stretch now goes the other way.
func (s Shift) Turned() bool { return s.Pixels > 1 && (s.Was[0] < s.Was[1]) != (s.Is[0] < s.Is[1]) }

// Range is a stretch of numbers, both ends included.
type Range struct {
	First int `json:"first"`
	Last  int `json:"last"`
}

// Address is what universes say of their pixels now and before.
type Address struct {
	ID     string         `json:"id"`
	Shifts []AddressShift `json:"shifts"`
}

// AddressShift is a stretch of pixels with other addresses: those of its two
// ends in the same order.
type AddressShift struct {
	Runs   []string `json:"runs"`
	Pixels int      `json:"pixels"`
	Was    [2]Slot  `json:"was"`
	Is     [2]Slot  `json:"is"`
}

// Slot is the address of a pixel's first channel.
type Slot struct {
	Universe int `json:"universe"`
	Slot     int `json:"slot"`
}

func (s Slot) String() string { return fmt.Sprintf("%d/%d", s.Universe, s.Slot) }

// line is an order or a port as spans of runs.
type line struct {
	id     string
	pixels int
	spans  []span
	ok     bool
}

type span struct {
	run      *figures.Run
	first, n int
	turned   bool // the last pixel of the run comes first
}

func (s span) number(pixel int) int {
	if s.turned {
		return s.first + s.n - 1 - pixel
	}
	return s.first + pixel
}

func (m *matching) pixels() Pixels {
	out := Pixels{Runs: []RunCount{}, Orders: []Line{}, Ports: []Line{}, Universes: []Address{}, Controller: []string{}, Show: []string{}}
	for _, s := range m.stretches {
		if !s.cut && (s.base.Pixels != s.head.Pixels || s.other) {
			family, _ := m.head.group(s.head.ID())
			out.Runs = append(out.Runs, RunCount{s.head.ID(), family, s.base.Pixels, s.head.Pixels, [2]float64{s.base.Pitch, s.head.Pitch}})
		}
	}
	orders := map[string]line{}
	for _, o := range m.base.Figures.Orders {
		orders[m.rename(o.ID())] = orderLine(o)
	}
	for _, o := range m.head.Figures.Orders {
		was, is := orders[o.ID()], orderLine(o)
		delete(orders, o.ID())
		if l, differs := compareLines(was, is, m.stretches); differs {
			out.Orders = append(out.Orders, l)
			out.Show = append(out.Show, l.reentry()...)
		}
	}
	for _, o := range m.base.Figures.Orders {
		if _, gone := orders[m.rename(o.ID())]; gone {
			out.Show = append(out.Show, fmt.Sprintf("%s is gone (%s)", o.ID(), quantity.Count(o.Pixels, "pixel")))
		}
	}
	m.ports(&out)
	m.controllers(&out)
	m.universes(&out)
	return out
}

func orderLine(o *figures.Order) line {
	l := line{id: o.ID(), pixels: o.Pixels, ok: o.OK}
	for _, s := range o.Spans {
		l.spans = append(l.spans, span{s.Run, s.First, s.Count, s.FromEnd})
	}
	return l
}

func portLine(p *figures.Port) line {
	l := line{id: p.ID(), pixels: p.Pixels, ok: true}
	for _, r := range p.Runs {
		l.ok = l.ok && r.OK
		l.spans = append(l.spans, span{r, r.First, r.Pixels, r.DataEnters.V == "end"})
	}
	return l
}

func compareLines(was, is line, stretches []stretch) (Line, bool) {
	l := Line{ID: is.id, Was: was.pixels, Is: is.pixels, From: -1, Shifts: []Shift{}}
	if len(is.spans) > 0 && !is.ok || len(was.spans) > 0 && !was.ok || len(is.spans) == 0 && !is.ok && was.ok && was.pixels > 0 {
		l.Unknown = !is.ok && was.ok
		return l, l.Unknown
	}
	all := trace(was, is, stretches)
	keptWas, keptIs := make([]bool, was.pixels), make([]bool, is.pixels)
	for _, t := range all {
		for k := range t.n {
			keptWas[min(t.was[0], t.was[1])+k] = true
			keptIs[t.is[0]+k] = true
		}
		moved := t.n
		if t.was[0] <= t.was[1] {
			if t.was[0] == t.is[0] {
				continue
			}
		} else if d := t.was[0] - t.is[0]; d >= 0 && d%2 == 0 && d/2 < t.n {
			moved-- // the one in the middle stays
		}
		if moved == 0 {
			continue
		}
		if l.From < 0 {
			l.From = t.is[0]
		}
		l.Moved += moved
		l.Shifts = join(l.Shifts, Shift{[]string{t.head.ID()}, t.n, t.was, t.is})
	}
	l.New, l.Gone = ranges(keptIs), ranges(keptWas)
	return l, len(l.Shifts) > 0 || len(l.New) > 0 || len(l.Gone) > 0 || was.pixels != is.pixels
}

// join makes one of two stretches that follow each other on both sides.
func join(all []Shift, s Shift) []Shift {
	if n := len(all); n > 0 {
		p := &all[n-1]
		step := 1
		if s.Turned() || p.Turned() {
			step = -1
		}
		turnedAlike := p.Pixels == 1 || s.Pixels == 1 || s.Turned() == p.Turned()
		if turnedAlike && p.Is[1]+1 == s.Is[0] && p.Was[1]+step == s.Was[0] {
			p.Runs = append(p.Runs, s.Runs...)
			p.Pixels += s.Pixels
			p.Was[1], p.Is[1] = s.Was[1], s.Is[1]
			return all
		}
	}
	return append(all, s)
}

// ranges lists the stretches of numbers that are not kept.
func ranges(kept []bool) []Range {
	out := []Range{}
	for i := 0; i < len(kept); i++ {
		if kept[i] {
			continue
		}
		first := i
		for i+1 < len(kept) && !kept[i+1] {
			i++
		}
		out = append(out, Range{first, i})
	}
	return out
}
