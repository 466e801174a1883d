# Hazard: a 5 A barrel plug behind a 7.5 A fuse that wire and strip can stand; a part fault heats the plug.
# Source: common practice, no source.
plan "barrel-plug-behind-7-5-amps" {
  title = "Barrel plug behind 7 5 amps"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "16 AWG" }
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

joint "plug" { like = catalog.barrel_plug_2_1 }

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "a" {
  from   = supply.psu.out
  to     = joint.plug
  wire   = wire.feed
  length = "1 m"
  fuse   = "7.5 A"
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
