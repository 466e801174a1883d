# Hazard: two supplies, a run each, data goes from one run to the next and no minus joins them: the second run reads noise, or the data pin carries the return.
# Source: common ground between every supply (a seller's guide).
plan "two-islands-without-a-tie" {
  title = "Two ends of a long hall"
  mains = "230 V"
}

strip "hall" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "east" {
  output = "12 V"
  rating = "6 A"
  input  = ["230 V"]
}

supply "west" {
  output = "12 V"
  rating = "6 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "east" {
  strip  = strip.hall
  length = "3 m"
}

run "west" {
  strip  = strip.hall
  length = "3 m"
}

lead "east" {
  from   = supply.east.out
  to     = run.east.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "west" {
  from   = supply.west.out
  to     = run.west.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.east.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "east" {
  from   = controller.brain.port.a
  to     = run.east.start
  wire   = wire.data
  length = "50 cm"
}

signal "west" {
  from   = run.east.end
  to     = run.west.start
  wire   = wire.data
  length = "1 m"
}

order "all" { runs = [run.east, run.west] }
