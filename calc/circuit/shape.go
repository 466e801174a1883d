package circuit

import "slices"

// shaped reports whether two circuits are cut alike: they differ at most in the ohms of wires and what warms them, in what sinks and
// pixels draw and in the rails of strips.
func (c *Circuit) shaped(d *Circuit) bool {
	return c.Nodes == d.Nodes && slices.Equal(c.Sources, d.Sources) &&
		slices.EqualFunc(c.Wires, d.Wires, func(a, b Wire) bool { return a.A == b.A && a.B == b.B }) &&
		slices.EqualFunc(c.Sinks, d.Sinks, func(a, b Sink) bool { return a.Plus == b.Plus && a.Minus == b.Minus }) &&
		slices.EqualFunc(c.Strips, d.Strips, func(a, b Strip) bool {
			return a.Pixels == b.Pixels && a.Pitch == b.Pitch && slices.Equal(a.Taps, b.Taps)
		})
}

// with is the split of a circuit of the same shape.
func (s *Split) with(c *Circuit) *Split {
	out := *s
	out.whole = c
	out.Parts = slices.Clone(s.Parts)
	for k := range out.Parts {
		out.Parts[k].Circuit = out.Parts[k].with(c)
	}
	return &out
}

// with is the part's circuit with the values that the whole has now: the circuit that it has where none differs.
func (p *Part) with(whole *Circuit) *Circuit {
	c := *p.Circuit
	var wires, sinks, strips bool
	c.Wires, wires = renewed(c.Wires, func(i int, w *Wire) bool {
		was, now := *w, &whole.Wires[p.Wires[i]]
		w.Ohms, w.Heat, w.Most = now.Ohms, now.Heat, now.Most
		return *w == was
	})
	c.Sinks, sinks = renewed(c.Sinks, func(i int, s *Sink) bool {
		was, now := *s, &whole.Sinks[p.Sinks[i]]
		s.Amps, s.Knee = now.Amps, now.Knee
		return *s == was
	})
	c.Strips, strips = renewed(c.Strips, func(i int, s *Strip) bool {
		was := *s
		*s = whole.Strips[p.Strips[i]]
		s.Taps = was.Taps // at nodes of the part
		return s.Rail == was.Rail && s.Law.same(was.Law) && s.driven(&was)
	})
	if wires || sinks || strips {
		return &c
	}
	return p.Circuit
}

// renewed brings elements up to date, in a copy where one differs; renew tells that it is the same as before.
func renewed[T any](all []T, renew func(i int, x *T) (same bool)) (out []T, differs bool) {
	out = all
	for i, x := range all {
		if renew(i, &x) {
			continue
		}
		if !differs {
			out, differs = slices.Clone(all), true
		}
		out[i] = x
	}
	return out, differs
}

// same reports whether two laws say the same.
func (l *Law) same(m *Law) bool {
	return l == m || l.Idle == m.Idle && l.Series == m.Series && slices.Equal(l.Channels, m.Channels)
}

// driven reports whether the strip is driven as another one.
func (s *Strip) driven(as *Strip) bool {
	return (s.Share == nil) == (as.Share == nil) && (s.Each == nil) == (as.Each == nil) &&
		slices.Equal(s.Share, as.Share) && slices.EqualFunc(s.Each, as.Each, slices.Equal[[]float64])
}
