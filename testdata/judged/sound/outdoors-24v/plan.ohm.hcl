# Sound: 24 V in the wet, below 30 V, everything IP67.
# Source: NEC contact limit 30 V DC.
plan "outdoors-24v" {
  title = "Outdoors 24v"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like      = catalog.ws2811_24v_60
  enclosure = "IP67"
}

wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output    = "24 V"
  rating    = "5 A"
  input     = ["230 V"]
  enclosure = "IP67"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["24 V"]
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
