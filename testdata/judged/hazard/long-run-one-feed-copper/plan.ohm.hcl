# Hazard: 3 m of WS2812B draw 11 A through copper for 5 A at its one feed.
# Source: strip's sheet in the catalogue, IPC-2221 (from memory).
plan "long-run-one-feed-copper" {
  title = "Long run one feed copper"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "2.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "5 V"
  rating = "20 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
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
  length = "50 cm"
  fuse   = "15 A"
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
