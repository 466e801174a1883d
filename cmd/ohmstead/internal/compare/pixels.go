package compare

import (
	"fmt"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Pixels says which pixels have another number or address now.
type Pixels struct {
	Orders     []Line    `json:"orders"`
	Ports      []Line    `json:"ports"`
	Universes  []Address `json:"universes"`
	Controller []string  `json:"controller"` // what must be entered again in controllers
	Show       []string  `json:"show"`       // what must be entered again in the show
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

// stretch maps pixels of a run in base to pixels of a run in head: number
// from+k is number to+k, or to+n-1-k where it was turned.
type stretch struct {
	base   *figures.Run
	from   int
	head   *figures.Run
	to     int
	n      int
	turned bool
	cut    bool // one of the two is a piece of the other
}

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
	out := Pixels{Orders: []Line{}, Ports: []Line{}, Universes: []Address{}, Controller: []string{}, Show: []string{}}
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

// follow maps the pixels that are there on both sides. A run that became longer
// or shorter did so at its end.
func (m *matching) follow() []stretch {
	var out []stretch
	cut := map[*figures.Run]bool{}
	for _, c := range m.cuts {
		cut[c.whole] = true
		for _, p := range c.pieces {
			cut[p.run] = true
			n := min(p.run.Pixels, c.whole.Pixels-p.from)
			s := stretch{c.whole, p.from, p.run, 0, n, p.turns, true}
			if c.joined {
				s = stretch{p.run, 0, c.whole, p.from, n, p.turns, true}
			}
			if n > 0 {
				out = append(out, s)
			}
		}
	}
	byID := map[string]*figures.Run{}
	for _, r := range m.head.Figures.Runs {
		byID[r.ID()] = r
	}
	for _, b := range m.base.Figures.Runs {
		h := byID[m.is[b.ID()]]
		if h == nil || cut[b] || cut[h] || !b.OK || !h.OK {
			continue
		}
		out = append(out, stretch{b, 0, h, 0, min(b.Pixels, h.Pixels), false, false})
	}
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

// traced is a stretch with the numbers of its ends on both sides.
type traced struct {
	stretch
	was, is [2]int
}

// trace follows the stretches from one line to the other, in the order of the
// numbers that they have now.
func trace(was, is line, stretches []stretch) []traced {
	at := func(l line) map[*figures.Run]span {
		out := map[*figures.Run]span{}
		for _, s := range l.spans {
			out[s.run] = s
		}
		return out
	}
	before, after := at(was), at(is)
	var out []traced
	for _, s := range stretches {
		b, ok1 := before[s.base]
		h, ok2 := after[s.head]
		if !ok1 || !ok2 {
			continue
		}
		first, last := s.to, s.to+s.n-1
		if s.turned {
			first, last = last, first
		}
		out = append(out, traced{s, [2]int{b.number(s.from), b.number(s.from + s.n - 1)}, [2]int{h.number(first), h.number(last)}})
	}
	slices.SortFunc(out, func(a, b traced) int { return min(a.is[0], a.is[1]) - min(b.is[0], b.is[1]) })
	for i, t := range out {
		if t.is[0] > t.is[1] { // told in the direction of the new numbers
			out[i].was[0], out[i].was[1] = t.was[1], t.was[0]
			out[i].is[0], out[i].is[1] = t.is[1], t.is[0]
		}
	}
	return out
}

func compareLines(was, is line, stretches []stretch) (Line, bool) {
	l := Line{ID: is.id, Was: was.pixels, Is: is.pixels, From: -1, Shifts: []Shift{}}
	if len(is.spans) > 0 && !is.ok || len(was.spans) > 0 && !was.ok {
		return l, false
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

// reentry says what of an order must be entered again in the show.
func (l Line) reentry() []string {
	var out []string
	switch {
	case l.Was == 0:
		return []string{fmt.Sprintf("%s is new: %s", l.ID, quantity.Count(l.Is, "pixel"))}
	case l.Was != l.Is:
		out = append(out, fmt.Sprintf("%s: %d → %s", l.ID, l.Was, quantity.Count(l.Is, "pixel")))
	}
	if s := l.shifted(); s != "" {
		out = append(out, s)
	}
	return out
}

// shifted says in a sentence which pixels of a line moved.
func (l Line) shifted() string {
	if l.Moved == 0 {
		return ""
	}
	turned := 0
	for _, s := range l.Shifts {
		if s.Turned() {
			turned++
		}
	}
	verb := "shifts"
	if l.Moved > 1 {
		verb = "shift"
	}
	switch {
	case turned == len(l.Shifts) && len(l.Shifts) == 1 && l.Shifts[0].Pixels == l.Is && l.Was == l.Is:
		return fmt.Sprintf("%s is turned round: pixel 0 is pixel %d now", l.ID, l.Shifts[0].Is[slices.Index(l.Shifts[0].Was[:], 0)])
	case len(l.Shifts) == 1 && turned == 0:
		s := l.Shifts[0]
		return fmt.Sprintf("%s: %s %s by %+d, from pixel %d on", l.ID, quantity.Count(l.Moved, "pixel"), verb, s.Is[0]-s.Was[0], s.Is[0])
	case turned > 0:
		return fmt.Sprintf("%s: %s %s from pixel %d on, and %s", l.ID, quantity.Count(l.Moved, "pixel"), verb, l.From, countOf(turned, "stretch runs", "stretches run")+" the other way")
	}
	return fmt.Sprintf("%s: %s %s, from pixel %d on", l.ID, quantity.Count(l.Moved, "pixel"), verb, l.From)
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// ports compares the chains behind the ports.
func (m *matching) ports(out *Pixels) {
	met := map[*figures.Port]bool{}
	for _, p := range m.head.Figures.Ports {
		was := m.portBefore(p)
		met[was] = true
		if was == nil {
			out.Controller = append(out.Controller, fmt.Sprintf("%s is new: pin %s, %s%s", p.ID(), pin(p), quantity.Count(p.Pixels, "pixel"), chips(p)))
			continue
		}
		if l, differs := compareLines(portLine(was), portLine(p), m.stretches); differs {
			out.Ports = append(out.Ports, l)
		}
		if was.Pixels != p.Pixels {
			out.Controller = append(out.Controller, fmt.Sprintf("%s: %d → %s", p.ID(), was.Pixels, quantity.Count(p.Pixels, "pixel")))
		}
		if pin(was) != pin(p) {
			out.Controller = append(out.Controller, fmt.Sprintf("%s: pin %s → %s", p.ID(), pin(was), pin(p)))
		}
		if a, b := chips(was), chips(p); a != b && len(was.Runs) > 0 && len(p.Runs) > 0 {
			out.Controller = append(out.Controller, fmt.Sprintf("%s:%s →%s", p.ID(), a[1:], b[1:]))
		}
	}
	for _, p := range m.base.Figures.Ports {
		if !met[p] {
			out.Controller = append(out.Controller, fmt.Sprintf("%s is gone (%s)", p.ID(), quantity.Count(p.Pixels, "pixel")))
		}
	}
}

func pin(p *figures.Port) string {
	if !p.Pin.Known() {
		return "?"
	}
	return fmt.Sprint(p.Pin.V)
}

// chips is what the controller must know of the strips behind a port: chip and
// order of the colours, those of the first run.
func chips(p *figures.Port) string {
	if len(p.Runs) == 0 || p.Runs[0].Strip.V == nil {
		return ""
	}
	s := p.Runs[0].Strip.V
	out := ","
	if s.Chip.Known() {
		out += " chip " + s.Chip.V
	}
	if s.Channels.Known() {
		out += " channels " + s.Channels.V
	}
	return out
}

// controllers compares what is set in the firmware besides the ports.
func (m *matching) controllers(out *Pixels) {
	for _, c := range m.head.Plan.Controllers {
		id := m.renameBack(c.ID())
		i := slices.IndexFunc(m.base.Plan.Controllers, func(x *schema.Controller) bool { return x.ID() == id })
		if i < 0 {
			continue
		}
		was, is := m.base.Plan.Controllers[i].Ceiling, c.Ceiling
		if ceiling(was) != ceiling(is) && !(was.Set && is.Set && was.V.Equal(is.V)) {
			out.Controller = append(out.Controller, fmt.Sprintf("%s: ceiling %s → %s", c.ID(), ceiling(was), ceiling(is)))
		}
	}
}

func ceiling(v schema.Value[schema.Quantity]) string {
	if !v.Set || v.Bad {
		return "none"
	}
	return v.V.Exact()
}

// universes compares the network addresses.
func (m *matching) universes(out *Pixels) {
	for _, u := range m.head.Figures.Universes {
		id := m.renameBack(u.ID())
		i := slices.IndexFunc(m.base.Figures.Universes, func(x *figures.Universes) bool { return x.ID() == id })
		if i < 0 {
			if u.OK {
				out.Show = append(out.Show, fmt.Sprintf("%s is new: %s from universe %d slot %d on", u.ID(), quantity.Count(u.Layout.Pixels, "pixel"), u.Layout.Universe, u.Layout.Slot))
			}
			continue
		}
		was := m.base.Figures.Universes[i]
		if !u.OK || !was.OK {
			continue
		}
		a := Address{ID: u.ID(), Shifts: []AddressShift{}}
		for _, t := range trace(orderOf(m.base, was), orderOf(m.head, u), m.stretches) {
			s := AddressShift{Runs: []string{t.head.ID()}, Pixels: t.n}
			for k := range 2 {
				s.Was[k], s.Is[k] = slotOf(was, t.was[k]), slotOf(u, t.is[k])
			}
			if s.Was != s.Is {
				a.Shifts = append(a.Shifts, s)
			}
		}
		if len(a.Shifts) > 0 {
			out.Universes = append(out.Universes, a)
		}
		if x, y := universeRange(was), universeRange(u); x != y {
			out.Show = append(out.Show, fmt.Sprintf("%s: %s → %s", u.ID(), x, y))
		}
	}
	for _, u := range m.base.Figures.Universes {
		if _, kept := m.is[u.ID()]; !kept {
			out.Show = append(out.Show, u.ID()+" are gone")
		}
	}
}

func orderOf(v *version, u *figures.Universes) line {
	for _, o := range v.Figures.Orders {
		if o.Order == u.Order.V {
			return orderLine(o)
		}
	}
	return line{}
}

func slotOf(u *figures.Universes, pixel int) Slot {
	universe, slot, err := u.Layout.Locate(pixel)
	if err != nil {
		return Slot{}
	}
	return Slot{universe, slot}
}

// universeRange says which universes and how many slots of a pixel are used.
func universeRange(u *figures.Universes) string {
	first, last := u.Layout.Universe, u.Layout.Universe
	if n := len(u.Spans); n > 0 {
		last = u.Spans[n-1].Universe
	}
	out := fmt.Sprintf("universe %d", first)
	if last > first {
		out = fmt.Sprintf("universes %d to %d", first, last)
	}
	return fmt.Sprintf("%s from slot %d on, %s a pixel", out, u.Layout.Slot, quantity.Count(u.Layout.Channels, "slot"))
}
