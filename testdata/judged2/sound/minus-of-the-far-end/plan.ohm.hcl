# Sound: fed at both ends behind 5 A each; with the near minus loose the far one may carry 10 A and is good for 10.53 A (0.95), as is the copper for 11 A.
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
  gauge    = "1.5 mm2"
  ampacity = "10.53 A"
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
