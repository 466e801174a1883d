package schema

import (
	"fmt"
	"os"
	"testing"

	"ohmstead/schema/source"
)

// decode reads one plan file, for tests.
func decode(t *testing.T, text string) *Plan {
	t.Helper()
	return Decode("test", []*source.File{source.Parse(source.NewText("test/plan.ohm.hcl", []byte(text)))}, nil)
}

func messages(p *Plan) []string {
	var out []string
	for _, pr := range p.Problems {
		out = append(out, pr.Rule+": "+pr.Message)
	}
	return out
}

// The plan of the porch arch comes out whole: parts, places and geometry.
func TestDecodePorch(t *testing.T) {
	text, err := os.ReadFile("../testdata/plans/porch-arch/plan.ohm.hcl")
	if err != nil {
		t.Fatal(err)
	}
	p := decode(t, string(text))
	if len(p.Problems) > 0 {
		t.Fatal(messages(p))
	}
	arch, left := p.Runs[0], p.Leads[0]
	for _, c := range []struct{ what, got, want string }{
		{"plan", p.Name(), "porch-arch"},
		{"strip, from the catalogue", arch.Strip.V.Chip.V, "WS2815"},
		{"strip's price, its own", arch.Strip.V.Price.V.String(), "24 EUR"},
		{"steps of the path", fmt.Sprint(len(arch.Path.Steps)), "3"},
		{"lead", left.From.V.String() + " > " + left.To.V.String(), "supply.brick.out > run.arch.start"},
		{"its wire", left.Wire.V.Gauge.V.String(), "16 AWG"},
		{"its length", left.Length.V.String(), "1.2 m"},
		{"data", p.Signals[0].From.V.String(), "controller.brain.port.a"},
		{"pin", fmt.Sprint(p.Controllers[0].Ports[0].Pin.V), "4"},
		{"order", p.Orders[0].Runs.V[0].Run.ID(), "run.arch"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %q, want %q", c.what, c.got, c.want)
		}
	}
	if where := left.At(left.Length.At).Bytes(); string(where) != `"1.2 m"` {
		t.Errorf("the length stands at %s", where)
	}
}
