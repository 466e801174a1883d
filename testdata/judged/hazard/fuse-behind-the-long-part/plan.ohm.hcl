# Hazard: 5 m of 0.75 mm2 before the fuse, 40 cm behind it.
# Source: IEC 60364-4-43 433.2.2, at most 3 m before the fuse, no branch (from memory).
plan "fuse-behind-the-long-part" {
  title = "Fuse behind the long part"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
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

joint "j" { like = catalog.lever_joint_2 }

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "long" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.feed
  length = "5 m"
}
lead "tap" {
  from   = joint.j
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
