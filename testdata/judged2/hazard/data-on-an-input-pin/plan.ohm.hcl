# Hazard: data is to come out of pin 35 of an ESP32, which is an input only: the strip stays dark.
# Source: chip maker's programming guide, GPIO 34 to 39 are inputs only.
plan "data-on-an-input-pin" {
  title = "Shelf over a desk"
  mains = "230 V"
}

strip "cove" { like = catalog.ws2815_12v_60 }

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
  port "a" { pin = 35 }
}

run "cove" {
  strip  = strip.cove
  length = "3 m"
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
