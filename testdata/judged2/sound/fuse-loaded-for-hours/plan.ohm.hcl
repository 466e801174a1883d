# Sound: 208 pixels take 3.56 A through a 5 A blade for whole evenings; 75 % are 3.75 A (0.95).
# Source: fuse maker's note, 75 % of the rating for long at 25 degC; 80 % elsewhere, common practice, no source.
plan "fuse-loaded-for-hours" {
  title = "Foyer of a theatre"
  mains = "230 V"
}

strip "foyer" { like = catalog.ws2815_12v_60 }

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

run "foyer" {
  strip  = strip.foyer
  pixels = 208
}

lead "foyer" {
  from   = supply.box.out
  to     = run.foyer.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "foyer" {
  from   = controller.brain.port.a
  to     = run.foyer.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.foyer] }
