# Hazard: 246 pixels take 4.21 A from the second output of 5 A; 80 % for long are 4.0 A (1.05), however empty the first is.
# Source: common practice, no source: 80 % of a rating for long; each output is limited for itself.
plan "second-output-full" {
  title = "Two sides of a passage"
  mains = "230 V"
}

strip "side" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output  = "12 V"
  rating  = "5 A"
  input   = ["230 V"]
  outputs = 2
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "short" {
  strip  = strip.side
  pixels = 100
}

run "long" {
  strip  = strip.side
  pixels = 246
}

lead "short" {
  from   = supply.box.out[1]
  to     = run.short.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "3 A"
}

lead "long" {
  from   = supply.box.out[2]
  to     = run.long.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "7.5 A"
}

lead "board" {
  from   = supply.box.out[1]
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "short" {
  from   = controller.brain.port.a
  to     = run.short.start
  wire   = wire.data
  length = "50 cm"
}

signal "long" {
  from   = run.short.end
  to     = run.long.start
  wire   = wire.data
  length = "30 cm"
}

order "all" { runs = [run.short, run.long] }
