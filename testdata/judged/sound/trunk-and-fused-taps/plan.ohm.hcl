# Sound: 2.5 mm2 (17 A) behind 10 A, taps behind 3 A.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "trunk-and-fused-taps" {
  title = "Trunk and fused taps"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" { gauge = "2.5 mm2" }
wire "feed" { gauge = "0.75 mm2" }
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

joint "j" { like = catalog.lever_joint_3 }

run "r" {
  length = "2 m"
  strip  = strip.s
}
run "r2" {
  length = "2 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.trunk
  length = "3 m"
  fuse   = "10 A"
}
lead "t1" {
  from   = joint.j
  to     = run.r.start
  wire   = wire.feed
  length = "40 cm"
  fuse   = "3 A"
}
lead "t2" {
  from   = joint.j
  to     = run.r2.start
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
signal "d2" {
  from   = run.r.end
  to     = run.r2.start
  wire   = wire.data
  length = "15 cm"
}

order "all" { runs = [run.r, run.r2] }
