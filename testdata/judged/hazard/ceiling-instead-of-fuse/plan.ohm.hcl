# Hazard: the firmware's ceiling of 2 A is all that guards 22 AWG (3 A) on 30 A.
# Source: common practice, no source: a ceiling is software; IEC 60364-4-43 433.1.
plan "ceiling-instead-of-fuse" {
  title = "Ceiling instead of fuse"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "30 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  ceiling         = "2 A"
  port "a" { pin = 4 }
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.data
  length = "1 m"
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
