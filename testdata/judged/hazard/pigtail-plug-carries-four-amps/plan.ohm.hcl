# Hazard: a 3 A pigtail plug carries 4.1 A of two metres at 120 pixels a metre.
# Source: common practice, no source.
plan "pigtail-plug-carries-four-amps" {
  title = "Pigtail plug carries four amps"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like    = catalog.ws2815_12v_60
  density = "120/m"
}

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

joint "plug" {
  like   = catalog.pigtail_plug_2
  gauges = ["28 AWG", "18 AWG"]
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "a" {
  from   = supply.psu.out
  to     = joint.plug
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "b" {
  from   = joint.plug
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
