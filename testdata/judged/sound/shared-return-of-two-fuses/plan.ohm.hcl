# Sound: two plus leads behind 5 A fuses come back through one minus good for 10.53 A (0.95).
# Source: IEC 60364-4-43 433.1: the return carries the sum of the fuses (from memory).
plan "shared-return-of-two-fuses" {
  title   = "Shared return of two fuses"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "back" {
  gauge           = "1.5 mm2"
  ampacity        = "10.53 A"
  max_temperature = "70 degC"
}

wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "20 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

joint "back" { like = catalog.lever_joint_3 }

run "r" {
  length = "2 m"
  strip  = strip.s
}
run "r2" {
  length = "2 m"
  strip  = strip.s
}

lead "p1" {
  from    = supply.psu.out
  to      = run.r.start
  wire    = wire.feed
  length  = "2 m"
  fuse    = "5 A"
  carries = "plus"
}
lead "p2" {
  from    = supply.psu.out
  to      = run.r2.start
  wire    = wire.feed
  length  = "2 m"
  fuse    = "5 A"
  carries = "plus"
}
lead "m1" {
  from    = joint.back
  to      = run.r.start
  wire    = wire.back
  length  = "40 cm"
  carries = "minus"
}
lead "m2" {
  from    = joint.back
  to      = run.r2.start
  wire    = wire.back
  length  = "40 cm"
  carries = "minus"
}
lead "minus" {
  from    = supply.psu.out
  to      = joint.back
  wire    = wire.back
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

order "all" { runs = [run.r, run.r2] }
