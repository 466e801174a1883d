// Package bigplan writes large plans in the language, for benchmarks and for
// tests of what grows with a plan.
package bigplan

import (
	"fmt"
	"strings"
)

// Islands writes a plan of about so many lines: islands of a supply, a
// controller and four runs of 150 pixels, eight lines a block, 10,000 pixels
// in 2,000 lines.
func Islands(lines int) string {
	var b strings.Builder
	b.WriteString(`plan "facade" {
  title = "Facade"
  mains = "230 V"
  rate  = "30 Hz"
  note  = "A large plan"
}

strip "row" {
  like   = catalog.ws2815_12v_60
  price  = "24 EUR"
  reel   = "5 m"
}

wire "feed" {
  gauge = "16 AWG"
}

wire "data" {
  gauge = "22 AWG"
}

`)
	for island := 0; strings.Count(b.String(), "\n") < lines; island++ {
		fmt.Fprintf(&b, `supply "s%[1]d" {
  output    = "12 V"
  rating    = "12.5 A"
  input     = ["230 V"]
  selector  = "230 V"
  enclosure = "IP67"
}

controller "c%[1]d" {
  logic         = "5 V"
  input_voltage = ["12 V"]
  ceiling       = "8 A"
  port "a" { pin = 4 }
  port "b" { pin = 13 }
}

lead "c%[1]d" {
  from   = supply.s%[1]d.out
  to     = controller.c%[1]d.power
  wire   = wire.data
  length = "25 cm"
  fuse   = "1 A"
}

`, island)
		for k := range 4 {
			signal := fmt.Sprintf("controller.c%d.port.%c", island, 'a'+k/2)
			if k%2 == 1 {
				signal = fmt.Sprintf("run.r%d_%d.end", island, k-1)
			}
			fmt.Fprintf(&b, `run "r%[1]d_%[2]d" {
  strip     = strip.row
  length    = "2.5 m"
  insert    = "push"
  pixels    = 150
  capacitor = "1000 uF"
}

lead "r%[1]d_%[2]d" {
  from   = supply.s%[1]d.out
  to     = run.r%[1]d_%[2]d.start
  wire   = wire.feed
  length = "1.2 m"
  fuse   = "5 A"
}

signal "r%[1]d_%[2]d" {
  from   = %[3]s
  to     = run.r%[1]d_%[2]d.start
  wire   = wire.data
  length = "60 cm"
}

`, island, k, signal)
		}
	}
	return b.String()
}
