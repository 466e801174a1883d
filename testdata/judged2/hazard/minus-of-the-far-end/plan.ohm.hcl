# Hazard: fed at both ends; with the near minus loose all 5.39 A come back through the far one, good for 5.13 A (1.05), and no fuse sees it.
# Source: IEC 60364-4-43 433.1: a conductor of a parallel set alone (433.4, from memory); the return carries the sum of the fuses.
plan "minus-of-the-far-end" {
  title = "Beam with a feed at either end"
  mains = "230 V"
}

strip "beam" {
  like         = catalog.ws2815_12v_60
  rail         = "0.0223 ohm/m"
  rail_current = "11 A"
  source       = "two layers of 70 um x 5.5 mm, 0.01724 / (2 x 0.070 x 5.5)"
}

wire "feed" { gauge = "2.5 mm2" }

wire "back" {
  gauge    = "0.75 mm2"
  ampacity = "5.13 A"
  source   = "sheet of the cable"
}

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "15 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "beam" {
  strip  = strip.beam
  pixels = 315
}

lead "near" {
  from   = supply.box.out
  to     = run.beam.start
  wire   = wire.feed
  length = "60 cm"
  fuse   = "5 A"
}

lead "far-plus" {
  from    = supply.box.out
  to      = run.beam.end
  wire    = wire.feed
  length  = "5.6 m"
  fuse    = "5 A"
  carries = "plus"
}

lead "far-minus" {
  from    = supply.box.out
  to      = run.beam.end
  wire    = wire.back
  length  = "5.6 m"
  carries = "minus"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "beam" {
  from   = controller.brain.port.a
  to     = run.beam.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.beam] }
