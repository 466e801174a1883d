# Hazard: the board has its own supply and no minus to the strip: the data return finds another way.
# Source: common ground (a seller's guide).
plan "no-common-minus" {
  title = "No common minus"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "12 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "ctl" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  own_power       = true
  port "a" { pin = 4 }
}

run "r" {
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "3 A"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}

order "all" { runs = [run.r] }
