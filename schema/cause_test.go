package schema

import (
	"slices"
	"strings"
	"testing"
)

// One mistake is one problem, told in words that fit it.
func TestOneCauseOneProblem(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // how each message begins
	}{
		{"like what is like nothing", `strip "a" { like = catalog.none }
strip "b" { like = strip.a }
strip "c" { like = strip.b }`,
			[]string{`reference-unknown: the catalogue has no strip "none"`}},
		{"a circle of likeness", `wire "a" { like = wire.b }
wire "b" { like = wire.a }`,
			[]string{"reference-cycle: wire.b is like itself through wire.a"}},
		{"a broken line in a block", `wire "a" {
  gauge: "16 AWG"
}`,
			[]string{"syntax: "}},
		{"an equals sign left out", `strip "a" {
  like catalog.ws2815_12v_60
}`,
			[]string{"syntax: "}},
		{"a named value of two kinds", `let { a = sum("5 V", "5 A") }`,
			[]string{`dimension-mismatch: "5 A" is a current where a voltage belongs`}},
		{"a named value of two currencies", `let { a = sum("5 EUR", "5 USD") }`,
			[]string{"dimension-mismatch: 5 EUR and 5 USD are prices in two currencies"}},
		{"a named value without a unit", `let { a = 5 }
surface "s" {
  width  = let.a
  height = "1 m"
}`,
			[]string{"unit-missing: let.a: 5 is a bare number; a length belongs here"}},
		{"a shift that is no place", `run "a" {
  strip  = catalog.ws2815_12v_60
  length = "1 m"
  shift  = "5 cm"
}`,
			[]string{`value-kind: "5 cm" is not a place`}},
		{"a step where a block belongs", `line { length = "1 m" }`,
			[]string{"block-unknown: line stands outside of a block; it belongs between the braces of path"}},
		{"a name without its kind", `strip "a" { like = ws2815_12v_60 }`,
			[]string{`reference-unknown: "ws2815_12v_60" is a name without its kind; write catalog.ws2815_12v_60`}},
		{"a function by another name", `let { a = add("1 m", "2 m") }`,
			[]string{`function-misuse: there is no function "add"; did you mean "sum"?`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := messages(decode(t, "plan \"p\" {}\n\n"+c.text+"\n"))
			if !slices.EqualFunc(got, c.want, strings.HasPrefix) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// A fix is offered only where it mends what it stands at.
func TestFixesThatMend(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // titles
	}{
		{"yes for true", `controller "a" { own_power = "yes" }`, []string{"Write true"}},
		{"a word for true", `controller "a" { own_power = "maybe" }`, nil},
		{"a number in quotes", "wire \"a\" {\n  gauge = \"16 AWG\"\n  cores = \"2\"\n}", []string{"Write 2 without quotes"}},
		{"an attribute that is there already", "wire \"a\" {\n  gauge = \"16 AWG\"\n  guage = \"16 AWG\"\n}", []string{"Remove guage"}},
		{"a missing reference with one candidate", "strip \"s\" { like = catalog.ws2815_12v_60 }\nrun \"a\" { length = \"1 m\" }", []string{"Add strip"}},
		{"a missing reference without one", `run "a" { length = "1 m" }`, nil},
		{"a signal into the middle of a run", "run \"a\" {\n  strip  = catalog.ws2815_12v_60\n  length = \"1 m\"\n}\nsignal \"b\" {\n  from = run.a.end\n  to   = run.a[5]\n}", []string{"Write run.a.start"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, p := range decode(t, "plan \"p\" {}\n\n"+c.text+"\n").Problems {
				for _, f := range p.Fixes {
					got = append(got, f.Title)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
