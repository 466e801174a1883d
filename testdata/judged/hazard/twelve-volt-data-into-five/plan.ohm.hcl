# Hazard: a 12 V buffer drives pixels of 5 V; the input stands the chip's supply and 0.5 V.
# Source: WS2812B sheet, input at most VDD + 0.5 V (from memory).
plan "twelve-volt-data-into-five" {
  title = "Twelve volt data into five"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "5 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  buffer          = "12 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "60 cm"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "50 cm"
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
