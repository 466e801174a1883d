# A cove of 14 m round three sides of a dining room in aluminium channel, lit warm for
# the evening: two supplies share it, half each, and one board sends the data all along.

plan "cove" {
  title    = "Cove in the dining room"
  mains    = "230 V"
  exposure = "dry"
  occupied = true
  rate     = "40 Hz"
}

policy { drop = "5 %" }

strip "cove" {
  like  = catalog.ws2814_24v_60
  price = "46 EUR"
}

wire "trunk" { gauge = "2.5 mm2" }
wire "feed" { gauge = "1.5 mm2" }

surface "ceiling" {
  width    = "6.4 m"
  height   = "4.4 m"
  material = "painted plasterboard"
}

controller "cove" {
  board           = catalog.esp32_devkit
  input_voltage   = ["24 V"] # its carrier has a step-down converter
  buffer          = "5 V"
  series_resistor = "330 ohm"
  on              = surface.ceiling
  at              = ["40 cm", "400 cm"]
  port "cove" { pin = 18 }
}

usual "run" {
  strip    = strip.cove
  diffuser = catalog.channel_deep
  fixing   = catalog.channel_clip
  on       = surface.ceiling
  insert   = "slit"
}

assembly "left" {
  supply "half" {
    output = "24 V"
    rating = "8.5 A"
    input  = ["230 V"]
    on     = surface.ceiling
    at     = ["60 cm", "60 cm"]
  }
  joint "half" {
    like = catalog.barrier_terminal_6
    on   = surface.ceiling
    at   = ["40 cm", "40 cm"]
  }
  run "side" { through = [["20 cm", "420 cm"], ["20 cm", "20 cm"]] }
  run "back" { through = [["20 cm", "20 cm"], ["320 cm", "20 cm"]] }
  lead "trunk" {
    from = supply.half.out
    to   = joint.half
    wire = wire.trunk
    fuse = "7.5 A"
  }
  feed "strip" {
    from = joint.half
    to   = [run.side, run.back]
    ends = "both"
    wire = wire.feed
    fuse = "3 A"
  }
}

# The data goes on round the room: into the right half at its middle.
assembly "right" {
  like   = assembly.left
  at     = ["640 cm", "0 cm"]
  mirror = "left-right"
  run "side" { data_enters = "end" }
  run "back" { data_enters = "end" }
}

# The minuses are tied for the data; the pluses of the two supplies never meet.
lead "tie" {
  from    = joint.left-half
  to      = joint.right-half
  wire    = wire.trunk
  carries = "minus"
}

lead "board" {
  from = supply.left-half.out
  to   = controller.cove.power
  wire = wire.feed
  fuse = "1 A"
}

chain "cove" {
  from = controller.cove.port.cove
  runs = [assembly.left, from_end(run.right-back), from_end(run.right-side)]
  wire = catalog.awg_22
}

case "dinner" {
  channels = { R = "20 %", W = "80 %" }
  level    = "60 %"
}
