# Hazard: 22 AWG (3 A) taps hang unfused on a bar behind 30 A.
# Source: IEC 60364-4-43 433.1, In <= Iz (from memory).
plan "bare-taps-on-a-bus-bar" {
  title = "Bare taps on a bus bar"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "trunk" { gauge = "10 AWG" }
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

joint "bar" {
  like   = catalog.bus_bar_4
  gauges = ["22 AWG", "8 AWG"]
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "trunk" {
  from   = supply.psu.out
  to     = joint.bar
  wire   = wire.trunk
  length = "2 m"
  fuse   = "30 A"
}
lead "tap" {
  from   = joint.bar
  to     = run.r.start
  wire   = wire.data
  length = "40 cm"
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
