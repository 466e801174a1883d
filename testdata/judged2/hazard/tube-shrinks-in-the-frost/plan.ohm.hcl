# Hazard: a silicone tube of 4.9 m between 45 degC and -25 degC shrinks by 270e-6 x 70 x 4.9 = 93 mm, the strip in it by 6 mm: caps and leads are pulled off.
# Source: expansion of silicone rubber 270e-6/K, of copper 17e-6/K (a materials textbook).
plan "tube-shrinks-in-the-frost" {
  title   = "Ridge of a garden room"
  mains   = "230 V"
  ambient = "45 degC"
  coldest = "-25 degC"
}

strip "ridge" {
  like            = catalog.ws2815_12v_60
  channel_current = "10 mA"
  source          = "current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" { like = catalog.silicone_tube_side_12x20 }

fixing "bracket" { like = catalog.tube_bracket }

wire "feed" { like = catalog.awg_16_silicone }

wire "data" { like = catalog.awg_22_silicone }

surface "ridge" {
  width    = "5.2 m"
  height   = "40 cm"
  material = "larch"
}

supply "box" {
  output          = "12 V"
  rating          = "10 A"
  input           = ["230 V"]
  min_temperature = "-30 degC"
  derate_from     = "50 degC"
  derate          = "2.5 %/degC"
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "ridge" {
  strip    = strip.ridge
  diffuser = diffuser.tube
  fixing   = fixing.bracket
  on       = surface.ridge
  insert   = "cord"
  through  = [["15 cm", "20 cm"], ["5.05 m", "20 cm"]]
}

lead "ridge" {
  from   = supply.box.out
  to     = run.ridge.start
  wire   = wire.feed
  length = "60 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "ridge" {
  from   = controller.brain.port.a
  to     = run.ridge.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.ridge] }
