# Six shelf edges of a bookcase in warm and coloured light: 5 V, four channels,
# one board with two ports.

plan "bookcase" {
  title = "Bookcase in the study"
  mains = "120 V"
  rate  = "40 Hz"
  note  = "The supply stands behind the plinth; the plinth board is held by two magnets"
}

let {
  shelf = "90 cm"
  gap   = "34 cm"
}

strip "shelf" {
  like            = catalog.sk6812_rgbw_5v_60
  channel_current = "13 mA"
  price           = "29.90 USD"
  source          = "measured on two reels with a bench meter; the rest as the catalogue's entry"
}

diffuser "edge" { like = catalog.channel_deep }
fixing "edge" { like = catalog.channel_clip }

wire "trunk" { gauge = "10 AWG" }
wire "shelf" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

marking {
  plus  = "RD"
  minus = "BK"
  data  = "GN"
}

surface "case" {
  width    = "1 m"
  height   = "2.2 m"
  material = "oak veneer"
}

supply "plinth" {
  output      = "5 V"
  trim        = "5.1 V"
  rating      = "30 A"
  input       = ["120 V", "230 V"]
  selector    = "120 V"
  derate_from = "50 degC"
  derate      = "2.5 %/degC"
  enclosure   = "IP20"
  on          = surface.case
  at          = ["50 cm", "5 cm"]
}

controller "plinth" {
  board           = catalog.esp32_s3_board
  buffer          = "5 V"
  series_resistor = "330 ohm"
  ceiling         = "14 A"
  on              = surface.case
  at              = ["20 cm", "5 cm"]
  port "lower" { pin = 4 }
  port "upper" { pin = 5 }
}

joint "hub" {
  like = catalog.bus_bar_8
  on   = surface.case
  at   = ["4 cm", "20 cm"]
}

lead "trunk" {
  from = supply.plinth.out
  to   = joint.hub
  wire = wire.trunk
  fuse = "30 A"
}

lead "board" {
  from = supply.plinth.out
  to   = controller.plinth.power
  wire = wire.data
  fuse = "1 A"
}

run "shelf" {
  times    = 6
  strip    = strip.shelf
  diffuser = diffuser.edge
  fixing   = fixing.edge
  on       = surface.case
  insert   = "slit"
  through  = [["5 cm", "30 cm"], ["95 cm", "30 cm"]]
  shift    = ["0 cm", let.gap]
}

lead "shelf" {
  times = 6
  from  = joint.hub
  to    = run.shelf-each.start
  wire  = wire.shelf
  fuse  = "5 A"
}

signal "lower" {
  from   = controller.plinth.port.lower
  to     = run.shelf-1.start
  wire   = wire.data
  length = "60 cm"
}

signal "upper" {
  from   = controller.plinth.port.upper
  to     = run.shelf-4.start
  wire   = wire.data
  length = "1.6 m"
}

signal "lower-2" {
  from   = run.shelf-1.end
  to     = run.shelf-2.start
  wire   = wire.data
  length = "1.3 m"
}

signal "lower-3" {
  from   = run.shelf-2.end
  to     = run.shelf-3.start
  wire   = wire.data
  length = "1.3 m"
}

signal "upper-2" {
  from   = run.shelf-4.end
  to     = run.shelf-5.start
  wire   = wire.data
  length = "1.3 m"
}

signal "upper-3" {
  from   = run.shelf-5.end
  to     = run.shelf-6.start
  wire   = wire.data
  length = "1.3 m"
}

order "case" { runs = [run.shelf-all] }

case "reading" {
  channels = { R = "20 %", W = "100 %" }
  level    = "60 %"
}

case "party" { color = "#ff2080" }
