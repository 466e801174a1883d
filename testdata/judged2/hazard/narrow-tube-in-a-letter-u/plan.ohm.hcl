# Hazard: the narrow tube wants 50 mm and is bent to 47.5 mm (1.05): film and solder crack.
# Source: tube's sheet in the catalogue, 30 to 50 mm for tubes of 6 to 8 mm; common practice, no source.
plan "narrow-tube-in-a-letter-u" {
  title = "The letter U on a sign board"
  mains = "230 V"
}

strip "letter" {
  like    = catalog.sk6805_5v_60
  density = "96/m"
}

diffuser "tube" { like = catalog.silicone_tube_side_8x16 }

fixing "clip" { like = catalog.tube_clip_curve }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

surface "sign" {
  width    = "60 cm"
  height   = "80 cm"
  material = "plywood"
}

supply "box" {
  output = "5 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "u" {
  strip     = strip.letter
  diffuser  = diffuser.tube
  fixing    = fixing.clip
  on        = surface.sign
  insert    = "cord"
  capacitor = "1000 uF"

  path {
    start   = ["20 cm", "60 cm"]
    heading = "270 deg"
    line { length = "35 cm" }
    arc {
      radius = "47.5 mm"
      sweep  = "180 deg"
      turn   = "left"
    }
    line { length = "35 cm" }
  }
}

lead "u" {
  from   = supply.box.out
  to     = run.u.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "2 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "u" {
  from   = controller.brain.port.a
  to     = run.u.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.u] }
