package compare

import (
	"math"
	"slices"

	"ohmstead/lint/figures"
)

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
	other  bool // the pixels stand closer or farther apart: none is what it was
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
			s := stretch{c.whole, p.from, p.run, 0, n, p.turns, true, false}
			if c.joined {
				s = stretch{p.run, 0, c.whole, p.from, n, p.turns, true, false}
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
		out = append(out, stretch{b, 0, h, 0, min(b.Pixels, h.Pixels), m.turned(b, h), false, math.Abs(b.Pitch-h.Pitch) > 1e-9})
	}
	return out
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
		if !ok1 || !ok2 || s.other {
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
