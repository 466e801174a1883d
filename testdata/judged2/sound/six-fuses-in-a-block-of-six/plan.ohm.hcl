# Sound: six leads name one fuse block of six ways.
# Source: the print on the block; common practice, no source.
plan "six-fuses-in-a-block-of-six" {
  title = "Five lines from one fuse block"
  mains = "230 V"
}

strip "line" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

holder "block" { like = catalog.blade_block_6 }

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

run "line" {
  strip  = strip.line
  times  = 5
  length = "3 m"
}

lead "line" {
  from   = supply.box.out
  to     = run.line-each.start
  wire   = wire.feed
  length = "2 m"
  fuse   = "5 A"
  holder = holder.block
  times  = 5
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
  holder = holder.block
}

signal "first" {
  from   = controller.brain.port.a
  to     = run.line-1.start
  wire   = wire.data
  length = "50 cm"
}

signal "next" {
  from   = run.line-each.end
  to     = run.line-next.start
  wire   = wire.data
  length = "30 cm"
  times  = 4
}

order "all" { runs = [run.line-all] }
