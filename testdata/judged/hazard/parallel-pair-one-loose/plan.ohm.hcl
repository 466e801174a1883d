# Hazard: two conductors share a 7.5 A fuse; when one works loose the other, good for 7.14 A, carries all (1.05).
# Source: IEC 60364-4-43 433.1 with 433.4, a conductor of a parallel set alone (from memory).
plan "parallel-pair-one-loose" {
  title   = "Parallel pair one loose"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" {
  gauge           = "1.0 mm2"
  ampacity        = "7.14 A"
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

lead "feed" {
  from     = supply.psu.out
  to       = run.r.start
  wire     = wire.feed
  length   = "3 m"
  fuse     = "7.5 A"
  parallel = 2
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
