package lint

import (
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// A finding about a value that is usual stands at the block, and points to the
// value; one about a block's own value does not.
func TestUsualIsPointedTo(t *testing.T) {
	const text = `plan "wall" {}

strip "s" { like = catalog.ws2815_12v_60 }

usual "run" { strip = strip.s }

run "a" { length = "1 m" }

run "b" {
  strip  = strip.s
  length = "1 m"
}
`
	rule := &Rule{Name: "seen", Level: Warning, Check: func(p *Pass) {
		for _, r := range p.Plan.Runs {
			p.Report(Finding{Subject: r.ID(), At: r.At(r.Strip.At), Message: r.ID()})
		}
	}}
	plan := schema.Decode("wall", []*source.File{source.Parse(source.NewText("wall/plan.ohm.hcl", []byte(text)))}, nil)
	fig, err := figures.Work(t.Context(), plan, nil)
	if err != nil {
		t.Fatal(err)
	}
	found, err := Run(t.Context(), plan, fig, []*Rule{rule})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]Finding{}
	for _, f := range found.Findings {
		if f.Rule == rule.Name {
			said[f.Subject] = f
		}
	}
	a, b := said["run.a"], said["run.b"]
	if string(a.At.Bytes()) != `run "a"` || len(a.Related) != 1 || string(a.Related[0].At.Bytes()) != "strip.s" || a.Related[0].Message != `comes from usual "run"` {
		t.Errorf("run.a: at %q, related %+v", a.At.Bytes(), a.Related)
	}
	if string(b.At.Bytes()) != "strip.s" || len(b.Related) != 0 {
		t.Errorf("run.b: at %q, related %+v", b.At.Bytes(), b.Related)
	}
}
