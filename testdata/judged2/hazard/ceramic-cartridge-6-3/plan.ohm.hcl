# Hazard: a 6.3 A sand-filled cartridge may hold 2.1 x 6.3 = 13.2 A; wire good for 8.7 A wants at most 0.69 x 8.7 = 6.0 A (1.05).
# Source: IEC 60127-2 gates (2.1 In for up to 30 min) with IEC 60364-4-43 433.1, I2 <= 1.45 Iz: In <= 0.69 Iz.
plan "ceramic-cartridge-6-3" {
  title = "Cove over the counter of a pharmacy"
  mains = "230 V"
}

strip "cove" {
  like         = catalog.ws2815_12v_60
  rail         = "0.0246 ohm/m"
  rail_current = "10 A"
  source       = "two layers of 70 um x 5 mm, 0.01724 / (2 x 0.070 x 5)"
}

wire "feed" {
  gauge    = "1.0 mm2"
  ampacity = "8.7 A"
  source   = "sheet of the cable, laid in insulation"
}

wire "data" { gauge = "22 AWG" }

holder "cartridge" {
  kind       = "ceramic"
  voltage    = "60 V"
  rating     = "10 A"
  resistance = "5 mohm"
}

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

run "cove" {
  strip  = strip.cove
  length = "3.5 m"
}

lead "cove" {
  from   = supply.box.out
  to     = run.cove.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "6.3 A"
  holder = holder.cartridge
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
