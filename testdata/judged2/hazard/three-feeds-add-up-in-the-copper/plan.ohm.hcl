# Hazard: fed at start, middle and end behind 3 A each; a fault near the end draws 3 + 3 A through copper good for 5.71 A (1.05).
# Source: IEC 60364-4-43 433.1 for the strip as conductor, with the sum of the fuses on one side (from memory).
plan "three-feeds-add-up-in-the-copper" {
  title = "Five metres over a work top"
  mains = "230 V"
}

strip "top" {
  like            = catalog.ws2815_12v_60
  channel_current = "10 mA"
  rail_current    = "5.71 A"
  source          = "current measured on the reel, copper from the maker's sheet, the rest as the catalogue's entry"
}

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "top" {
  strip  = strip.top
  length = "5 m"
}

lead "start" {
  from   = supply.box.out
  to     = run.top.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "3 A"
}

lead "middle" {
  from   = supply.box.out
  to     = run.top["2.5 m"]
  wire   = wire.feed
  length = "3 m"
  fuse   = "3 A"
}

lead "end" {
  from   = supply.box.out
  to     = run.top.end
  wire   = wire.feed
  length = "5.5 m"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "top" {
  from   = controller.brain.port.a
  to     = run.top.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.top] }
