# Sound: a resettable fuse for 24 V on a supply trimmed to 22.8 V (0.95); the strip is content with 19.7 V.
# Source: the maximum voltage printed for a resettable fuse; common practice, no source.
plan "resettable-24-volts" {
  title = "Picture rail in the reading room"
  mains = "230 V"
}

strip "rail" { like = catalog.ws2811_24v_60 }

wire "feed" { gauge = "1.0 mm2" }

wire "data" { gauge = "22 AWG" }

holder "ptc" {
  kind    = "resettable"
  voltage = "24 V"
}

supply "box" {
  output = "24 V"
  rating = "4 A"
  input  = ["230 V"]
  trim   = "22.8 V"
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "24 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "rail" {
  strip  = strip.rail
  length = "2 m"
}

lead "rail" {
  from   = supply.box.out
  to     = run.rail.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "2.5 A"
  holder = holder.ptc
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "rail" {
  from   = controller.brain.port.a
  to     = run.rail.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.rail] }
