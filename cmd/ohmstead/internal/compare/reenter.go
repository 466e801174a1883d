package compare

import (
	"fmt"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// reentry says what of an order must be entered again in the show.
func (l Line) reentry() []string {
	var out []string
	switch {
	case l.Unknown:
		return []string{l.ID + " cannot be counted"}
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
	var turned, straight []Shift
	for _, s := range l.Shifts {
		if s.Turned() {
			turned = append(turned, s)
		} else {
			straight = append(straight, s)
		}
	}
	verb := "shifts"
	if l.Moved > 1 {
		verb = "shift"
	}
	switch {
	case len(turned) == len(l.Shifts) && len(l.Shifts) == 1 && l.Shifts[0].Pixels == l.Is && l.Was == l.Is:
		return fmt.Sprintf("%s is turned round: pixel 0 is pixel %d now", l.ID, l.Shifts[0].Is[slices.Index(l.Shifts[0].Was[:], 0)])
	case len(straight) == 1 && len(turned) == 0:
		s := straight[0]
		return fmt.Sprintf("%s: %s %s by %+d, from pixel %d on", l.ID, quantity.Count(l.Moved, "pixel"), verb, s.Is[0]-s.Was[0], s.Is[0])
	case len(l.Shifts) <= 3:
		var parts []string
		for _, s := range straight {
			parts = append(parts, fmt.Sprintf("pixels %s of %s are %s now", between(s.Was[0], s.Was[1]), listed(s.Runs, 2), between(s.Is[0], s.Is[1])))
		}
		for _, s := range turned {
			parts = append(parts, fmt.Sprintf("%s (pixels %s) runs the other way", listed(s.Runs, 2), between(s.Is[0], s.Is[1])))
		}
		return l.ID + ": " + strings.Join(parts, ", ")
	case len(turned) > 0:
		return fmt.Sprintf("%s: %s %s from pixel %d on, and %s the other way (%s)", l.ID, quantity.Count(l.Moved, "pixel"), verb, l.From, countOf(len(turned), "stretch runs", "stretches run"), listed(turned[0].Runs, 2))
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
			if s := l.shifted(); s != "" {
				out.Controller = append(out.Controller, s)
			}
		}
		if was.Pixels != p.Pixels && portLine(p).ok {
			out.Controller = append(out.Controller, fmt.Sprintf("%s: %d → %s", p.ID(), was.Pixels, quantity.Count(p.Pixels, "pixel")))
		}
		if pin(was) != pin(p) {
			out.Controller = append(out.Controller, fmt.Sprintf("%s: pin %s → %s", p.ID(), pin(was), pin(p)))
		}
		if a, b := chips(was), chips(p); a != b && a != "" && b != "" {
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
// order of the colours, those of the first run; "" where its strip is not known.
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
