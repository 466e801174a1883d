# Hazard: a 24 AWG minus from board to strip beside the data; with the feed's minus loose the strip's 4 A come back through it and the board's minus.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "board-minus-as-second-return" {
  title = "Board minus as second return"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "1.5 mm2" }
wire "tie" { gauge = "24 AWG" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "4 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "7.5 A"
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

lead "tie" {
  from    = controller.ctl.power
  to      = run.r.start
  wire    = wire.tie
  length  = "60 cm"
  carries = "minus"
}
