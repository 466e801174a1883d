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

supply "left" {
  output = "24 V"
  rating = "8.5 A"
  input  = ["230 V"]
  on     = surface.ceiling
  at     = ["60 cm", "60 cm"]
}

supply "right" {
  like = supply.left
  at   = ["580 cm", "60 cm"]
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

joint "left" {
  like = catalog.barrier_terminal_6
  on   = surface.ceiling
  at   = ["40 cm", "40 cm"]
}

joint "right" {
  like = joint.left
  at   = ["600 cm", "40 cm"]
}

usual "run" {
  strip    = strip.cove
  diffuser = catalog.channel_deep
  fixing   = catalog.channel_clip
  on       = surface.ceiling
  insert   = "slit"
}

run "left" { through = [["20 cm", "420 cm"], ["20 cm", "20 cm"]] }
run "back-left" { through = [["20 cm", "20 cm"], ["320 cm", "20 cm"]] }
run "back-right" { through = [["320 cm", "20 cm"], ["620 cm", "20 cm"]] }
run "right" { through = [["620 cm", "20 cm"], ["620 cm", "420 cm"]] }

lead "left" {
  from = supply.left.out
  to   = joint.left
  wire = wire.trunk
  fuse = "7.5 A"
}

lead "right" {
  like = lead.left
  from = supply.right.out
  to   = joint.right
}

# The minuses are tied for the data; the pluses of the two supplies never meet.
lead "tie" {
  from    = joint.left
  to      = joint.right
  wire    = wire.trunk
  carries = "minus"
}

lead "board" {
  from = supply.left.out
  to   = controller.cove.power
  wire = wire.feed
  fuse = "1 A"
}

feed "left" {
  from = joint.left
  to   = [run.left, run.back-left]
  ends = "both"
  wire = wire.feed
  fuse = "3 A"
}

feed "right" {
  from = joint.right
  to   = [run.back-right, run.right]
  ends = "both"
  wire = wire.feed
  fuse = "3 A"
}

chain "cove" {
  from = controller.cove.port.cove
  runs = [run.left, run.back-left, run.back-right, run.right]
  wire = catalog.awg_22
}

case "dinner" {
  channels = { R = "20 %", W = "80 %" }
  level    = "60 %"
}
