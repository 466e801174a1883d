# Hazard: plus of 2.5 mm2 behind 7.5 A, its minus of 0.5 mm2 (5 A).
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "thin-minus-beside-thick-plus" {
  title = "Thin minus beside thick plus"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "p" { gauge = "2.5 mm2" }
wire "m" { gauge = "0.5 mm2" }
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

lead "plus" {
  from    = supply.psu.out
  to      = run.r.start
  wire    = wire.p
  length  = "1 m"
  fuse    = "7.5 A"
  carries = "plus"
}
lead "minus" {
  from    = supply.psu.out
  to      = run.r.start
  wire    = wire.m
  length  = "1 m"
  carries = "minus"
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
