package figures

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"ohmstead/calc/circuit"
	"ohmstead/calc/protect"
	"ohmstead/calc/supply"
	"ohmstead/schema"
)

// ErrPartial stands for an island of which some part could not be read: its
// voltages would not be the truth.
var ErrPartial = errors.New("a part of the wiring is not known")

// islands groups what hangs together by leads, and builds each group's circuit
// and grid.
func (f *Figures) islands(memo *Memo) {
	numbers := make(map[schema.Block]int, len(f.Plan.Supplies)+len(f.Plan.Joints)+len(f.Runs)+len(f.Controllers)) // of what leads end at
	var groups joins
	var unread [][]schema.Block // what is broken at each
	var feeds []int
	for _, l := range f.Leads {
		first := -1
		for _, pt := range [2]*schema.Point{l.From.V, l.To.V} {
			if pt == nil {
				continue
			}
			b := pt.Block()
			n, known := numbers[b]
			if !known {
				n = len(unread)
				numbers[b] = n
				unread = append(unread, nil)
				feeds = append(feeds, 0)
			}
			if first < 0 {
				first = n
			}
			groups.join(first, n)
			if feeds[n]++; pt.Run != nil && feeds[n] == schema.MostFeeds+1 {
				unread[n] = append(unread[n], b)
			}
			if !l.OK {
				unread[n] = append(unread[n], l.Lead)
			}
		}
	}
	manifold, uncounted := f.uncounted()
	byRoot := make([]*Island, len(unread))
	of := func(b schema.Block) *Island {
		n, ok := numbers[b]
		if !ok {
			return nil
		}
		is := &byRoot[groups.root(n)]
		if *is == nil {
			*is = &Island{source: map[*schema.Supply]int{}, meet: map[*schema.Joint][]*Lead{}}
			f.Islands = append(f.Islands, *is)
		}
		(*is).lacks(unread[n]...)
		if uncounted && (*is).Err == nil {
			(*is).lacks(manifold)
		}
		return *is
	}
	for _, s := range f.Plan.Supplies {
		if is := of(s); is != nil {
			is.Supplies = append(is.Supplies, s)
			f.wired[s] = is
			if !s.Output.Known() || s.Trim.Bad || !s.Outputs.Known() {
				is.lacks(s)
			}
		}
	}
	for _, j := range f.Plan.Joints {
		if is := of(j); is != nil {
			is.Joints = append(is.Joints, j)
			f.wired[j] = is
			if !j.Resistance.Known() {
				is.lacks(j)
			}
		}
	}
	for _, r := range f.Runs {
		if is := of(r.Run); is != nil {
			is.Runs = append(is.Runs, r)
			r.Island = is
			if !r.OK {
				is.lacks(r.Run)
			}
		}
	}
	for _, c := range f.Controllers {
		if is := of(c.Controller); is != nil {
			is.Control = append(is.Control, c)
			c.Island = is
			if c.Needs.Bad || c.OwnPower.Bad {
				is.lacks(c.Controller)
			}
		}
	}
	for _, l := range f.Leads {
		if l.From.V == nil {
			continue
		}
		if is := of(l.From.V.Block()); is != nil {
			is.Leads = append(is.Leads, l)
			l.Island = is
		}
	}
	for _, is := range f.Islands {
		if is.Err == nil {
			is.build(f)
			if is.cut, is.Err = is.divide(memo, f.ceilings); is.Err == nil {
				is.split = is.cut.split
			}
		}
	}
}

// lacks notes blocks of which something cannot be read.
func (is *Island) lacks(blocks ...schema.Block) {
	for _, b := range blocks {
		is.Err = ErrPartial
		if !slices.Contains(is.Unread, b) {
			is.Unread = append(is.Unread, b)
		}
	}
}

// place is where a plus and a minus conductor end: a block, one output of a
// supply, or a pad of a run.
type place struct {
	block  schema.Block
	output int
	at     float64 // m from the start
}

func blockPlace(b schema.Block) place           { return place{block: b} }
func outputPlace(s *schema.Supply, n int) place { return place{block: s, output: n} }
func padPlace(r *Run, at float64) place         { return place{block: r.Run, at: at} }

// build lays the island out as a circuit and as a grid on the same nodes.
func (is *Island) build(f *Figures) {
	c := &circuit.Circuit{}
	is.Circuit, is.ambient = c, f.Plan.Ambient()
	is.nodes = make(map[place][2]int, 2*len(is.Runs)+2*len(is.Supplies)+len(is.Joints)+len(is.Control)) // and pads between ends
	pair := func(key place) [2]int {
		if n, ok := is.nodes[key]; ok {
			return n
		}
		n := [2]int{c.Nodes, c.Nodes + 1}
		c.Nodes += 2
		is.nodes[key] = n
		return n
	}
	for _, s := range is.Supplies {
		minus := pair(blockPlace(s))[1]
		is.source[s] = len(c.Sources)
		for out := range s.Outputs.V {
			n := pair(outputPlace(s, out+1))
			n[1] = minus
			is.nodes[outputPlace(s, out+1)] = n
			c.Sources = append(c.Sources, circuit.Source{Plus: n[0], Minus: minus, Volts: s.Volts()})
			limit := math.Inf(1)
			if s.Rating.Known() && s.Overload.Known() {
				if amps, err := supply.FaultCurrent(s.Rating.V.SI, s.Overload.V.SI, s.Volts(), s.Limited.V); err == nil {
					limit = amps
				}
			}
			is.Grid.Sources = append(is.Grid.Sources, protect.Source{Plus: n[0], Minus: minus, Limit: min(limit, 1e6)})
		}
	}
	tap := func(r *Run, at float64) [2]int {
		key := padPlace(r, at)
		n, known := is.nodes[key]
		if !known {
			n = pair(key)
			s := &c.Strips[r.strip]
			s.Taps = append(s.Taps, circuit.Tap{At: at, Plus: n[0], Minus: n[1]})
		}
		return n
	}
	c.Strips = make([]circuit.Strip, len(is.Runs))
	taps := make([]circuit.Tap, 2*len(is.Runs)) // of all; each takes those of its ends from the front
	for i, r := range is.Runs {
		r.strip = i
		c.Strips[i] = circuit.Strip{Pixels: r.Pixels, Pitch: r.Pitch, Law: r.Law, Taps: taps[:0:2]}
		taps = taps[2:]
		tap(r, 0)
		tap(r, r.StripLength())
	}
	c.Wires = make([]circuit.Wire, 0, 2*len(is.Leads))
	is.wires = make([]*Lead, 0, 2*len(is.Leads))
	fed := make([]int, len(is.Runs))         // by how many leads
	most := 2*len(is.Leads) + 4*len(is.Runs) // a lead and a rail for each feed and end, on both sides
	is.conductors, is.Grid.Conductors = make([]conductor, 0, most), make([]protect.Conductor, 0, most)
	end := func(pt *schema.Point) [2]int {
		switch {
		case pt.Supply != nil:
			return pair(outputPlace(pt.Supply, pt.Output))
		case pt.Run != nil:
			run := f.runs[pt.Run]
			return tap(run, run.Snap(pt).At)
		}
		return pair(blockPlace(pt.Block()))
	}
	for _, l := range is.Leads {
		a, b := end(l.From.V), end(l.To.V)
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if j := pt.Joint; j != nil && (len(is.meet[j]) == 0 || is.meet[j][len(is.meet[j])-1] != l) {
				is.meet[j] = append(is.meet[j], l)
			}
		}
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt.Run != nil && l.Plus() {
				fed[f.runs[pt.Run].strip]++
			}
		}
		fuse := 0.0
		if l.Fused() {
			fuse = l.Device.Counts(l.Fuse.V.SI)
		}
		l.grid = len(is.conductors)
		if l.Plus() {
			l.plus = len(c.Wires)
			is.wires = append(is.wires, l)
			c.Wires = append(c.Wires, l.side(true, a[0], b[0]))
			is.conduct(conductor{lead: l}, protect.Conductor{A: a[0], B: b[0], Side: protect.Plus, Ampacity: l.Ampacity, Fuse: fuse})
		}
		if l.Minus() {
			l.minus = len(c.Wires)
			is.wires = append(is.wires, l)
			c.Wires = append(c.Wires, l.side(false, a[1], b[1]))
			is.conduct(conductor{lead: l}, protect.Conductor{A: a[1], B: b[1], Side: protect.Minus, Ampacity: l.Ampacity})
		}
	}
	is.Grid.Loads = make([]protect.Load, 0, len(is.Control)+len(is.Joints)+2*len(is.Runs)) // and pads between ends
	for _, ctl := range is.Control {
		n := pair(blockPlace(ctl.Controller))
		ctl.sink = len(c.Sinks)
		c.Sinks = append(c.Sinks, circuit.Sink{Plus: n[0], Minus: n[1], Amps: ctl.draws(), Knee: circuit.IdleKnee})
		is.Grid.Loads = append(is.Grid.Loads, protect.Load{Plus: n[0], Minus: n[1]})
	}
	for _, j := range is.Joints {
		n := pair(blockPlace(j))
		is.Grid.Loads = append(is.Grid.Loads, protect.Load{Plus: n[0], Minus: n[1]})
	}
	for _, r := range is.Runs {
		taps := c.Strips[r.strip].Taps
		slices.SortFunc(taps, func(a, b circuit.Tap) int { return cmp.Compare(a.At, b.At) })
		for _, t := range taps {
			is.Grid.Loads = append(is.Grid.Loads, protect.Load{Plus: t.Plus, Minus: t.Minus})
		}
		c.Strips[r.strip].Rail = f.railOhms(r, fed[r.strip])
		is.rails(r, taps)
	}
	is.touches(f, end)
	slices.SortFunc(is.Grid.Loads, func(a, b protect.Load) int { return a.Plus - b.Plus })
	is.Grid.Nodes = c.Nodes
}

// draws is the current that a controller takes from the plan's supplies, A.
func (c *Controller) draws() float64 {
	if c.OwnPower.V {
		return 0
	}
	return c.NeedsAmps()
}
