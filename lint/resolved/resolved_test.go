package resolved_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ohmstead/calc/path"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func decode(name, text string) *schema.Plan {
	return schema.Decode("", []*source.File{source.Parse(source.NewText(name, []byte(text)))}, nil)
}

// What is written for a plan decodes to a plan with the same figures.
func TestWriteKeepsTheMeaning(t *testing.T) {
	files, err := filepath.Glob("../../testdata/plans/*/*.ohm.hcl")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demo plans: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(filepath.Dir(file)), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			before := decode("plan.ohm.hcl", string(text))
			var out bytes.Buffer
			if err := resolved.Write(&out, before.Blocks); err != nil {
				t.Fatal(err)
			}
			after := decode("plan.ohm.hcl", out.String())
			for _, p := range after.Problems {
				t.Errorf("%s: %s", p.Rule, p.Message)
			}
			was, err1 := figures.Work(t.Context(), before, nil)
			is, err2 := figures.Work(t.Context(), after, nil)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if len(was.Runs) != len(is.Runs) || len(was.Leads) != len(is.Leads) {
				t.Fatalf("%d runs and %d leads became %d and %d", len(was.Runs), len(was.Leads), len(is.Runs), len(is.Leads))
			}
			for i, r := range was.Runs {
				o := is.Runs[i]
				if r.ID() != o.ID() || r.Pixels != o.Pixels || math.Abs(r.Length-o.Length) > 1e-9 {
					t.Errorf("%s, %d pixels, %g m became %s, %d pixels, %g m", r.ID(), r.Pixels, r.Length, o.ID(), o.Pixels, o.Length)
				}
				if a, b := was.Any.Runs[i].MinVolts, is.Any.Runs[i].MinVolts; math.Abs(a-b) > 1e-9 {
					t.Errorf("%s: least voltage %g became %g", r.ID(), a, b)
				}
			}
			var again bytes.Buffer
			if err := resolved.Write(&again, after.Blocks); err != nil {
				t.Fatal(err)
			}
			if again.String() != out.String() {
				t.Errorf("written again it reads otherwise:\n%s", again.String())
			}
		})
	}
}

func TestWrite(t *testing.T) {
	plan := decode("p.ohm.hcl", `
plan "p" { note = "costs $${much}, 100 %%{of} it\n\"all\"" }
let { gap = "34 cm" }
run "shelf" {
  strip = strip.gone
  times = 2
  shift = ["0 cm", let.gap]
  path {
    line { to = ["0 cm", "140 cm"] }
  }
}
strip "house" { like = strip.elsewhere }
`)
	var out bytes.Buffer
	if err := resolved.Write(&out, plan.Blocks); err != nil {
		t.Fatal(err)
	}
	want := `plan "p" {
  note = "costs $${much}, 100 %%{of} it\n\"all\""
}

run "shelf-1" {
  strip = strip.gone
  path {
    line {
      to = ["0 m", "1.4 m"]
    }
  }
}

run "shelf-2" {
  strip = strip.gone
  path {
    start = ["0 m", "34 cm"]
    line {
      to = ["0 m", "1.74 m"]
    }
  }
}

strip "house" {
  like = strip.elsewhere
}
`
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}

// A rectangle that does not stand upright keeps its corners, and what turns it is written.
func TestWriteTurned(t *testing.T) {
	before := decode("p.ohm.hcl", `
assembly "a" {
  at     = ["2 m", "1 m"]
  turn   = "30 deg"
  mirror = "left-right"
  run "x" {
    rectangle {
      from = ["10 cm", "0 cm"]
      to   = ["60 cm", "40 cm"]
    }
  }
}
run "b" {
  like = run.a-x
  turn = "60 deg"
}
`)
	var out bytes.Buffer
	if err := resolved.Write(&out, before.Blocks); err != nil {
		t.Fatal(err)
	}
	after := decode("p.ohm.hcl", out.String())
	for i, r := range before.Runs {
		a, b := r.Motion(), after.Runs[i].Motion()
		for _, at := range []path.Point{{}, {X: 1}, {Y: 1}} {
			from, to := a.Of(at), b.Of(at)
			if i == 1 { // upright again, so that its corners are moved
				from, to = a.Of(path.Point{X: 0.1}), path.Point(after.Runs[1].Rectangle.From.V)
			}
			if math.Hypot(from.X-to.X, from.Y-to.Y) > 1e-8 {
				t.Errorf("%s: %v lies at %v, and written out at %v in\n%s", r.ID(), at, from, to, out.String())
			}
		}
	}
}

func TestSame(t *testing.T) {
	q := func(dim quantity.Dimension, s string) schema.Quantity {
		v, err := quantity.ParseFor(dim, s)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	arch := &schema.Run{Header: schema.Header{Type: runType(t), Name: "arch"}}
	porch := &schema.Run{Header: schema.Header{Type: runType(t), Name: "porch"}}
	renamed := func(id string) string { return strings.Replace(id, "run.arch", "run.porch", 1) }
	start := func(r *schema.Run) *schema.Point { return &schema.Point{Kind: schema.RunPlace, Run: r} }
	at := func(r *schema.Run, d string) *schema.Point {
		return &schema.Point{Kind: schema.RunPlace, Run: r, Where: schema.AtDistance, Distance: q(quantity.Length, d)}
	}
	for _, c := range []struct {
		name   string
		a, b   any
		rename resolved.Rename
		want   bool
	}{
		{"inches and millimetres", q(quantity.Length, "6 in"), q(quantity.Length, "152.4 mm"), nil, true},
		{"feet and inches", q(quantity.Length, "16 ft 4 in"), q(quantity.Length, "4978.4 mm"), nil, true},
		{"a millimetre apart", q(quantity.Length, "6 in"), q(quantity.Length, "153.4 mm"), nil, false},
		{"amperes", q(quantity.Current, "450 mA"), q(quantity.Current, "0.45 A"), nil, true},
		{"temperatures", q(quantity.Temperature, "77 degF"), q(quantity.Temperature, "25 degC"), nil, true},
		{"densities", q(quantity.Density, "60/m"), q(quantity.Density, "0.6/cm"), nil, true},
		{"two currencies", q(quantity.Money, "3 EUR"), q(quantity.Money, "3 USD"), nil, false},
		{"one for all, and the same for each letter", schema.ByLetter{All: q(quantity.Current, "20 mA")},
			schema.ByLetter{Letters: map[string]schema.Quantity{"R": q(quantity.Current, "0.02 A"), "G": q(quantity.Current, "20 mA")}}, nil, true},
		{"lists of quantities", []schema.Quantity{q(quantity.Voltage, "5 V")}, []schema.Quantity{q(quantity.Voltage, "5000 mV")}, nil, true},
		{"places", schema.XY{X: 0.1524}, schema.XY{X: 6 * 0.0254}, nil, true},
		{"a renamed run", arch, porch, renamed, true},
		{"another run", arch, porch, nil, false},
		{"the start of a renamed run", start(arch), start(porch), renamed, true},
		{"a place on a renamed run", at(arch, "1.5 m"), at(porch, "150 cm"), renamed, true},
		{"another place on it", at(arch, "1.5 m"), at(porch, "1.6 m"), renamed, false},
		{"an order turned round", []schema.RunRef{{Run: arch}}, []schema.RunRef{{Run: arch, FromEnd: true}}, nil, false},
		{"text and number", "5", 5, nil, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := resolved.Same(c.a, c.b, c.rename); got != c.want {
				t.Errorf("%s and %s: same is %v, want %v", resolved.Show(c.a), resolved.Show(c.b), got, c.want)
			}
		})
	}
}

func runType(t *testing.T) *schema.BlockType {
	b, ok := schema.TypeNamed("run")
	if !ok {
		t.Fatal("there is no block type run")
	}
	return b
}
