# Hazard: three pairs bunched, factor 0.70: 10.2 A x 0.70 = 7.14 A behind 7.5 A fuses (1.05).
# Source: IEC 60364-5-52 B.52.17, three circuits 0.70; 433.1 (from memory).
plan "three-feeds-in-one-conduit" {
  title   = "Three feeds in one conduit"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" {
  gauge           = "1.5 mm2"
  ampacity        = "10.2 A"
  max_temperature = "70 degC"
}

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
  length = "2 m"
  strip  = strip.s
}
run "r2" {
  length = "2 m"
  strip  = strip.s
}
run "r3" {
  length = "2 m"
  strip  = strip.s
}

lead "f1" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "7.5 A"
}
lead "f2" {
  from   = supply.psu.out
  to     = run.r2.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "7.5 A"
  within = lead.f1
}
lead "f3" {
  from   = supply.psu.out
  to     = run.r3.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "7.5 A"
  within = lead.f1
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
signal "d2" {
  from   = run.r.end
  to     = run.r2.start
  wire   = wire.data
  length = "15 cm"
}
signal "d3" {
  from   = run.r2.end
  to     = run.r3.start
  wire   = wire.data
  length = "15 cm"
}

order "all" { runs = [run.r, run.r2, run.r3] }
