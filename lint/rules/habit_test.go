package rules

import (
	"regexp"
	"testing"

	"ohmstead/calc/quantity"
	"ohmstead/lint"
)

// A plan written in feet and inches hears of nothing in metres.
func TestImperialPlansHearNoMetres(t *testing.T) {
	b := benchOf(t, `plan "barn" {
  mains   = "120 V"
  ambient = "120 degF"
  coldest = "-20 degF"
}
strip "led" { like = catalog.ws2815_12v_60 }
diffuser "tube" { like = catalog.silicone_tube_side_12x20 }
wire "feed" { gauge = "22 AWG" }
diffuser "channel" {
  kind       = "channel"
  weight     = "30 oz/ft"
  material   = "aluminium"
  cover      = "polycarbonate"
  heat_limit = "4 W/ft"
}
fixing "tape" {
  kind  = "adhesive"
  width = "0.4 in"
}
surface "wall" {
  width  = "16 ft"
  height = "8 ft"
}
supply "brick" {
  output      = "12 V"
  rating      = "12.5 A"
  input       = ["120 V"]
  derate_from = "110 degF"
  derate      = "2 %/degF"
}
run "bent" {
  strip    = strip.led
  diffuser = diffuser.tube
  on       = surface.wall
  path {
    start = ["1 ft", "1 ft"]
    line { length = "4 ft" }
    arc {
      radius = "0.5 in"
      turn   = "left"
      sweep  = "90 deg"
    }
    line { length = "9 ft" }
  }
}
run "far" {
  strip = strip.led
  on    = surface.wall
  path {
    start = ["1 ft", "1 ft"]
    arc {
      to     = ["9 ft", "1 ft"]
      radius = "2 ft"
      turn   = "left"
    }
  }
}
run "odd" {
  strip  = strip.led
  length = "10 ft 1 in"
}
lead "feed" {
  from   = supply.brick.out
  to     = run.odd.start
  wire   = wire.feed
  length = "30 ft"
}
run "low" {
  strip    = strip.led
  diffuser = diffuser.channel
  fixing   = fixing.tape
  on       = surface.wall
  through  = [["1 ft", "4 ft"], ["7 ft", "4 ft"]]
}
run "over" {
  strip   = strip.led
  on      = surface.wall
  through = [["5 ft", "4 ft"], ["10 ft", "4 ft"]]
}
joint "post" {
  on = surface.wall
  at = ["15 ft", "4 ft"]
}
lead "post" {
  from   = joint.post
  to     = run.low.start
  wire   = wire.feed
  length = "5 ft"
}
reading "end" {
  at    = run.odd["10 ft"]
  volts = "9.00 V"
}
`)
	metric := regexp.MustCompile(`[0-9] ?(m|cm|mm|degC|W/m|kg|g)\b`)
	said := map[string]bool{}
	for _, f := range b.found {
		said[f.Rule] = true
		if f.Rule != lint.RuleAllowBare && metric.MatchString(f.Message) {
			t.Errorf("%s: %s", f.Rule, f.Message)
		}
	}
	for _, r := range []string{"bend-tight", "off-surface", "cut-point", "length-missing", "expansion-gap", "same-spot", "fixing-overload", "length-short"} {
		if !said[r] {
			t.Errorf("%s is not found, only %v", r, said)
		}
	}
}

// A length to cut is said in the unit of the one beside it, rounded up to a
// mark of the tape, never down.
func TestLengthLike(t *testing.T) {
	for _, c := range []struct {
		like string
		m    float64
		want string
	}{
		{"30 cm", 0.2501, "25.1 cm"},
		{"30 cm", 10.3, "10.3 m"},
		{"2 ft", 0.2501, "9.875 in"},
		{"11 in", 14 * 0.3048, "168 in"},
		{"5 ft", 14 * 0.3048, "14 ft"},
		{"5 ft 1 in", 14*0.3048 + 0.051, "14 ft 2.0625 in"},
		{"5 ft", 15*0.3048 - 1e-4, "15 ft"},
	} {
		q, err := quantity.ParseFor(quantity.Length, c.like)
		if err != nil {
			t.Fatal(err)
		}
		got := lengthLike(q, c.m)
		back, err := quantity.ParseFor(quantity.Length, got)
		if got != c.want || err != nil || back.SI < c.m-1e-9 {
			t.Errorf("%g m beside %s is %q (%g m, %v), want %q", c.m, c.like, got, back.SI, err, c.want)
		}
	}
}
