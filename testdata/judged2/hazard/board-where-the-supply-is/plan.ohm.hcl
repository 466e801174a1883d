# Hazard: board and supply are drawn on the very same spot of the panel; one of them goes elsewhere, or the board lies on a hot case.
# Source: arithmetic; common practice, no source.
plan "board-where-the-supply-is" {
  title = "Panel beside a stage"
  mains = "230 V"
}

strip "cove" { like = catalog.ws2815_12v_60 }

fixing "saddle" { like = catalog.strip_saddle }

surface "panel" {
  width    = "4 m"
  height   = "1 m"
  material = "plywood"
}

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
  on     = surface.panel
  at     = ["20 cm", "30 cm"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  on              = surface.panel
  at              = ["20 cm", "30 cm"]
  port "a" { pin = 18 }
}

run "cove" {
  strip   = strip.cove
  fixing  = fixing.saddle
  on      = surface.panel
  through = [["50 cm", "50 cm"], ["3.5 m", "50 cm"]]
}

lead "cove" {
  from   = supply.box.out
  to     = run.cove.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "cove" {
  from   = controller.brain.port.a
  to     = run.cove.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.cove] }
