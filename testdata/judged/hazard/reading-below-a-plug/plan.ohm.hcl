# Hazard: 11.9 V before the plug, 10.9 V behind it at 2 A: 0.5 ohm, 2 W in a plug.
# Source: healthy contact 4 mohm (second hand); Ohm's law.
plan "reading-below-a-plug" {
  title = "Reading below a plug"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "1.5 mm2" }
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

joint "j" { like = catalog.screw_plug }

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "a" {
  from   = supply.psu.out
  to     = joint.j
  wire   = wire.feed
  length = "40 cm"
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

reading "before" {
  at    = joint.j
  volts = "11.9 V"
}
reading "behind" {
  at    = run.r.start
  volts = "10.9 V"
}
