package lint

import (
	"slices"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Findings about copies of one block become one, which names the others.
func TestCopiesSpeakAsOne(t *testing.T) {
	const text = `plan "stair" {}

run "tread" {
  times  = 5
  length = "1 m"
}

run "landing" {
  length = "2 m"
}
`
	tests := []struct {
		name string
		got  func(run int) float64 // what is found at a run; the limit is 1
		want []string
	}{
		{"the farthest from its limit speaks", func(run int) float64 { return 2 + float64(run%3) },
			[]string{"run.tread-3 is over; so it is in 5 of 5: 1 to 5", "run.landing is over"}},
		{"of equals the first", func(int) float64 { return 2 },
			[]string{"run.tread-1 is over; so it is in 5 of 5: 1 to 5", "run.landing is over"}},
		{"two of them", func(run int) float64 {
			if run < 2 {
				return 2
			}
			return 0
		}, []string{"run.tread-1 is over; so it is in 2 of 5: 1, 2"}},
		{"one of them", func(run int) float64 {
			if run == 4 {
				return 2
			}
			return 0
		}, []string{"run.tread-5 is over"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			rule := &Rule{Name: "over", Level: Warning, Check: func(p *Pass) {
				for i, r := range p.Plan.Runs {
					if got := test.got(i); got > 1 {
						p.Report(Finding{Subject: r.ID(), At: r.Head(), Value: &Value{Got: got, Limit: 1}, Message: r.ID() + " is over"})
					}
				}
			}}
			file := source.Parse(source.NewText("stair/plan.ohm.hcl", []byte(text)))
			plan := schema.Decode("stair", []*source.File{file}, nil)
			var got []string
			fig, err := figures.Work(t.Context(), plan, nil)
			if err != nil {
				t.Fatal(err)
			}
			found, err := Run(t.Context(), plan, fig, []*Rule{rule})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range found.Findings {
				if f.Rule == rule.Name {
					got = append(got, f.Message)
				}
			}
			if len(got) != len(test.want) {
				t.Fatalf("found %q, want %q", got, test.want)
			}
			for i := range got {
				if got[i] != test.want[i] {
					t.Errorf("found %q, want %q", got[i], test.want[i])
				}
			}
		})
	}
}

// What one block makes becomes one finding where it has its value from that, and
// where nothing but the word that asks for it tells it from the others.
func TestMadeSpeakAsOne(t *testing.T) {
	const text = `plan "wall" {}

strip "s" { like = catalog.ws2815_12v_60 }

supply "s" {
  output = "12 V"
  rating = "10 A"
}

controller "c" { port "a" {} }

run "a" {
  strip = strip.s
  length = "1 m"
}
run "b" { like = run.a }
run "c" { like = run.a }

chain "pen" {
  from = controller.c.port.a
  runs = [run.a, run.b, run.c]
}

feed "bar" {
  from = supply.s.out
  to   = [run.a, run.b, run.c]
  wire = catalog.awg_20
  branch {
    to   = run.b
    wire = catalog.awg_22
  }
}
`
	var got []Finding
	report := func(id string, at source.Span, is float64) {
		got = append(got, Finding{Rule: "over", Subject: id, At: at, Value: &Value{Got: is, Limit: 1}, Message: id + " is over"})
	}
	file := source.Parse(source.NewText("wall/plan.ohm.hcl", []byte(text)))
	plan := schema.Decode("wall", []*source.File{file}, nil)
	for i, l := range plan.Leads {
		report(l.ID(), l.At(l.Wire.At), 2+float64(i))
	}
	for i, s := range plan.Signals {
		report(s.ID(), s.Head(), 4-float64(i))
	}
	var says []string
	for _, f := range mergeCopies(plan, got) {
		says = append(says, f.Message)
	}
	want := []string{
		"lead.bar-b is over", // has a wire of its own, elsewhere in the text
		"lead.bar-c is over; so it is with lead.bar-a",
		"signal.pen-a is over; so it is with signal.pen-b, signal.pen-c",
	}
	if !slices.Equal(says, want) {
		t.Errorf("found %q, want %q", says, want)
	}
}
