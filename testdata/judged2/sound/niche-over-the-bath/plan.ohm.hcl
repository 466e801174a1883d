# Sound: 12 V strip of IP67 in a closed tube within reach of the bath, supply and board in the dry room beside it.
# Source: IEC 60364-7-701: at most 30 V DC, source outside (from memory).
plan "niche-over-the-bath" {
  title = "Niche over the bath"
  mains = "230 V"
}

strip "niche" {
  like            = catalog.ws2815_12v_60
  enclosure       = "IP67"
  channel_current = "12 mA"
  source          = "current measured on the reel, the rest as the catalogue's entry"
}

diffuser "tube" {
  like      = catalog.silicone_tube_side_12x20
  enclosure = "IP67"
}

fixing "clip" { like = catalog.tube_clip }

wire "feed" { like = catalog.flex_2x1_5 }

wire "data" { gauge = "22 AWG" }

surface "niche" {
  width    = "1.6 m"
  height   = "80 cm"
  material = "tiles"
  exposure = "bath"
}

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

run "niche" {
  strip    = strip.niche
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.niche
  insert   = "cord"
  through  = [["30 cm", "60 cm"], ["1.3 m", "60 cm"]]
}

lead "niche" {
  from   = supply.box.out
  to     = run.niche.start
  wire   = wire.feed
  length = "3 m"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "60 cm"
  fuse   = "1 A"
}

signal "niche" {
  from   = controller.brain.port.a
  to     = run.niche.start
  wire   = wire.data
  length = "3 m"
}

order "all" { runs = [run.niche] }
