# Hazard: 2 A should lose 0.2 V up to the strip; the meter finds 10.6 V: a joint burns 2.5 W.
# Source: healthy contacts 4 mohm, bad splices 0.5-0.7 V at one point (a splice study, second hand).
plan "reading-betrays-a-hot-joint" {
  title = "Reading betrays a hot joint"
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

lead "a" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "b" {
  from   = joint.j
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

reading "strip" {
  at    = run.r.start
  volts = "10.6 V"
  taken = "2026-03-04"
}
