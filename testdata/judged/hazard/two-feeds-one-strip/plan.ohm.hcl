# Hazard: fed at both ends behind 5 A fuses; the strip's copper is good for 4.76 A (1.05) on either side of a fault.
# Source: IEC 60364-4-43 433.1 for the strip as conductor (from memory).
plan "two-feeds-one-strip" {
  title = "Two feeds one strip"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like         = catalog.ws2815_12v_60
  rail_current = "4.76 A"
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

run "r" {
  length = "4 m"
  strip  = strip.s
}

lead "f1" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "f2" {
  from   = supply.psu.out
  to     = run.r.end
  wire   = wire.feed
  length = "4 m"
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
