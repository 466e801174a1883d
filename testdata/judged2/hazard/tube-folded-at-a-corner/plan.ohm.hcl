# Hazard: a tube that wants 80 mm goes round a corner of 90 degrees without any arc; strip and tube are folded.
# Source: tube's sheet in the catalogue; common practice, no source.
plan "tube-folded-at-a-corner" {
  title = "Frame round a door"
  mains = "230 V"
}

strip "cove" {
  like            = catalog.ws2815_12v_60
  channel_current = "12 mA"
  source          = "current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" { like = catalog.silicone_tube_side_12x20 }

fixing "clip" { like = catalog.tube_clip }

surface "wall" {
  width    = "3 m"
  height   = "2.6 m"
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
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  through  = [["50 cm", "20 cm"], ["50 cm", "2.2 m"], ["1.5 m", "2.2 m"]]
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
