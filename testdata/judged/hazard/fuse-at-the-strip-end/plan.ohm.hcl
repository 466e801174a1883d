# Hazard: the fuse sits at the strip's end of the lead; the lead itself hangs bare on 30 A.
# Source: IEC 60364-4-43 433.2, device at the start of the lead (from memory).
plan "fuse-at-the-strip-end" {
  title = "Fuse at the strip end"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "30 A"
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
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = run.r.start
  to     = supply.psu.out
  wire   = wire.feed
  length = "4 m"
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
