# Hazard: a resettable fuse that holds 2.5 A trips at 5 A only; wire good for 3.28 A wants at most 0.725 x 3.28 = 2.38 A (1.05).
# Source: trip current 2 x hold from a maker's sheet, with IEC 60364-4-43 433.1, I2 <= 1.45 Iz: hold <= 0.725 Iz.
plan "resettable-holds-too-much" {
  title = "Under the shelf of a workbench"
  mains = "230 V"
}

strip "shelf" { like = catalog.ws2815_12v_60 }

wire "feed" {
  gauge    = "0.5 mm2"
  ampacity = "3.28 A"
  source   = "sheet of the ribbon lead"
}

wire "data" { gauge = "22 AWG" }

holder "ptc" {
  kind    = "resettable"
  voltage = "16 V"
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

run "shelf" {
  strip  = strip.shelf
  length = "1.67 m"
}

lead "shelf" {
  from   = supply.box.out
  to     = run.shelf.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "2.5 A"
  holder = holder.ptc
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "shelf" {
  from   = controller.brain.port.a
  to     = run.shelf.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.shelf] }
