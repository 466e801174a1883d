# Hazard: 48 V strip of IP67 outdoors; 30 V DC is the limit there.
# Source: NEC contact limit 30 V DC; IEC 60364-4-41 (from memory).
plan "48-volts-in-the-wet" {
  title = "48 volts in the wet"
  mains = "230 V"
  rate  = "30 Hz"

  exposure = "wet"
}

strip "s" {
  like        = catalog.ws2815_12v_60
  voltage     = "48 V"
  max_voltage = "55 V"
  min_voltage = "40 V"
  series      = 12
  group       = 12
  cut         = 12
  stack       = "parallel"
  enclosure   = "IP67"
}

wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output    = "48 V"
  rating    = "2 A"
  input     = ["230 V"]
  enclosure = "IP67"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["48 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "2 A"
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

order "all" { runs = [run.r] }
