# Sound: 28.6 m of 1.5 mm2 lose 0.87 V at 1.12 A, the strip 0.19 V, the fuse 0.08 V: 1.14 V of the 1.2 V that the plan allows (0.95).
# Source: IEC 60364-7-715, 5 % (from memory); IEC 60228 class 5, 13.3 ohm/km; V = 2 L I R.
plan "long-lead-to-the-gable" {
  title = "Gable lamp of a barn, supply at the house"
  mains = "230 V"
}

policy { drop = "5 %" }

strip "gable" { like = catalog.ws2811_24v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "board" { gauge = "0.75 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "24 V"
  rating = "4 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "24 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "gable" {
  strip  = strip.gable
  length = "2 m"
}

lead "gable" {
  from   = supply.box.out
  to     = run.gable.start
  wire   = wire.feed
  length = "28.6 m"
  fuse   = "2 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.board
  length = "28.6 m"
  fuse   = "1 A"
}

signal "gable" {
  from   = controller.brain.port.a
  to     = run.gable.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.gable] }
