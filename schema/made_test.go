package schema

import (
	"fmt"
	"strings"
	"testing"
)

// said writes signals, leads and orders as a plan would.
func said(p *Plan) string {
	var out strings.Builder
	wire := func(w Value[*Wire]) string {
		if w.V == nil {
			return ""
		}
		return " " + w.V.ID()
	}
	length := func(q Value[Quantity]) string {
		if !q.Set {
			return ""
		}
		return " " + q.V.String()
	}
	within := func(l Value[*Lead]) string {
		if l.V == nil {
			return ""
		}
		return " within " + l.V.ID()
	}
	for _, s := range p.Signals {
		fmt.Fprintf(&out, "%s %s > %s%s%s%s%s\n", s.ID(), s.From.V, s.To.V, wire(s.Wire), length(s.Length), within(s.Within), length(s.Resistor))
	}
	for _, l := range p.Leads {
		fmt.Fprintf(&out, "%s %s > %s%s%s%s\n", l.ID(), l.From.V, l.To.V, wire(l.Wire), length(l.Length), length(l.Fuse))
	}
	for _, o := range p.Orders {
		out.WriteString(o.ID())
		for _, r := range o.Runs.V {
			out.WriteString(" " + r.Run.ID())
			if r.FromEnd {
				out.WriteString("<")
			}
		}
		out.WriteString("\n")
	}
	return out.String()
}

const madeBase = `plan "p" {}
strip "s" { like = catalog.ws2812b_5v_60 }
wire "data" { like = catalog.awg_22 }
wire "feed" { like = catalog.awg_16 }
run "a" {
  strip  = strip.s
  length = "1 m"
}
run "b" { like = run.a }
run "t" {
  like  = run.a
  times = 3
}
supply "brick" {
  output = "5 V"
  rating = "20 A"
}
controller "brain" {
  board = catalog.esp32_devkit
  port "a" { pin = 4 }
}
`

// A chain is its signals and its order.
func TestChain(t *testing.T) {
	p := decode(t, madeBase+`
chain "word" {
  from     = controller.brain.port.a
  runs     = [run.a, from_end(run.b), run.t-all]
  wire     = wire.data
  length   = "30 cm"
  resistor = "330 ohm"
}
`)
	for _, m := range messages(p) {
		t.Error(m)
	}
	if got, want := said(p), `signal.word-a controller.brain.port.a > run.a.start wire.data 30 cm 330 ohm
signal.word-b run.a.end > run.b.end wire.data 30 cm
signal.word-t-1 run.b.start > run.t-1.start wire.data 30 cm
signal.word-t-2 run.t-1.end > run.t-2.start wire.data 30 cm
signal.word-t-3 run.t-2.end > run.t-3.start wire.data 30 cm
order.word run.a run.b< run.t-1 run.t-2 run.t-3
`; got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}
