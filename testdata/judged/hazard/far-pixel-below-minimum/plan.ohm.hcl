# Not safe to leave: 19 m of 0.75 mm2 lose 2.84 V, the strip 0.27 V, the fuse 0.05 V: the far pixel gets 8.85 V of the 9 V it needs (drop 1.05 of 3 V).
# Source: IEC 60228 class 5, 26.0 ohm/km; WS2815 sheet 9 V; V = 2 L I R.
plan "far-pixel-below-minimum" {
  title   = "Far pixel below minimum"
  mains   = "230 V"
  ambient = "20 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "7.5 A"
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
  length = "2.5 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.hub
  wire   = wire.feed
  length = "19 m"
  fuse   = "5 A"
}
lead "tap" {
  from   = joint.hub
  to     = run.r.start
  wire   = wire.feed
  length = "10 cm"
}

lead "board" {
  from   = joint.hub
  to     = controller.ctl.power
  wire   = wire.feed
  length = "10 cm"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}

order "all" { runs = [run.r] }

policy { drop = "30 %" }
