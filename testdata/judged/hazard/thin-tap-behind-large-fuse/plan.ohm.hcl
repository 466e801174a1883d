# Hazard: a tap good for 7.14 A hangs unfused behind a 7.5 A fuse (1.05 of its ampacity); a fault in it is not cleared.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "thin-tap-behind-large-fuse" {
  title   = "Thin tap behind large fuse"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" { gauge = "2.5 mm2" }
wire "tap" {
  gauge           = "0.75 mm2"
  ampacity        = "7.14 A"
  max_temperature = "105 degC"
}

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

joint "hub" { like = catalog.lever_joint_3 }

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.hub
  wire   = wire.trunk
  length = "3 m"
  fuse   = "7.5 A"
}
lead "tap" {
  from   = joint.hub
  to     = run.r.start
  wire   = wire.tap
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
