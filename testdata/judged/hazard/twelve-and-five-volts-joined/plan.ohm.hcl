# Hazard: a 5 V supply and a 12 V supply on one plus.
# Source: common practice, no source.
plan "twelve-and-five-volts-joined" {
  title = "Twelve and five volts joined"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "5 A"
  input  = ["230 V"]
}
supply "psu2" {
  output = "5 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

joint "bar" { like = catalog.lever_joint_5 }

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "a" {
  from   = supply.psu.out
  to     = joint.bar
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "b" {
  from   = supply.psu2.out
  to     = joint.bar
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "c" {
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
