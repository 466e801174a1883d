package figures

import (
	"math"

	"ohmstead/calc/timing"
	"ohmstead/schema"
)

// outlet is where data leaves: a port of a controller, or an end of a run.
type outlet struct {
	controller *schema.Controller
	port       string
	run        *schema.Run
	end        schema.Where
}

// chains follows the signals from every port through its runs, and works out
// frame times.
func (f *Figures) chains() {
	next := make(map[outlet]*schema.Signal, len(f.Plan.Signals)) // what takes the data of a port or a run's end on
	for _, s := range f.Plan.Signals {
		if s.From.Known() && s.To.Known() && s.To.V.Run != nil {
			switch from := s.From.V; {
			case from.Port != nil:
				next[outlet{controller: from.Controller, port: from.Port.Name}] = s
			case from.Run != nil && (from.Where == schema.AtStart || from.Where == schema.AtEnd):
				next[outlet{run: from.Run, end: from.Where}] = s
			}
		}
	}
	out := func(r *schema.Run) outlet {
		if r.DataEnters.V == "end" {
			return outlet{run: r, end: schema.AtStart}
		}
		return outlet{run: r, end: schema.AtEnd}
	}
	seen := make(map[*schema.Run]bool, len(f.Plan.Runs))
	for _, c := range f.Plan.Controllers {
		ctl := &Controller{Controller: c, sink: -1, place: len(f.Controllers)}
		f.controllers[c] = ctl
		f.Controllers = append(f.Controllers, ctl)
		for _, p := range c.Ports {
			port := &Port{Port: p, OK: true}
			for s := next[outlet{controller: c, port: p.Name}]; s != nil && !seen[s.To.V.Run]; s = next[out(s.To.V.Run)] {
				run := f.runs[s.To.V.Run]
				seen[run.Run] = true
				if s.To.V.Where == schema.AtEnd {
					run.dataIn = run.StripLength()
				}
				run.Port, run.First = port, port.Pixels
				port.Runs = append(port.Runs, run)
				port.Pixels += run.Pixels
				port.OK = port.OK && run.OK
			}
			ctl.Ports = append(ctl.Ports, port)
			ctl.Runs = append(ctl.Runs, port.Runs...)
			f.Ports = append(f.Ports, port)
		}
		for _, r := range ctl.Runs {
			if r.OK {
				ctl.Idle += float64(r.Pixels) * r.Law.Idle
				ctl.Full += float64(r.Pixels) * r.PixelMax
			}
		}
		ctl.timeFrames()
	}
}

// timeFrames works out each port's frame time and the rate that the controller
// reaches with all of them: ports beyond its lanes take turns.
func (c *Controller) timeFrames() {
	lanes := 1
	if b := c.Board.V; b != nil && b.Lanes.Known() {
		lanes = b.Lanes.V
	} else if len(c.Ports) > 0 {
		lanes = len(c.Ports) // nothing is known: at once
	}
	var frames []float64
	for _, p := range c.Ports {
		p.FrameTime = 0
		for _, r := range p.Runs {
			t, ok := frameTime(r, p.Pixels)
			if !ok {
				p.OK = false
				break
			}
			p.FrameTime = math.Max(p.FrameTime, t)
		}
		if len(p.Runs) > 0 && p.OK {
			frames = append(frames, p.FrameTime)
		}
	}
	total, err := timing.Ports(frames, lanes)
	for _, p := range c.Ports {
		if err != nil || total <= 0 || len(p.Runs) == 0 {
			p.OK = false
			continue
		}
		p.Rate = 1 / total
	}
}

// frameTime is the time of a whole port's frame at the pace of one run's chip.
func frameTime(r *Run, n int) (float64, bool) {
	s := r.Strip.V
	if s == nil || !r.OK || !s.Bits.Known() || !s.BitRate.Known() || !s.Latch.Known() || !s.Clocked.Known() {
		return 0, false
	}
	t, err := timing.Protocol{Bits: s.Bits.V, BitRate: s.BitRate.V.SI, Latch: s.Latch.V.SI, Clocked: s.Clocked.V}.FrameTime(n)
	return t, err == nil
}
