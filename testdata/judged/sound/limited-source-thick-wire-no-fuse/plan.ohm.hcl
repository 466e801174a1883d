# Sound: limited source (at most 8 A) on 1.5 mm2 (13 A) without a fuse.
# Source: IEC 60950-1 Table 2B.
plan "limited-source-thick-wire-no-fuse" {
  title = "Limited source thick wire no fuse"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like         = catalog.ws2811_24v_60
  rail         = "0.041 ohm/m"
  rail_current = "9 A"
}

wire "feed" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output  = "24 V"
  rating  = "3.8 A"
  input   = ["230 V"]
  limited = true
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["24 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "3 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
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
