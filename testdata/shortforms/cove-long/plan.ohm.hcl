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

run "left" {
  strip    = strip.cove
  diffuser = catalog.channel_deep
  fixing   = catalog.channel_clip
  on       = surface.ceiling
  insert   = "slit"
  through  = [["20 cm", "420 cm"], ["20 cm", "20 cm"]]
}

run "back-left" {
  like    = run.left
  through = [["20 cm", "20 cm"], ["320 cm", "20 cm"]]
}

run "back-right" {
  like    = run.left
  through = [["320 cm", "20 cm"], ["620 cm", "20 cm"]]
}

run "right" {
  like    = run.left
  through = [["620 cm", "20 cm"], ["620 cm", "420 cm"]]
}

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

lead "left-left" {
  from = joint.left
  to   = run.left.start
  wire = wire.feed
  fuse = "3 A"
}

lead "left-left-end" {
  like = lead.left-left
  to   = run.left.end
}

lead "left-back-left" {
  like = lead.left-left
  to   = run.back-left.start
}

lead "left-back-left-end" {
  like = lead.left-left
  to   = run.back-left.end
}

lead "right-back-right" {
  like = lead.left-left
  from = joint.right
  to   = run.back-right.start
}

lead "right-back-right-end" {
  like = lead.right-back-right
  to   = run.back-right.end
}

lead "right-right" {
  like = lead.right-back-right
  to   = run.right.start
}

lead "right-right-end" {
  like = lead.right-back-right
  to   = run.right.end
}

signal "cove-left" {
  from = controller.cove.port.cove
  to   = run.left.start
  wire = catalog.awg_22
}

signal "cove-back-left" {
  from = run.left.end
  to   = run.back-left.start
  wire = catalog.awg_22
}

signal "cove-back-right" {
  from = run.back-left.end
  to   = run.back-right.start
  wire = catalog.awg_22
}

signal "cove-right" {
  from = run.back-right.end
  to   = run.right.start
  wire = catalog.awg_22
}

order "cove" { runs = [run.left, run.back-left, run.back-right, run.right] }

case "dinner" {
  channels = { R = "20 %", W = "80 %" }
  level    = "60 %"
}
