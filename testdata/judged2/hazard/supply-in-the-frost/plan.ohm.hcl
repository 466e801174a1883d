# Hazard: the place falls to -21 degC; the supply starts down to -20 degC (1.05).
# Source: supply's sheet; common practice, no source.
plan "supply-in-the-frost" {
  title   = "Nave of an unheated chapel"
  mains   = "230 V"
  coldest = "-21 degC"
}

strip "nave" { like = catalog.ws2815_12v_60 }

wire "feed" { like = catalog.awg_16_silicone }

wire "data" { like = catalog.awg_22_silicone }

supply "box" {
  output          = "12 V"
  rating          = "10 A"
  input           = ["230 V"]
  min_temperature = "-20 degC"
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "nave" {
  strip  = strip.nave
  length = "3 m"
}

lead "nave" {
  from   = supply.box.out
  to     = run.nave.start
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

signal "nave" {
  from   = controller.brain.port.a
  to     = run.nave.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.nave] }
