# Hazard: supply and strip are 4 m and 3 m apart, 5 m as the crow flies; the lead is 4.75 m long (way 1.05 of it).
# Source: Pythagoras; 10 cm a tail, common practice, no source.
plan "lead-shorter-than-its-way" {
  title = "Line high on the wall of a gym"
  mains = "230 V"
}

strip "line" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "2.5 mm2" }

wire "board" { gauge = "0.75 mm2" }

wire "data" { gauge = "22 AWG" }

surface "wall" {
  width    = "8 m"
  height   = "4 m"
  material = "brick"
}

fixing "saddle" { like = catalog.strip_saddle }

supply "box" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
  on     = surface.wall
  at     = ["20 cm", "20 cm"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  on              = surface.wall
  at              = ["3.8 m", "2.9 m"]
  port "a" { pin = 18 }
}

run "line" {
  strip   = strip.line
  fixing  = fixing.saddle
  on      = surface.wall
  through = [["4.2 m", "3.2 m"], ["7.2 m", "3.2 m"]]
}

lead "line" {
  from   = supply.box.out
  to     = run.line.start
  wire   = wire.feed
  length = "4.75 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.board
  length = "4.9 m"
  fuse   = "1 A"
}

signal "line" {
  from   = controller.brain.port.a
  to     = run.line.start
  wire   = wire.data
  length = "80 cm"
}

order "all" { runs = [run.line] }
