# Fault: 0.7 x 4.95 V = 3.465 V is what a one needs; the board gives 3.3 V (1.05).
# Source: WS2812B sheet, 0.7 VDD.
plan "logic-level-at-trim" {
  title = "Logic level at trim"
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
  trim   = "4.95 V"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  series_resistor = "330 ohm"
  own_power       = true
  port "a" { pin = 4 }
}

run "r" {
  length = "40 cm"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "3 A"
}

lead "minus" {
  from    = supply.psu.out
  to      = controller.ctl.power
  wire    = wire.data
  length  = "30 cm"
  carries = "minus"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}

order "all" { runs = [run.r] }
