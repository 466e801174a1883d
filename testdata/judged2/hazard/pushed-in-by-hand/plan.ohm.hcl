# Hazard: 63.3 cm of strip (38 pixels) are to be pushed into a tube that takes 60 cm (1.05): it jams and kinks.
# Source: tube's sheet in the catalogue, 60 cm; common practice, no source.
plan "pushed-in-by-hand" {
  title = "Edge of a bedside board"
  mains = "230 V"
}

strip "edge" {
  like            = catalog.ws2815_12v_60
  channel_current = "12 mA"
  source          = "current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" { like = catalog.silicone_tube_side_12x20 }

wire "feed" { gauge = "1.0 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "2 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "edge" {
  strip    = strip.edge
  diffuser = diffuser.tube
  insert   = "push"
  pixels   = 38
}

lead "edge" {
  from   = supply.box.out
  to     = run.edge.start
  wire   = wire.feed
  length = "60 cm"
  fuse   = "1 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "edge" {
  from   = controller.brain.port.a
  to     = run.edge.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.edge] }
