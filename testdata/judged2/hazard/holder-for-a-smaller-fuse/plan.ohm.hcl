# Hazard: a holder printed for 4.75 A takes a 5 A fuse (1.05): its contacts are the weakest part.
# Source: common practice, no source: the rating on the holder is the largest fuse in it.
plan "holder-for-a-smaller-fuse" {
  title = "Cornice of a dining room"
  mains = "230 V"
}

strip "cove" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

holder "mini" {
  kind       = "blade"
  voltage    = "32 V"
  rating     = "4.75 A"
  resistance = "5 mohm"
}

supply "box" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "cove" {
  strip  = strip.cove
  length = "3 m"
}

lead "cove" {
  from   = supply.box.out
  to     = run.cove.start
  wire   = wire.feed
  length = "1.2 m"
  fuse   = "5 A"
  holder = holder.mini
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "cove" {
  from   = controller.brain.port.a
  to     = run.cove.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.cove] }
