# Sound: 1.5 mm2 (13 A at 40 degC) carries still 10.53 A at 50.3 degC, behind a 10 A fuse.
# Source: IEC 60204-1 Table 6 B2 and its ambient factors, sqrt((70-T)/30); IEC 60364-4-43 433.1 (from memory).
plan "hot-loft-metric-lead" {
  title   = "Hot loft metric lead"
  mains   = "230 V"
  ambient = "50.3 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" {
  gauge           = "1.5 mm2"
  insulation      = "PVC"
  max_temperature = "70 degC"
}
wire "tap" {
  gauge           = "0.75 mm2"
  max_temperature = "105 degC"
}

wire "data" {
  gauge           = "22 AWG"
  max_temperature = "105 degC"
}

supply "psu" {
  output      = "12 V"
  rating      = "12.5 A"
  input       = ["230 V"]
  derate_from = "60 degC"
  derate      = "3 %/degC"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

joint "hub" { like = catalog.lever_joint_3 }

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
  to     = joint.hub
  wire   = wire.trunk
  length = "3 m"
  fuse   = "10 A"
}
lead "tap" {
  from   = joint.hub
  to     = run.r.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "3 A"
}
lead "tap2" {
  from   = joint.hub
  to     = run.r2.start
  wire   = wire.tap
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
