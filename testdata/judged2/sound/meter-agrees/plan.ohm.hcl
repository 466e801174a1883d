# Sound: the meter shows 3.35 A where 180 pixels of 17.1 mA and a board are 3.33 A, and 11.46 V at the far end where lead 0.08 V, fuse 0.07 V and strip 0.38 V leave 11.47 V.
# Source: V = 2 L I R, IEC 60228 class 5, 13.3 ohm/km; cold resistance of a 5 A blade 18 mohm (second hand).
plan "meter-agrees" {
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
  amps  = "3.35 A"
  taken = "2026-03-14"
}

reading "far end" {
  at    = run.cove.end
  volts = "11.46 V"
  taken = "2026-03-14"
}
