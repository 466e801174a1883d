package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var PinShared = &lint.Rule{
	Name:  "pin-shared",
	Title: "Two ports of a controller use the same pin",
	Level: lint.Error,
	Why: `A port is one data line with its own pixels.
Two ports on one pin would send the same data to both lines, or the firmware refuses the second one; the plan's pixel counts, ceilings and addresses would all be wrong.`,
	Do: `Give one of the ports another pin; the fix names one that is good and free.
Where two runs are meant to show the same pixels, use one port with two signals.`,
	Sources: []string{"common practice, no source"},
	Bad:     func() string { return twoPorts(4, 4) },
	Good:    func() string { return twoPorts(4, 13) },
	Check:   checkPinShared,
}

func checkPinShared(p *lint.Pass) {
	for _, c := range p.Plan.Controllers {
		first := map[int]*schema.Port{}
		free := goodPins(c)
		for _, port := range c.Ports {
			if !port.Pin.Known() {
				continue
			}
			n := port.Pin.V
			other, taken := first[n]
			if !taken {
				first[n] = port
				continue
			}
			f := lint.Finding{
				Subject: c.ID(), At: port.At(port.Pin.At),
				Message: fmt.Sprintf("%s: pin %d is taken by %s", port.ID(), n, other.ID()),
				Related: []lint.Related{{At: other.At(other.Pin.At), Message: "the port that has the pin"}},
			}
			if len(free) > 0 {
				f.Message += fmt.Sprintf("; pin %d is good and free", free[0])
				f.Fixes = usePin(port, free[0])
				free = free[1:]
			}
			p.Report(f)
		}
	}
}
