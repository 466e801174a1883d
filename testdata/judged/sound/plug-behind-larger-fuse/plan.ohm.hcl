# Sound: a plug rated 10.5 A behind a 10 A fuse (0.95).
# Source: common practice, no source: what stands behind a fuse carries its rating.
plan "plug-behind-larger-fuse" {
  title = "Plug behind larger fuse"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like         = catalog.ws2815_12v_60
  rail_current = "12 A"
}

wire "trunk" { gauge = "2.5 mm2" }
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

joint "plug" {
  kind       = "plug"
  ways       = 2
  rating     = "10.5 A"
  gauges     = ["18 AWG", "12 AWG"]
  resistance = "2 mohm"
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.plug
  wire   = wire.trunk
  length = "2 m"
  fuse   = "10 A"
}
lead "tap" {
  from   = joint.plug
  to     = run.r.start
  wire   = wire.trunk
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
