# Sound: the run ends 2.85 m from the left edge of a board of 3 m (0.95).
# Source: arithmetic; common practice, no source.
plan "line-longer-than-the-board" {
  title = "Score board of a bowling alley"
  mains = "230 V"
}

strip "line" { like = catalog.ws2815_12v_60 }

diffuser "channel" { like = catalog.channel_deep }

fixing "screw" { like = catalog.channel_screw }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

surface "board" {
  width    = "3 m"
  height   = "1 m"
  material = "plywood"
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

run "line" {
  strip    = strip.line
  diffuser = diffuser.channel
  fixing   = fixing.screw
  insert   = "slit"
  on       = surface.board
  through  = [["15 cm", "50 cm"], ["2.85 m", "50 cm"]]
}

lead "line" {
  from   = supply.box.out
  to     = run.line.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "line" {
  from   = controller.brain.port.a
  to     = run.line.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.line] }
