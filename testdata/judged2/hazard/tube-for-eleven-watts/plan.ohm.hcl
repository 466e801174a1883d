# Hazard: 96 x 12 V x (7.93 + 2.1) mA = 11.55 W/m in a tube for 11 W/m (1.05).
# Source: tube's sheet in the catalogue; metal is advised above about 10 W/m, common practice, no source.
plan "tube-for-eleven-watts" {
  title = "Line along a stair string"
  mains = "230 V"
}

strip "line" {
  like            = catalog.ws2815_12v_60
  density         = "96/m"
  channel_current = "7.93 mA"
  source          = "density from the seller, current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" { like = catalog.silicone_tube_side_10x18 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "line" {
  strip    = strip.line
  diffuser = diffuser.tube
  insert   = "cord"
  length   = "2 m"
}

lead "line" {
  from   = supply.box.out
  to     = run.line.start
  wire   = wire.feed
  length = "60 cm"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "line" {
  from   = controller.brain.port.a
  to     = run.line.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.line] }
