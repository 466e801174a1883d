# Hazard: 180 pixels of 17.1 mA and a board of 0.25 A are 3.33 A; the meter shows 4.60 A (1.38): the reel is of another make, and the 5 A fuse carries 4.35 A.
# Source: arithmetic; two strips of one name differ by 1.6 (a board maker's note); meter 1.5 % and 5 digits.
plan "meter-reads-a-third-more" {
  title = "Cove of a waiting room"
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
  port "a" { pin = 18 }
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

reading "at the supply" {
  at    = supply.box.out
  amps  = "4.60 A"
  taken = "2026-03-14"
}
