# Hazard: three plus leads behind 5 A, one minus of 0.75 mm2 (6 A) for all.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "three-supplies-one-return" {
  title = "Three supplies one return"
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
supply "psu3" {
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

joint "back" { like = catalog.lever_joint_5 }
joint "home" { like = catalog.lever_joint_5 }

run "r" {
  length = "3 m"
  strip  = strip.s
}
run "r2" {
  length = "3 m"
  strip  = strip.s
}
run "r3" {
  length = "3 m"
  strip  = strip.s
}

lead "p" {
  from    = supply.psu.out
  to      = run.r.start
  wire    = wire.feed
  length  = "2 m"
  fuse    = "5 A"
  carries = "plus"
}
lead "m" {
  from    = joint.back
  to      = run.r.start
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "h" {
  from    = supply.psu.out
  to      = joint.home
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "p2" {
  from    = supply.psu2.out
  to      = run.r2.start
  wire    = wire.feed
  length  = "2 m"
  fuse    = "5 A"
  carries = "plus"
}
lead "m2" {
  from    = joint.back
  to      = run.r2.start
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "h2" {
  from    = supply.psu2.out
  to      = joint.home
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "p3" {
  from    = supply.psu3.out
  to      = run.r3.start
  wire    = wire.feed
  length  = "2 m"
  fuse    = "5 A"
  carries = "plus"
}
lead "m3" {
  from    = joint.back
  to      = run.r3.start
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "h3" {
  from    = supply.psu3.out
  to      = joint.home
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}
lead "minus" {
  from    = joint.home
  to      = joint.back
  wire    = wire.feed
  length  = "2 m"
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
signal "d3" {
  from   = run.r2.end
  to     = run.r3.start
  wire   = wire.data
  length = "15 cm"
}

order "all" { runs = [run.r, run.r2, run.r3] }
