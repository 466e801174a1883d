package compare

import (
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// lengths compares how long runs and wires are, those that are estimated too.
func (c *comparer) lengths() {
	note := func(id string, was, is length) {
		if !was.ok || !is.ok {
			return
		}
		c.note(Move{Figure: Length, ID: id, Unit: "m", Was: &was.m, Is: &is.m, Estimated: [2]bool{was.estimated, is.estimated},
			moved: was.estimated != is.estimated && was.m != is.m})
	}
	for _, r := range c.head.Figures.Runs {
		if k := ref(c, r.ID(), c.base.Figures.Runs, func(x *figures.Run) string { return x.ID() }); k >= 0 {
			b := c.base.Figures.Runs[k]
			note(r.ID(), length{b.Length, false, b.OK}, length{r.Length, false, r.OK})
		}
	}
	for _, l := range c.head.Figures.Leads {
		if k := ref(c, l.ID(), c.base.Figures.Leads, func(x *figures.Lead) string { return x.ID() }); k >= 0 {
			note(l.ID(), leadLength(c.base.Figures.Leads[k]), leadLength(l))
		}
	}
	for _, s := range c.head.Plan.Signals {
		if k := ref(c, s.ID(), c.base.Plan.Signals, func(x *schema.Signal) string { return x.ID() }); k >= 0 {
			note(s.ID(), signalLength(c.base.Figures, c.base.Plan.Signals[k]), signalLength(c.head.Figures, s))
		}
	}
}

// length is one, and where it comes from.
type length struct {
	m         float64
	estimated bool
	ok        bool
}

func leadLength(l *figures.Lead) length { return length{l.Length, l.Estimated, l.Length > 0} }

func signalLength(f *figures.Figures, s *schema.Signal) length {
	m, estimated, ok := f.SignalLength(s)
	return length{m, estimated, ok}
}

// lengthOf is the length of a lead or signal of one side by its address.
func (v *version) lengthOf(b schema.Block) length {
	switch b := b.(type) {
	case *schema.Lead:
		if l, ok := v.Figures.Lead(b); ok {
			return leadLength(l)
		}
	case *schema.Signal:
		return signalLength(v.Figures, b)
	}
	return length{}
}

func (l length) String() string {
	s := quantity.Show(quantity.Length, l.m)
	if l.estimated {
		s += " (estimated)"
	}
	return s
}

// lengths tells which wires and runs got longer or shorter, copies together.
func (p *Plan) lengths() string {
	var parts []string
	told := map[string]bool{}
	for _, m := range p.families() {
		if m.Figure != Length || told[m.Family] {
			continue
		}
		told[m.Family] = true
		parts = append(parts, m.who()+" "+length{*m.Was, m.Estimated[0], true}.String()+" → "+length{*m.Is, m.Estimated[1], true}.String())
	}
	return listed(parts, 3)
}
