# Hazard: a 0.75 mm2 tap hangs unfused on a 35 mm2 trunk behind 80 A.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "35mm2-trunk-bare-tap" {
  title = "35mm2 trunk bare tap"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" { gauge = "35 mm2" }
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
  kind   = "busbar"
  ways   = 4
  rating = "150 A"
  gauges = ["20 AWG", "4/0 AWG"]
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
