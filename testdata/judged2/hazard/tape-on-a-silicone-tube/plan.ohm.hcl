# Hazard: a silicone tube of 190 g/m is to hang on acrylic tape under a ceiling; silicone (20 mN/m) is not wetted by it and the tube comes down.
# Source: surface energies in a tape maker's sheet: only silicone adhesive wets silicone.
plan "tape-on-a-silicone-tube" {
  title = "Ring of light under a ceiling"
  mains = "230 V"
}

strip "cove" {
  like            = catalog.ws2815_12v_60
  channel_current = "12 mA"
  source          = "current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" { like = catalog.silicone_tube_side_12x20 }

fixing "tape" { like = catalog.adhesive_tape }

surface "ceiling" {
  width    = "4 m"
  height   = "3 m"
  material = "painted plaster"
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

run "cove" {
  strip    = strip.cove
  diffuser = diffuser.tube
  fixing   = fixing.tape
  on       = surface.ceiling
  insert   = "cord"
  through  = [["50 cm", "1.5 m"], ["3.5 m", "1.5 m"]]
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
