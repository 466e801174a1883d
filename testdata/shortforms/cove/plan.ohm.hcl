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

surface "ceiling" {
  width    = "6.4 m"
  height   = "4.4 m"
  material = "painted plasterboard"
}

controller "cove" {
  board           = catalog.esp32_devkit
  input_voltage   = "24 V" # its carrier has a step-down converter
  buffer          = "5 V"
  series_resistor = "330 ohm"
  at              = ["40 cm", "400 cm"]
  port "cove" { pin = 18 }
}

usual "run" "supply" "controller" "joint" "lead" {
  strip    = strip.cove
  diffuser = catalog.channel_deep
  fixing   = catalog.channel_clip
  on       = surface.ceiling
  insert   = "slit"
  wire     = catalog.mm2_1_5
}

assembly "left" {
  supply "half" {
    output = "24 V"
    rating = "8.5 A"
    input  = "230 V"
    at     = ["60 cm", "60 cm"]
  }
  joint "half" {
    like = catalog.barrier_terminal_6
    at   = ["40 cm", "40 cm"]
  }
  runs {
    side = [["20 cm", "420 cm"], ["20 cm", "20 cm"]]
    back = [["20 cm", "20 cm"], ["320 cm", "20 cm"]]
  }
  lead "trunk" {
    from = supply.half.out
    to   = joint.half
    wire = catalog.mm2_2_5
    fuse = "7.5 A"
  }
  feed "strip" {
    from = joint.half
    to   = run.all
    ends = "both"
    fuse = "3 A"
  }
}

# The data goes on round the room: into the right half at its middle.
assembly "right" {
  like   = assembly.left
  at     = ["640 cm", "0 cm"]
  mirror = "left-right"
}

# The minuses are tied for the data; the pluses of the two supplies never meet.
lead "tie" {
  from    = joint.left-half
  to      = joint.right-half
  carries = "minus"
}

lead "board" {
  from = supply.left-half.out
  to   = controller.cove.power
  fuse = "1 A"
}

chain "cove" {
  from = controller.cove.port.cove
  runs = [assembly.left, from_end(assembly.right)]
  wire = catalog.awg_22
}

case "dinner" {
  channels = { R = "20 %", W = "80 %" }
  level    = "60 %"
}
