# Hazard: a 7.5 A fuse exists as a blade only (32 or 58 V); here it breaks 72 V DC.
# Source: ISO 8820-3, 32 or 58 V.
plan "car-fuse-on-72-volts" {
  title = "Car fuse on 72 volts"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like        = catalog.ws2815_12v_60
  voltage     = "72 V"
  max_voltage = "80 V"
  min_voltage = "60 V"
  series      = 18
  group       = 18
  cut         = 18
  stack       = "parallel"
}

wire "feed" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "72 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["72 V"]
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
  fuse   = "7.5 A"
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
