# Sound: two shelves of APA102, 3.3 A each behind 5 A, data and clock in one lead of half a metre through a 5 V buffer.
# Source: community list of pixel chips, input 3.5 V at 5 V; IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "clocked-shelves" {
  title = "Two shelves for glasses"
  mains = "230 V"
}

strip "shelf" { like = catalog.apa102_5v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" {
  gauge = "22 AWG"
  cores = 4
}

supply "box" {
  output = "5 V"
  rating = "15 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "upper" {
  strip     = strip.shelf
  length    = "90 cm"
  capacitor = "1000 uF"
}

run "lower" {
  strip     = strip.shelf
  length    = "90 cm"
  capacitor = "1000 uF"
}

lead "upper" {
  from   = supply.box.out
  to     = run.upper.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "5 A"
}

lead "lower" {
  from   = supply.box.out
  to     = run.lower.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "upper" {
  from   = controller.brain.port.a
  to     = run.upper.start
  wire   = wire.data
  length = "50 cm"
}

signal "lower" {
  from   = run.upper.end
  to     = run.lower.start
  wire   = wire.data
  length = "40 cm"
}

order "all" { runs = [run.upper, run.lower] }
