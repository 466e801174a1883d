package rules

import (
	"regexp"
	"testing"

	"ohmstead/lint"
)

// A plan written in feet and inches hears of nothing in metres.
func TestImperialPlansHearNoMetres(t *testing.T) {
	b := benchOf(t, `plan "barn" {
  mains   = "120 V"
  ambient = "120 degF"
}
strip "led" { like = catalog.ws2815_12v_60 }
diffuser "tube" { like = catalog.side_bend_tube }
wire "feed" { gauge = "22 AWG" }
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
reading "end" {
  at    = run.odd at "11 ft"
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
	for _, r := range []string{"bend-tight", "off-surface", "cut-point", "length-missing"} {
		if !said[r] {
			t.Errorf("%s is not found, only %v", r, said)
		}
	}
}
