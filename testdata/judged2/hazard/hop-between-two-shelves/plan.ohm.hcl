# Hazard: 5.25 m of data from the end of one run to the next; the sheet allows 5 m between any two points (1.05).
# Source: WS2812B sheet: more than 5 m between any two points wants a circuit of its own.
plan "hop-between-two-shelves" {
  title = "Two shelves at the ends of a shop"
  mains = "230 V"
}

strip "shelf" { like = catalog.ws2812b_5v_60 }

wire "near" { gauge = "1.5 mm2" }

wire "far" { gauge = "2.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "near" {
  strip     = strip.shelf
  length    = "50 cm"
  capacitor = "1000 uF"
}

run "far" {
  strip     = strip.shelf
  length    = "50 cm"
  capacitor = "1000 uF"
}

lead "near" {
  from   = supply.box.out
  to     = run.near.start
  wire   = wire.near
  length = "60 cm"
  fuse   = "3 A"
}

lead "far" {
  from   = supply.box.out
  to     = run.far.start
  wire   = wire.far
  length = "6 m"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "near" {
  from   = controller.brain.port.a
  to     = run.near.start
  wire   = wire.data
  length = "50 cm"
}

signal "far" {
  from   = run.near.end
  to     = run.far.start
  wire   = wire.data
  length = "5.25 m"
}

order "all" { runs = [run.near, run.far] }
