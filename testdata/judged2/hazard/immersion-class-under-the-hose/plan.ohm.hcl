# Hazard: everything is IP67 where a hose is used; a second numeral of 7 promises nothing against jets (5, 6).
# Source: IEC 60529: 7 and 8 do not imply 5 and 6 (from memory), AD5 wants IPX5.
plan "immersion-class-under-the-hose" {
  title = "Wall of a wash bay that is hosed down"
  mains = "230 V"
}

strip "wall" {
  like      = catalog.ws2811_24v_60
  enclosure = "IP67"
}

wire "feed" { like = catalog.mm2_1_5 }

wire "board" { like = catalog.mm2_0_75 }

wire "data" { gauge = "22 AWG" }

surface "bay" {
  width    = "6 m"
  height   = "3 m"
  material = "tiles"
  exposure = "jets"
}

fixing "saddle" { like = catalog.strip_saddle }

supply "box" {
  output    = "24 V"
  rating    = "6 A"
  input     = ["230 V"]
  enclosure = "IP67"
  on        = surface.bay
  at        = ["30 cm", "1 m"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "24 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  enclosure       = "IP67"
  on              = surface.bay
  at              = ["30 cm", "1.5 m"]
  port "a" { pin = 18 }
}

run "wall" {
  strip   = strip.wall
  fixing  = fixing.saddle
  on      = surface.bay
  through = [["50 cm", "2 m"], ["5.5 m", "2 m"]]
}

lead "wall" {
  from   = supply.box.out
  to     = run.wall.start
  wire   = wire.feed
  length = "1.4 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.board
  length = "80 cm"
  fuse   = "1 A"
}

signal "wall" {
  from   = controller.brain.port.a
  to     = run.wall.start
  wire   = wire.data
  length = "80 cm"
}

order "all" { runs = [run.wall] }
