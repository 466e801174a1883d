package figures

import (
	"math"
	"slices"
	"sync"

	"ohmstead/calc/circuit"
	"ohmstead/schema"
)

// Change is one thing that is otherwise on the wall than the plan says.
type Change struct {
	What   What
	Lead   *Lead
	Where  schema.Where // of Added: AtStart and AtEnd are the lead's connections, AtFuse its fuse with the holder
	Run    *Run
	Supply *schema.Supply
	By     float64
}

// What differs, and by how much.
type What int

const (
	Added     What = iota // By ohm more in the plus side of the lead (in its minus where it has no plus)
	Stretched             // its copper has By times the resistance, on both sides
	Opened                // it carries nothing: a feed that was left out
	Railed                // the rails of the run have By times the resistance
	Drawn                 // its light draws By times the current
	Idled                 // its chips do so
	Darkened              // this share of its pixels, those at its end, is dark
	Trimmed               // the supply gives By times its voltage
)

// Probes are where a meter is held, and what it is set to.
type Probes struct {
	At    *schema.Point
	Reads Reads
}

// Reads is what a meter is set to: the voltage between plus and minus, or along a lead; a current; the resistance of a lead.
type Reads int

const (
	Volts Reads = iota
	Amps
	Ohms
)

// Wall is an island in one case, with changes.
type Wall struct {
	f       *Figures
	is      *Island
	in      int // the case, as an index of Figures.Cases
	changes []Change
	split   *circuit.Split   // as planned
	altered map[int]*altered // parts that the changes concern
	solved  map[int]*circuit.Solution
	little  bool                           // they are so small that what they move is in proportion
	read    []int                          // parts that what was shown depends on, in no order, apart among them
	risen   *circuit.Split                 // with the voltages of supplies as they are; nil until it is asked for
	cut     func() (*circuit.Split, error) // as trimmed, for several walls; nil of a lone one
	trims   sync.Map                       // of the wall as planned: cut of those with a supply trimmed, by that
	err     error
}

// altered is a part with its changes; what none of them is made to it has in common with the part as planned.
type altered struct {
	circuit                circuit.Circuit
	drive                  circuit.Drive
	sources, wires, strips bool // of its own
}

// Wall is an island of the plan in a case, with changes. What it shows is worked out when it is asked for.
func (f *Figures) Wall(is *Island, c *Case, changes ...Change) (*Wall, error) {
	w := &Wall{f: f, is: is, in: slices.Index(f.Cases, c), changes: slices.Clone(changes), split: is.split}
	switch {
	case is.Err != nil:
		return nil, is.Err
	case is.split == nil || w.in < 0 || f.withheld(c):
		return nil, ErrPartial
	}
	for _, ch := range changes {
		w.alter(ch)
	}
	return w, nil
}

// rises is the split of the wall with the supplies as they are set: how far a node lies above another of another part
// depends on them, whatever is solved.
func (w *Wall) rises() *circuit.Split {
	w.read = append(w.read, apart)
	if w.risen != nil {
		return w.risen
	}
	if w.risen = w.split; !slices.ContainsFunc(w.changes, func(ch Change) bool { return ch.What == Trimmed }) {
		return w.risen
	}
	cut := w.cut
	if cut == nil {
		cut = w.trimmed
	}
	if split, err := cut(); err == nil {
		w.risen = split
	} else {
		w.err = err
	}
	return w.risen
}

// trimmed cuts the island anew with the supplies as they are set.
func (w *Wall) trimmed() (*circuit.Split, error) {
	whole := *w.is.Circuit
	whole.Sources = slices.Clone(whole.Sources)
	for _, ch := range w.changes {
		if ch.What == Trimmed {
			w.is.outputs(ch.Supply, func(source int) { whole.Sources[source].Volts *= ch.By })
		}
	}
	return whole.SplitFrom(w.split)
}

// apart stands among parts for how they lie above each other.
const apart = -1

// part is a part that is to be changed.
func (w *Wall) part(i int) *altered {
	a := w.altered[i]
	if a == nil {
		a = &altered{circuit: *w.split.Parts[i].Circuit}
		if w.is.parts[i].Live {
			a.drive = w.is.parts[i].drives[w.in]
		}
		if w.altered == nil {
			w.altered = map[int]*altered{}
		}
		w.altered[i] = a
	}
	return a
}

// own is a value among values that is to be changed, in a copy of them unless that was made before.
func own[T any](values *[]T, copied *bool, i int) *T {
	if !*copied {
		*values, *copied = slices.Clone(*values), true
	}
	return &(*values)[i]
}

func (w *Wall) alter(ch Change) {
	wire := func(i int, ohms func(x *circuit.Wire) float64) {
		at := w.split.Wires[i]
		a := w.part(at.Part)
		x := own(&a.circuit.Wires, &a.wires, at.Index)
		was := x.Ohms
		x.Ohms = min(max(ohms(x), circuit.MinOhms), circuit.MaxOhms)
		x.Heat *= was / x.Ohms // the copper warms as before
	}
	switch ch.What {
	case Trimmed:
		w.is.outputs(ch.Supply, func(source int) {
			for _, at := range w.split.Sources[source] {
				a := w.part(at.Part)
				own(&a.circuit.Sources, &a.sources, at.Index).Volts *= ch.By
			}
		})
	case Added:
		wire(ch.Lead.first(), func(x *circuit.Wire) float64 { return x.Ohms + ch.By })
	case Opened, Stretched:
		for _, i := range []int{ch.Lead.plus, ch.Lead.minus} {
			if i < 0 {
				continue
			}
			wire(i, func(x *circuit.Wire) float64 {
				if ch.What == Opened {
					return circuit.MaxOhms
				}
				x.Heat *= ch.By
				return x.Ohms + (ch.By-1)*ch.Lead.copper()
			})
		}
	case Railed, Drawn, Idled, Darkened:
		at := w.split.Strips[ch.Run.strip]
		if !w.is.parts[at.Part].Live {
			return
		}
		a := w.part(at.Part)
		s := own(&a.circuit.Strips, &a.strips, at.Index)
		switch law := *s.Law; ch.What {
		case Railed:
			s.Rail *= ch.By
		case Drawn:
			law.Channels = slices.Clone(law.Channels)
			for i := range law.Channels {
				law.Channels[i].Amps *= ch.By
			}
			s.Law = &law
		case Idled:
			law.Idle *= ch.By
			s.Law = &law
		case Darkened:
			each := make([][]float64, s.Pixels)
			for k := range s.Pixels - int(math.Round(ch.By*float64(s.Pixels))) {
				each[k] = a.drive[at.Index].Share
			}
			a.drive = slices.Clone(a.drive)
			a.drive[at.Index] = circuit.StripDrive{Each: each}
		}
	}
}

// first is the side of a lead that a fault of one side is put into.
func (l *Lead) first() int {
	if l.plus >= 0 {
		return l.plus
	}
	return l.minus
}

// copper is the resistance of one side of the lead without its contacts, cold, ohm.
func (l *Lead) copper() float64 {
	return l.Ohms - (contact(l.From.V)+contact(l.To.V))/float64(l.Parallel.V)
}

// solution is that of a part, nil where nothing flows.
func (w *Wall) solution(i int) *circuit.Solution {
	w.read = append(w.read, i)
	if s, ok := w.solved[i]; ok {
		return s
	}
	base, err := w.is.solution(i, w.in)
	s := base
	if a := w.altered[i]; a != nil && err == nil && base != nil {
		s, err = w.again(a, w.is.parts[i].network.value, base)
	}
	if err != nil {
		w.err = err
	}
	if err != nil || s == nil {
		s = w.is.parts[i].nothing()
	}
	if w.solved == nil {
		w.solved = map[int]*circuit.Solution{}
	}
	w.solved[i] = s
	return s
}

// again solves a part with its changes, from how it is without.
func (w *Wall) again(a *altered, planned *circuit.Network, base *circuit.Solution) (*circuit.Solution, error) {
	if w.little {
		return planned.Perturbed(&a.circuit, a.drive, base)
	}
	n, err := circuit.PrepareLike(&a.circuit, planned)
	if err != nil {
		return nil, err
	}
	return n.SolveFrom(a.drive, base)
}

// Locate says where the added resistance sits, for what is read along parts of a lead. It changes nothing else.
func (w *Wall) Locate(where schema.Where) {
	for i := range w.changes {
		w.changes[i].Where = where
	}
}

// Shows is what a meter without error would show. An error is that of a part that did not settle.
func (w *Wall) Shows(t Probes) (float64, error) {
	x := w.shows(t)
	return x, w.err
}

func (w *Wall) shows(t Probes) float64 {
	pt := t.At
	switch {
	case t.Reads == Ohms:
		return w.along(w.f.leads[pt.Lead], pt.Where, func(side circuit.Wire, _ int) (ohms, factor float64) { return side.Ohms, 1 })
	case t.Reads == Amps:
		return w.amps(pt)
	case pt.Lead != nil:
		return w.along(w.f.leads[pt.Lead], pt.Where, func(side circuit.Wire, i int) (ohms, factor float64) {
			amps := w.wireAmps(i)
			return side.At(amps), math.Abs(amps)
		})
	case pt.Run != nil:
		r := w.f.runs[pt.Run]
		at := w.split.Strips[r.strip]
		if s := w.solution(at.Part); len(s.Strips) > at.Index && s.Strips[at.Index].Powered {
			return s.Strips[at.Index].PadVolts(r.Snap(pt).At)
		}
		return 0
	}
	key := blockPlace(pt.Block())
	if pt.Supply != nil {
		key = outputPlace(pt.Supply, pt.Output)
	}
	n := w.is.nodes[key]
	volts, _ := w.rises().Between(n[0], n[1], w.solution)
	return volts
}

// along adds what a part of a lead has on its two sides.
func (w *Wall) along(l *Lead, where schema.Where, of func(side circuit.Wire, wire int) (ohms, factor float64)) float64 {
	sum := 0.0
	parallel := float64(l.Parallel.V)
	for _, i := range []int{l.plus, l.minus} {
		if i < 0 {
			continue
		}
		at := w.split.Wires[i]
		w.read = append(w.read, at.Part)
		c := w.split.Parts[at.Part].Circuit
		if a := w.altered[at.Part]; a != nil {
			c = &a.circuit
		}
		whole, factor := of(c.Wires[at.Index], i)
		from, to, fuse := contact(l.From.V)/parallel, contact(l.To.V)/parallel, 0.0
		if i == l.plus {
			fuse = l.FuseOhms
		}
		for _, ch := range w.changes {
			if ch.What == Added && ch.Lead == l && i == l.first() {
				switch ch.Where {
				case schema.AtStart:
					from += ch.By
				case schema.AtEnd:
					to += ch.By
				case schema.AtFuse:
					fuse += ch.By
				}
			}
		}
		switch where {
		case schema.Along:
			sum += factor * whole
		case schema.AtStart:
			sum += factor * from
		case schema.AtEnd:
			sum += factor * to
		case schema.AtFuse:
			sum += factor * fuse
		case schema.ToFuse:
			sum += factor * (from + fuse)
		case schema.AtWire:
			sum += factor * (whole - from - to - fuse)
		}
	}
	return sum
}

func (w *Wall) wireAmps(wire int) float64 {
	at := w.split.Wires[wire]
	if s := w.solution(at.Part); len(s.WireAmps) > at.Index {
		return s.WireAmps[at.Index]
	}
	return 0
}

// amps is the current at a place, as At says it: of a lead that of its plus, however it flows.
func (w *Wall) amps(pt *schema.Point) float64 {
	switch {
	case pt.Lead != nil:
		return math.Abs(w.wireAmps(w.f.leads[pt.Lead].first()))
	case pt.Supply != nil:
		sum := 0.0
		for _, at := range w.split.Sources[w.is.source[pt.Supply]+pt.Output-1] {
			if s := w.solution(at.Part); len(s.SourceAmps) > at.Index {
				sum += s.SourceAmps[at.Index]
			}
		}
		return sum
	case pt.Joint != nil:
		return w.is.passes(pt.Joint, w.wireAmps)
	case pt.Run != nil:
		at := w.split.Strips[w.f.runs[pt.Run].strip]
		if s := w.solution(at.Part); len(s.Strips) > at.Index {
			return s.Strips[at.Index].Amps
		}
	}
	return 0
}
