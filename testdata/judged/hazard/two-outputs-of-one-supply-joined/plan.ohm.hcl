# Hazard: two outputs, limited separately, in parallel on one strip.
# Source: common practice, no source.
plan "two-outputs-of-one-supply-joined" {
  title = "Two outputs of one supply joined"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output  = "12 V"
  rating  = "5 A"
  input   = ["230 V"]
  outputs = 2
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

lead "a" {
  from   = supply.psu.out[1]
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}
lead "b" {
  from   = supply.psu.out[2]
  to     = run.r.end
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
