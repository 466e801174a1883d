# Hazard: the tube wants 80 mm and is bent to 76 mm (1.05): copper and solder crack and heat.
# Source: tube's sheet in the catalogue; common practice, no source.
plan "tube-bent-too-tight" {
  title = "Tube bent too tight"
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
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  strip    = strip.s
  diffuser = diffuser.t
  insert   = "cord"
  path {
    start = ["0 cm", "0 cm"]
    line { to = ["0 mm", "800 mm"] }
    arc {
      to     = ["152 mm", "800 mm"]
      radius = "76 mm"
      turn   = "right"
    }
    line { to = ["152 mm", "0 mm"] }
  }
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

diffuser "t" { like = catalog.silicone_tube_side_12x20 }
