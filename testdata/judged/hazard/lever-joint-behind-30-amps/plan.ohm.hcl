# Hazard: a 20 A lever joint in a trunk behind 30 A; the eight taps behind it may take 3 A each, 24 A together.
# Source: common practice, no source.
plan "lever-joint-behind-30-amps" {
  title = "Lever joint behind 30 amps"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" { gauge = "10 AWG" }
wire "tap" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "30 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

joint "mid" {
  like   = catalog.lever_joint_2
  gauges = ["24 AWG", "10 AWG"]
}
joint "bar" { like = catalog.bus_bar_12 }

run "r" {
  length = "2 m"
  times  = 8
  strip  = strip.s
}

lead "near" {
  from   = supply.psu.out
  to     = joint.mid
  wire   = wire.trunk
  length = "1 m"
  fuse   = "30 A"
}
lead "rest" {
  from   = joint.mid
  to     = joint.bar
  wire   = wire.trunk
  length = "2 m"
}
lead "tap" {
  from   = joint.bar
  to     = run.r-each.start
  wire   = wire.tap
  length = "60 cm"
  fuse   = "3 A"
  times  = 8
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
  to     = run.r-1.start
  wire   = wire.data
  length = "60 cm"
}
signal "d2" {
  from   = run.r-each.end
  to     = run.r-next.start
  wire   = wire.data
  length = "15 cm"
  times  = 7
}

order "all" { runs = [run.r-all] }
