# Sound: two supplies, a run each, plus apart, minus joined by a wire that carries the larger fuse.
# Source: cut the plus, keep 0 V common (seller's guide).
plan "two-supplies-apart" {
  title = "Two supplies apart"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "5 A"
  input  = ["230 V"]
}
supply "psu2" {
  output = "12 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "2 m"
  strip  = strip.s
}
run "r2" {
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "feed2" {
  from   = supply.psu2.out
  to     = run.r2.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "tie" {
  from    = supply.psu.out
  to      = supply.psu2.out
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}

lead "board" {
  from   = supply.psu.out
  to     = controller.ctl.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}
signal "d2" {
  from   = run.r.end
  to     = run.r2.start
  wire   = wire.data
  length = "15 cm"
}

order "all" { runs = [run.r, run.r2] }
