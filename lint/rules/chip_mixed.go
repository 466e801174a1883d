package rules

import (
	"fmt"

	"ohmstead/lint"
	"ohmstead/schema"
)

var ChipMixed = &lint.Rule{
	Name:  "chip-mixed",
	Title: "Runs on one port want different data",
	Level: lint.Error,
	Why: `All pixels of a chain read one stream of bits.
A chip that takes 32 bits for a pixel where the one before took 24 reads the neighbour's colours from there on, and so does one that runs at another bit rate; a chip with a clock line does not understand one without.
Chips of different makers with the same bits, rate and wires do go together.`,
	Do: `Give the odd run a port of its own, or use one kind of strip in the chain.`,
	Sources: []string{
		"datasheets of the chips, data format: 24 bits (WS2812B, Worldsemi), 32 bits (SK6812RGBW, Opsco), data and clock (APA102)",
	},
	Bad:   func() string { return mixedShelf("catalog.sk6812_rgbw_5v_30") },
	Good:  func() string { return mixedShelf("catalog.sk6812_5v_30") },
	Check: checkChipMixed,
}

// mixedShelf is the shelf with another strip for its second run.
func mixedShelf(entry string) string {
	return instead(shelf,
		"strip \"led\" { like = catalog.ws2812b_5v_60 }\n", "strip \"led\" { like = catalog.ws2812b_5v_60 }\nstrip \"other\" { like = "+entry+" }\n",
		"run \"low\" {\n  strip  = strip.led", "run \"low\" {\n  strip  = strip.other")
}

func checkChipMixed(p *lint.Pass) {
	eachNeighbour(p, func(port *schema.Port, a, b *schema.Run) bool {
		s, t := a.Strip.V, b.Strip.V
		var got, had string
		switch {
		case s.Clocked.Known() && t.Clocked.Known() && s.Clocked.V != t.Clocked.V:
			got, had = clockSays(t), clockSays(s)
		case s.Bits.Known() && t.Bits.Known() && s.Bits.V != t.Bits.V:
			got, had = fmt.Sprintf("%d bits a pixel", t.Bits.V), fmt.Sprintf("%d", s.Bits.V)
		case s.BitRate.Known() && t.BitRate.Known() && !s.BitRate.V.Equal(t.BitRate.V):
			got, had = t.BitRate.V.String(), s.BitRate.V.String()
		default:
			return false
		}
		p.Report(lint.Finding{
			Subject: b.ID(), At: b.At(b.Strip.At),
			Message: fmt.Sprintf("%s: its chip takes %s, but %s before it on %s takes %s; give it a port of its own, or use one kind of strip on that port", b.ID(), got, a.ID(), port.ID(), had),
			Related: []lint.Related{{At: a.At(a.Strip.At), Message: "the strip before it"}},
			Propose: func() [][]lint.Proposal { return unmix(p.Plan, port, a, b) },
		})
		return true
	})
}

// unmix proposes for a run that takes another kind of data than the one before it a port of its own, or that one's strip.
func unmix(p *schema.Plan, port *schema.Port, a, b *schema.Run) [][]lint.Proposal {
	out := [][]lint.Proposal{{proposal(fmt.Sprintf("Use %s for %s", a.Strip.V.ID(), b.ID()), schema.SetAttr(&b.Header, "strip", a.Strip.V.ID()))}}
	if s := readSignals(p).into[b]; s != nil && port.Controller != nil {
		out = append(out, ownPort(p, port.Controller, s))
	}
	return out
}

func clockSays(s *schema.Strip) string {
	if s.Clocked.V {
		return "data with a clock"
	}
	return "data without a clock"
}

// eachNeighbour shows a check every two runs that follow each other on a port,
// until it has said something of the port.
func eachNeighbour(p *lint.Pass, check func(port *schema.Port, a, b *schema.Run) bool) {
	for _, port := range p.Figures.Ports {
		for i := range port.Runs[min(1, len(port.Runs)):] {
			a, b := port.Runs[i].Run, port.Runs[i+1].Run
			if !a.Strip.Known() || !b.Strip.Known() {
				continue
			}
			if check(port.Port, a, b) {
				break
			}
		}
	}
}
