# Hazard: 144 pixels a metre at 61 mA and 5 V are 44 W/m in a tube for 12.5 W/m.
# Source: tube's sheet; channel advised above 10 W/m: common practice, no source.
plan "dense-strip-in-a-tube" {
  title = "Dense strip in a tube"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2812b_5v_144 }
wire "feed" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length   = "40 cm"
  diffuser = diffuser.t
  strip    = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "40 cm"
  fuse   = "5 A"
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

diffuser "t" { like = catalog.silicone_tube_top_16x16 }
