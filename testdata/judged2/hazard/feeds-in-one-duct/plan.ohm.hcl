# Hazard: five feeds bunched in a duct, factor 0.60: 8 A x 0.60 = 4.8 A behind 5 A fuses (1.04).
# Source: IEC 60364-5-52 B.52.17, bunched: four circuits 0.65, five 0.60; In <= Iz, IEC 60364-4-43 433.1.
plan "feeds-in-one-duct" {
  title = "Bays of a library, feeds in one duct"
  mains = "230 V"
}

strip "bay" { like = catalog.ws2815_12v_60 }

wire "feed" {
  gauge    = "1.0 mm2"
  cores    = 2
  ampacity = "8 A"
  source   = "sheet of the cable: 8 A for one alone in a duct"
}

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "30 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "bay" {
  strip  = strip.bay
  times  = 5
  length = "3 m"
}

lead "first" {
  from   = supply.box.out
  to     = run.bay-1.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "5 A"
}

lead "more" {
  from   = supply.box.out
  to     = run.bay-next.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "5 A"
  within = lead.first
  times  = 4
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "first" {
  from   = controller.brain.port.a
  to     = run.bay-1.start
  wire   = wire.data
  length = "50 cm"
}

signal "next" {
  from   = run.bay-each.end
  to     = run.bay-next.start
  wire   = wire.data
  length = "30 cm"
  times  = 4
}

order "all" { runs = [run.bay-all] }
