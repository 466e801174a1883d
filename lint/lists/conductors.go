package lists

import (
	"math"
	"strconv"

	"ohmstead/lint/figures"
	"ohmstead/lint/sentences"
	"ohmstead/schema"
)

// side says what a conductor carries.
type side int

const (
	plus side = iota
	minus
	data
	clock
	backup // the second data line, past one dead pixel
)

// String is the mark of a side as it is written on a conductor.
func (s side) String() string {
	return [...]string{"+", "-", say("side.data"), say("side.clock"), say("side.backup")}[s]
}

// conductor is one conductor of a lead or signal.
type conductor struct {
	of        schema.Block // *figures.Lead's *schema.Lead, or *schema.Signal
	name      string       // of the block
	side      side
	number    int // of those side by side, counted from 1; 0 where it is the only one
	from, to  *schema.Point
	wire      *schema.Wire // nil where it is not known
	color     string       // letters of IEC 60757, or as the wire says; empty where nothing does
	length    float64      // m; 0 where it is not known
	estimated bool
	fuse      schema.Value[schema.Quantity] // of plus
	core      *schema.Wire                  // the cable that it is a core of
	host      schema.Block                  // what the cable is cut for: of, or what it lies within
}

// label is what is written on both ends of a conductor. It is its own: leads have no data, signals no plus.
func (c *conductor) label() string {
	l := c.name + " " + c.side.String()
	if c.number > 0 {
		l += strconv.Itoa(c.number)
	}
	return l
}

// wiring is every conductor of a plan, leads before signals, in its order.
type wiring struct {
	f     *figures.Figures
	all   []*conductor
	lacks []string // what could not be counted, and why
	sides map[string]map[side]bool
}

func wired(f *figures.Figures) *wiring {
	w := &wiring{f: f, sides: map[string]map[side]bool{}}
	for _, l := range f.Leads {
		w.lead(l)
	}
	for _, s := range f.Plan.Signals {
		w.signal(s)
	}
	for _, c := range w.all {
		if w.sides[c.color] == nil {
			w.sides[c.color] = map[side]bool{}
		}
		w.sides[c.color][c.side] = true
	}
	return w
}

func (w *wiring) lead(l *figures.Lead) {
	if !l.From.Known() || !l.To.Known() || !l.Carries.Known() || !l.Parallel.Known() {
		return // a finding of its own
	}
	c := conductor{of: l.Lead, name: l.Name, from: l.From.V, to: l.To.V, host: l.Lead}
	if l.Wire.Known() {
		c.wire = l.Wire.V
	}
	if l.OK {
		c.length, c.estimated = l.Length, l.Estimated
	} else {
		w.lacks = append(w.lacks, say("lacks.length", "of", l.ID()))
	}
	if c.cabled() {
		c.core, c.host = c.wire, host(l.Lead)
	}
	for k := range l.Parallel.V {
		if l.Parallel.V > 1 {
			c.number = k + 1
		}
		if l.Plus() {
			p := c
			p.side = plus
			if l.Fused() {
				p.fuse = l.Fuse
			}
			w.add(p)
		}
		if l.Minus() {
			m := c
			m.side = minus
			w.add(m)
		}
	}
}

func (w *wiring) signal(s *schema.Signal) {
	if !s.From.Known() || !s.To.Known() {
		return
	}
	c := conductor{of: s, name: s.Name, side: data, from: s.From.V, to: s.To.V, host: s}
	if s.Wire.Known() {
		c.wire = s.Wire.V
	}
	if in := s.Within.V; s.Within.Known() && in.Wire.Known() && in.Wire.V.Cores.V > 1 && (c.wire == nil && !s.Wire.Set || c.wire == in.Wire.V) {
		c.wire, c.host = in.Wire.V, host(in)
	}
	if c.cabled() {
		c.core = c.wire
	}
	if length, estimated, ok := w.f.SignalLength(s); ok {
		c.length, c.estimated = length, estimated
	} else {
		w.lacks = append(w.lacks, say("lacks.length", "of", s.ID()))
	}
	if c.wire == nil {
		w.lacks = append(w.lacks, say("lacks.wire", "of", s.ID()))
	}
	for _, core := range figures.Cores(s) {
		c.side = map[string]side{"data": data, "clock": clock, "backup": backup}[core]
		w.add(c)
	}
}

func (c *conductor) cabled() bool { return c.wire != nil && c.wire.Cores.Known() && c.wire.Cores.V > 1 }

// host is the lead whose cable carries a lead: itself, unless it lies within one of the same cable.
func host(l *schema.Lead) *schema.Lead {
	for range 100 { // a ring of leads within each other is a finding
		if in := l.Within.V; l.Within.Known() && in.Wire.V == l.Wire.V {
			l = in
			continue
		}
		break
	}
	return l
}

// add files a conductor. A wire has the colour that it says; single conductors of which it says nothing are
// bought as the plan marks them. What colours the cores of a cable have is not known.
func (w *wiring) add(c conductor) {
	switch m := w.f.Plan.Marking; {
	case c.wire == nil:
	case c.wire.Color.Known():
		c.color = c.wire.Color.V
	case c.core == nil && m != nil && c.side <= data:
		if v := [...]schema.Value[string]{m.Plus, m.Minus, m.Data}[c.side]; v.Known() && v.V != "none" {
			c.color = v.V
		}
	}
	w.all = append(w.all, &c)
}

// marked tells the sides of conductors apart where their colour does not: by rings.
func (w *wiring) marked(l Label, c *conductor) Label {
	if l.Mark = c.color; c.color == "" || len(w.sides[c.color]) != 1 {
		l.Mark, l.Ringed = sentences.Count(int(c.side)+1, "ring"), true
	}
	return l
}

// piece is a length of wire or cable that is cut off in one.
type piece struct {
	wire      *schema.Wire
	color     string
	length    float64
	estimated bool
	label     string
	of        schema.Block
	cores     []*conductor
}

// pieces lists what is cut: each conductor by itself, and cables with as many of them as they have cores.
func (w *wiring) pieces() []*piece {
	var out []*piece
	type in struct {
		host *schema.Header
		wire *schema.Wire
	}
	cables := map[in]*piece{} // the last of each
	number := map[in]int{}
	for _, c := range w.all {
		if c.wire == nil || !(c.length > 0) {
			continue
		}
		key := in{schema.HeaderOf(c.host), c.wire}
		p := cables[key]
		if c.core == nil || p == nil || len(p.cores) == c.wire.Cores.V {
			p = &piece{wire: c.wire, color: c.color, label: c.label(), of: c.host}
			if c.core != nil {
				p.label = schema.HeaderOf(c.host).Name
				if number[key]++; number[key] > 1 {
					p.label = say("wires.cable.number", "lead", p.label, "n", strconv.Itoa(number[key]))
				}
				cables[key] = p
			}
			out = append(out, p)
		}
		p.cores = append(p.cores, c)
		p.length = math.Max(p.length, c.length)
		p.estimated = p.estimated || c.estimated
	}
	return out
}

// place is a point as people at the wall call it.
func place(pt *schema.Point) string {
	switch pt.Kind {
	case schema.SupplyOut:
		if pt.Supply.Outputs.V > 1 {
			return say("place.output", "supply", pt.Supply.Name, "n", strconv.Itoa(pt.Output))
		}
		return say("place.supply", "supply", pt.Supply.Name)
	case schema.JointPlace:
		return say("place.joint", "joint", pt.Joint.Name)
	case schema.ControllerPower:
		return say("place.power", "controller", pt.Controller.Name)
	case schema.ControllerPort:
		return say("place.port", "controller", pt.Controller.Name, "port", pt.Port.Name)
	}
	switch pt.Where {
	case schema.AtStart:
		return say("place.start", "run", pt.Run.Name)
	case schema.AtEnd:
		return say("place.end", "run", pt.Run.Name)
	case schema.AtDistance:
		return say("place.at", "run", pt.Run.Name, "distance", pt.Distance.Exact())
	}
	return say("place.pixel", "run", pt.Run.Name, "n", strconv.Itoa(pt.Pixel))
}
