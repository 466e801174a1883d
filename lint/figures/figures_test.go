package figures

import (
	"os"
	"testing"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// planOf decodes the plan file of a demo plan.
func planOf(t testing.TB, name string) *schema.Plan {
	t.Helper()
	file := "../../testdata/plans/" + name + "/plan.ohm.hcl"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p := schema.Decode(name, []*source.File{source.Parse(source.NewText(name+"/plan.ohm.hcl", data))}, nil)
	for _, pr := range p.Problems {
		t.Errorf("%s: %s", pr.Rule, pr.Message)
	}
	return p
}

func TestPorchArch(t *testing.T) {
	f := Work(planOf(t, "porch-arch"), nil)
	for _, r := range f.Runs {
		t.Logf("%s ok=%v %s length %.4f pixels %d pitch %.6f least %.3f", r.ID(), r.OK, r.Why, r.Length, r.Pixels, r.Pitch, r.Least)
		for _, ra := range r.Rails {
			t.Logf("%+v", ra)
		}
	}
	for _, l := range f.Leads {
		t.Logf("%s ok=%v %s length %.3f ohms %.5f ampacity %.2f fault %+v", l.ID(), l.OK, l.Why, l.Length, l.Ohms, l.Ampacity, l.Fault)
	}
	for _, is := range f.Islands {
		t.Logf("island %d runs %d leads err=%v", len(is.Runs), len(is.Leads), is.Err)
	}
	for _, c := range f.Cases {
		t.Logf("case %s: %+v %+v %+v", c.Name, c.Supplies, c.Leads, c.Controllers)
		for _, r := range c.Runs {
			t.Logf("  amps %.4f watts %.2f min %.4f at %d start %.4f end %.4f", r.Amps, r.Watts, r.MinVolts, r.MinPixel, r.StartVolts, r.EndVolts)
		}
	}
	t.Logf("any %+v", f.Any)
	for _, p := range f.Ports {
		t.Logf("port %s %d px %.5f s %.2f Hz", p.ID(), p.Pixels, p.FrameTime, p.Rate)
	}
}
