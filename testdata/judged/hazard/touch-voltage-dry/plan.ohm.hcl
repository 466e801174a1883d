# Hazard: 63 V DC on open strip; 60 V DC is the limit in the dry (1.05). The supply's own limit protects the wire.
# Source: IEC 60364-4-41 SELV 60 V DC (from memory); IEC 62368-1 ES1 60 V.
plan "touch-voltage-dry" {
  title = "Touch voltage dry"
  mains = "230 V"
  rate  = "30 Hz"
}

strip "s" {
  like        = catalog.ws2815_12v_60
  voltage     = "63 V"
  max_voltage = "70 V"
  min_voltage = "45 V"
  series      = 12
  group       = 12
  cut         = 12
  stack       = "parallel"
}

wire "feed" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output = "63 V"
  rating = "1.5 A"
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
}

lead "minus" {
  from    = supply.psu.out
  to      = controller.ctl.power
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}

order "all" { runs = [run.r] }
