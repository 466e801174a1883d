# Hazard: a 3.15 A fuse of IEC 60127 may hold 2.1 x its rating; wire of 4.35 A needs In <= 0.69 Iz = 3.0 A (1.05).
# Source: IEC 60127-2 gates with 433.1 I2 <= 1.45 Iz: In <= 0.69 Iz.
plan "time-lag-fuse-5x20" {
  title   = "Time lag fuse 5x20"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" {
  gauge           = "0.5 mm2"
  ampacity        = "4.35 A"
  max_temperature = "70 degC"
}

wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
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
  fuse   = "3.15 A"
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
