# Sound: 35 mm2 (86 A, B2, 40 degC) behind an 80 A fuse (0.93, the next size below).
# Source: IEC 60204-1 Table 6 B2 (from memory); In <= Iz.
plan "trunk-35mm2" {
  title   = "Trunk 35mm2"
  mains   = "230 V"
  ambient = "40 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" {
  gauge           = "35 mm2"
  max_temperature = "70 degC"
}
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "100 A"
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
  rating     = "150 A"
  gauges     = ["20 AWG", "4/0 AWG"]
  resistance = "0.2 mohm"
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
  fuse   = "80 A"
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
