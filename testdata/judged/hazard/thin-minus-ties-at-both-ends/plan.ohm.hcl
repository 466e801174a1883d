# Hazard: 24 AWG (2 A) ties the minus of two supplies and of their two runs; with one run's minus loose its 4 A come back through the ties.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "thin-minus-ties-at-both-ends" {
  title = "Thin minus ties at both ends"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "1.5 mm2" }
wire "tie" { gauge = "24 AWG" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
}
supply "psu2" {
  output = "12 V"
  rating = "10 A"
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
  length = "4 m"
  strip  = strip.s
}
run "r2" {
  length = "4 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "7.5 A"
}
lead "feed2" {
  from   = supply.psu2.out
  to     = run.r2.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "7.5 A"
}
lead "tie1" {
  from    = supply.psu.out
  to      = supply.psu2.out
  wire    = wire.tie
  length  = "40 cm"
  carries = "minus"
}
lead "tie2" {
  from    = run.r.end
  to      = run.r2.start
  wire    = wire.tie
  length  = "15 cm"
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
