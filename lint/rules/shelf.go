package rules

import (
	"fmt"
	"strings"
)

// shelf is a small plan without findings. The examples of many rules are this
// plan with one thing changed.
const shelf = `plan "shelf" {
  mains = "230 V"
  rate  = "40 Hz"
}

strip "led" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain" {
  board   = catalog.esp32_devkit
  buffer  = "5 V"
  ceiling = "4 A"
  port "a" { pin = 4 }
}

run "top" {
  strip  = strip.led
  length = "1 m"
}

run "low" {
  strip  = strip.led
  length = "1 m"
}

lead "top" {
  from   = supply.brick.out
  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "low" {
  from   = supply.brick.out
  to     = run.low.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "20 cm"
  fuse   = "1 A"
}

signal "top" {
  from   = controller.brain.port.a
  to     = run.top.start
  wire   = wire.data
  length = "40 cm"
}

signal "low" {
  from   = run.top.end
  to     = run.low.start
  wire   = wire.data
  length = "30 cm"
}

order "shelf" { runs = [run.top, run.low] }
`

// instead is a text with parts of it, each of which stands in it once,
// replaced by others.
func instead(text string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		before, after, found := strings.Cut(text, pairs[i])
		if !found || strings.Contains(after, pairs[i]) {
			panic("rules: an example does not hold once: " + pairs[i]) // an example is wrong; its test says so
		}
		text = before + pairs[i+1] + after
	}
	return text
}

// twoPorts is the shelf with a port for each run, on the given pins.
func twoPorts(a, b int) string {
	return instead(shelf,
		`  port "a" { pin = 4 }`, fmt.Sprintf("  port \"a\" { pin = %d }\n  port \"b\" { pin = %d }", a, b),
		"run.top.end", "controller.brain.port.b")
}
