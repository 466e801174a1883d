# Hazard: 31.5 V DC on strip in a wet place; bare parts may have 30 V (1.05).
# Source: NEC low-voltage contact limit 30 V DC; IEC 60364-4-41 30 V DC outside dry places (from memory).
plan "touch-voltage-in-the-wet" {
  title = "Touch voltage in the wet"
  mains = "230 V"
  rate  = "30 Hz"

  exposure = "wet"
}

strip "s" {
  like        = catalog.ws2815_12v_60
  voltage     = "30 V"
  max_voltage = "36 V"
  min_voltage = "24 V"
  series      = 6
  group       = 6
  cut         = 6
  enclosure   = "IP67"
}

wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output    = "30 V"
  rating    = "5 A"
  input     = ["230 V"]
  trim      = "31.5 V"
  enclosure = "IP67"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["30 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.psu.out
  to     = controller.ctl.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}

order "all" { runs = [run.r] }
