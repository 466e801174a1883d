package lint

import (
	"slices"
	"strings"
	"testing"

	"ohmstead/lint/figures"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// What is not judged is told once for each stretch of wiring, at what has to be known first; a
// value that no current depends on holds nothing up.
func TestUnjudged(t *testing.T) {
	const text = `plan "p" {}
strip "s" { like = catalog.ws2815_12v_60 }
wire "w" { gauge = "GAUGE" }
supply "a" {
  output = "12 V"
  rating = "RATING"
}
supply "b" {
  output = "12 V"
  rating = "5 A"
}
run "a" {
  strip  = STRIP
  length = "1 m"
}
run "b" {
  strip  = strip.s
  length = "1 m"
}
lead "a" {
  from   = supply.a.out
  to     = run.a.start
  wire   = wire.w
  length = "1 m"
}
lead "b" {
  from   = supply.b.out
  to     = run.b.start
  wire   = catalog.awg_16
  length = "1 m"
  times  = TIMES
}
`
	for _, c := range []struct {
		name                        string
		gauge, rating, strip, times string
		want                        []string // what is not known, and what hangs together with it
	}{
		{"all is known", "16 AWG", "5 A", "strip.s", "1", nil},
		{"an unknown strip", "16 AWG", "5 A", "strip.z", "1", []string{"z: run.a lead.a"}},
		{"a wire of its own", "16 V", "5 A", "strip.s", "1", []string{`"16 V": run.a lead.a`}},
		{"a rating", "16 AWG", "60 W", "strip.s", "1", nil},
		{"a number of copies", "16 AWG", "5 A", "strip.s", `"x"`, []string{`"x": run.a lead.a`, `"x": run.b lead.b`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := text
			for from, to := range map[string]string{"GAUGE": c.gauge, "RATING": c.rating, "STRIP": c.strip, "TIMES": c.times} {
				text = strings.Replace(text, from, to, 1)
			}
			plan := schema.Decode("p", []*source.File{source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))}, nil)
			fig, err := figures.Work(t.Context(), plan, nil)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, u := range UnjudgedIn(plan, fig) {
				s := string(u.At.Bytes()) + ":"
				for _, b := range u.Blocks {
					s += " " + b
				}
				got = append(got, s)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
