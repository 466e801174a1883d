# Sound: 484 pixels from universe 63997 on; three universes hold 510 (0.95) and 63999 is the last there is.
# Source: ANSI E1.31: universes 1 to 63999, 512 slots each, 170 whole RGB pixels.
plan "universes-at-the-end" {
  title = "Dense line behind the bar"
  mains = "230 V"
}

strip "bar" {
  like            = catalog.ws2815_12v_144
  channel_current = "10 mA"
  source          = "measured on the reel: 10 mA a pixel, the rest as the catalogue's entry"
}

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "12 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "bar" {
  strip  = strip.bar
  pixels = 484
}

lead "start" {
  from   = supply.box.out
  to     = run.bar.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "end" {
  from   = supply.box.out
  to     = run.bar.end
  wire   = wire.feed
  length = "4.2 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "bar" {
  from   = controller.brain.port.a
  to     = run.bar.start
  wire   = wire.data
  length = "50 cm"
}

order "bar" { runs = [run.bar] }

universes "bar" {
  order = order.bar
  first = 63997
}
