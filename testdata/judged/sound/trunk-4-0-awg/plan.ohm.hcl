# Sound: 4/0 AWG (230 A, 75 degC) behind a 218 A setting (0.95).
# Source: NFPA 70 Table 310.16, 75 degC column; In <= Iz.
plan "trunk-4-0-awg" {
  title   = "Trunk 4 0 awg"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" {
  gauge           = "4/0 AWG"
  max_temperature = "75 degC"
}
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "300 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

joint "bar" {
  kind       = "busbar"
  ways       = 6
  rating     = "400 A"
  gauges     = ["20 AWG", "4/0 AWG"]
  resistance = "0.1 mohm"
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.bar
  wire   = wire.trunk
  length = "5 m"
  fuse   = "218 A"
}
lead "tap" {
  from   = joint.bar
  to     = run.r.start
  wire   = wire.feed
  length = "40 cm"
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
