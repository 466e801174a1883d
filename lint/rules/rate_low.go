package rules

import (
	"fmt"
	"math"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

var RateLow = &lint.Rule{
	Name:  "rate-low",
	Title: "A port cannot refresh its pixels as often as wanted",
	Level: lint.Warning,
	Why: `Data goes to the pixels of a port one after another, so a long chain takes long: 1000 RGB pixels at 800 kbit/s take 30 ms.
Ports beyond what the board drives at once take turns, which adds their times.
Below the rate that the plan asks for, movement stutters.`,
	Formula: "frame = pixels x bits / bit_rate + latch (with a clock line 32 bits and a bit for each two pixels more, and no latch); rate = 1 / the sum of the longest frames of the groups of ports that take turns",
	Do: `Spread the pixels over more ports, up to as many as the board drives at once; then over more boards.
Or ask for less: rate in the plan block is what the effects need, and 25 to 30 frames a second suit most.`,
	Sources: []string{
		"datasheets of the chips, data transfer time and reset; WS2812B, Worldsemi: at 800 kbit/s 1024 pixels at 30 frames a second",
	},
	Bad:   func() string { return instead(shelf, `rate  = "40 Hz"`, `rate  = "400 Hz"`) },
	Good:  func() string { return shelf },
	Check: checkRateLow,
}

func checkRateLow(p *lint.Pass) {
	head := p.Plan.Head
	if head == nil || !head.Rate.Set || head.Rate.Bad {
		return
	}
	want := head.Rate.V.SI
	for _, c := range p.Figures.Controllers {
		var slow *figures.Port // the one with the longest frame
		busy := c.Busy()
		for _, port := range busy {
			if port.OK && (slow == nil || port.FrameTime > slow.FrameTime) {
				slow = port
			}
		}
		if slow == nil || slow.Rate >= want*(1-1e-9) {
			continue
		}
		f := lint.Finding{
			Subject: c.ID(), At: slow.Head(), Value: &lint.Value{Got: slow.Rate, Limit: want, Unit: "Hz"},
			Related: []lint.Related{{At: head.At(head.Rate.At), Message: "the rate that the plan asks for"}},
		}
		if slow.Node.Piece() != c.Node.Piece() {
			f.At = c.Head() // the port is taken over from another controller
		}
		f.Message = fmt.Sprintf("%s: its %s reach %s, below the %s that the plan asks for", slow.ID(),
			count(slow.Pixels, "pixel", "pixels"), quantity.ShowAgainst(quantity.Frequency, slow.Rate, want), head.Rate.V)
		lanes, known := c.Lanes()
		most, ok := slow.MostPixels(want)
		if known && len(busy) > lanes {
			f.Message += fmt.Sprintf("; the %d ports of %s take turns, %d at a time", len(busy), c.ID(), lanes)
			if alone := 1 / slow.FrameTime; alone >= want {
				f.Message += ", so move some to another board"
				p.Report(f)
				continue
			}
		}
		if ok && most > 0 {
			all := 0
			for _, port := range busy {
				all += port.Pixels
			}
			ports := int(math.Ceil(float64(all) / float64(most)))
			where := ""
			if known && ports > lanes {
				where = fmt.Sprintf(", more than the %d that its board drives at once: use another board too", lanes)
			}
			f.Message += fmt.Sprintf("; a port holds at most %s at that rate: spread its controller's %d over %s%s",
				count(most, "pixel", "pixels"), all, count(ports, "port", "ports"), where)
		} else {
			f.Message += "; no port reaches that rate, ask for less"
		}
		f.Propose = func() [][]lint.Proposal { return [][]lint.Proposal{spread(p.Plan, slow, most)} }
		p.Report(f)
	}
}

// spread proposes a port of its own for what follows on a slow one, from the first run on that it has no time for.
func spread(p *schema.Plan, slow *figures.Port, most int) []lint.Proposal {
	pixels := 0
	into := readSignals(p).into
	for i, r := range slow.Runs {
		if pixels += r.Pixels; pixels > most && i > 0 && into[r.Run] != nil {
			return ownPort(p, slow.Controller, into[r.Run])
		}
	}
	return nil
}
