# Hazard: bare strip is to follow an arc of 20 cm on the face of a wall, in its own plane; film bends over its flat side only, copper tears.
# Source: common practice, no source: never bend a strip across its width.
plan "bare-strip-bent-across-its-width" {
  title = "Arc over a picture"
  mains = "230 V"
}

strip "cove" { like = catalog.ws2815_12v_60 }

fixing "tape" { like = catalog.adhesive_tape }

surface "wall" {
  width    = "2 m"
  height   = "2 m"
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
  strip  = strip.cove
  fixing = fixing.tape
  on     = surface.wall

  path {
    start = ["60 cm", "40 cm"]
    line { length = "60 cm" }
    arc {
      radius = "20 cm"
      sweep  = "180 deg"
      turn   = "right"
    }
    line { length = "60 cm" }
  }
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
