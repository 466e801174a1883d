# Sound: 24 V x 3.96 A = 95 VA, a limited source within 100 VA (0.95).
# Source: NFPA 70 ch. 9 Table 11(B) / IEC 60950-1 Table 2B.
plan "limited-24-volts" {
  title = "Limited 24 volts"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2811_24v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output  = "24 V"
  rating  = "3.96 A"
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

order "all" { runs = [run.r] }
