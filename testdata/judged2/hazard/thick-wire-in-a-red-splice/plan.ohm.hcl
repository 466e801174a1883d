# Hazard: a red butt splice takes 22 to 16 AWG (0.33 to 1.3 mm2); 2.5 mm2 does not go in unless strands are cut off, and then it runs hot.
# Source: usual colour code of insulated butt splices (from memory).
plan "thick-wire-in-a-red-splice" {
  title = "Lead lengthened behind a cupboard"
  mains = "230 V"
}

strip "cove" { like = catalog.ws2815_12v_60 }

wire "long" { gauge = "2.5 mm2" }

wire "tap" { gauge = "1.0 mm2" }

wire "data" { gauge = "22 AWG" }

joint "splice" { like = catalog.crimp_splice_red }

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
  length = "3 m"
}

lead "long" {
  from   = supply.box.out
  to     = joint.splice
  wire   = wire.long
  length = "4 m"
  fuse   = "5 A"
}

lead "tap" {
  from   = joint.splice
  to     = run.cove.start
  wire   = wire.tap
  length = "30 cm"
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
