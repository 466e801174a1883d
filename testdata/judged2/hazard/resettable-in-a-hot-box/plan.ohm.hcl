# Hazard: 114 pixels take 1.95 A; a resettable fuse of 2.5 A holds 0.74 x 2.5 = 1.85 A at 50 degC (1.05) and trips by itself.
# Source: typical thermal derating of a PTC, 74 % at 50 degC (from memory).
plan "resettable-in-a-hot-box" {
  title   = "Show case under warm lamps"
  mains   = "230 V"
  ambient = "50 degC"
}

strip "case" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

holder "ptc" {
  kind    = "resettable"
  voltage = "16 V"
}

supply "box" {
  output      = "12 V"
  rating      = "6 A"
  input       = ["230 V"]
  derate_from = "55 degC"
  derate      = "2.5 %/degC"
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "case" {
  strip  = strip.case
  pixels = 114
}

lead "case" {
  from   = supply.box.out
  to     = run.case.start
  wire   = wire.feed
  length = "60 cm"
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

signal "case" {
  from   = controller.brain.port.a
  to     = run.case.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.case] }
