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

supply "left-half" {
  output = "24 V"
  rating = "8.5 A"
  input  = ["230 V"]
  on     = surface.ceiling
  at     = ["60 cm", "60 cm"]
}

supply "right-half" {
  like = supply.left-half
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

joint "left-half" {
  like = catalog.barrier_terminal_6
  on   = surface.ceiling
  at   = ["40 cm", "40 cm"]
}

joint "right-half" {
  like = joint.left-half
  at   = ["600 cm", "40 cm"]
}

run "left-side" {
  strip    = strip.cove
  diffuser = catalog.channel_deep
  fixing   = catalog.channel_clip
  on       = surface.ceiling
  insert   = "slit"
  through  = [["20 cm", "420 cm"], ["20 cm", "20 cm"]]
}

run "left-back" {
  like    = run.left-side
  through = [["20 cm", "20 cm"], ["320 cm", "20 cm"]]
}

# The data goes on round the room: into the right half at its middle.
run "right-back" {
  like        = run.left-side
  data_enters = "end"
  through     = [["620 cm", "20 cm"], ["320 cm", "20 cm"]]
}

run "right-side" {
  like        = run.left-side
  data_enters = "end"
  through     = [["620 cm", "420 cm"], ["620 cm", "20 cm"]]
}

lead "left-trunk" {
  from = supply.left-half.out
  to   = joint.left-half
  wire = catalog.mm2_2_5
  fuse = "7.5 A"
}

lead "right-trunk" {
  like = lead.left-trunk
  from = supply.right-half.out
  to   = joint.right-half
}

# The minuses are tied for the data; the pluses of the two supplies never meet.
lead "tie" {
  from    = joint.left-half
  to      = joint.right-half
  wire    = catalog.mm2_1_5
  carries = "minus"
}

lead "board" {
  from = supply.left-half.out
  to   = controller.cove.power
  wire = catalog.mm2_1_5
  fuse = "1 A"
}

lead "left-strip-side" {
  from = joint.left-half
  to   = run.left-side.start
  wire = catalog.mm2_1_5
  fuse = "3 A"
}

lead "left-strip-side-end" {
  like = lead.left-strip-side
  to   = run.left-side.end
}

lead "left-strip-back" {
  like = lead.left-strip-side
  to   = run.left-back.start
}

lead "left-strip-back-end" {
  like = lead.left-strip-side
  to   = run.left-back.end
}

lead "right-strip-side" {
  like = lead.left-strip-side
  from = joint.right-half
  to   = run.right-side.start
}

lead "right-strip-side-end" {
  like = lead.right-strip-side
  to   = run.right-side.end
}

lead "right-strip-back" {
  like = lead.right-strip-side
  to   = run.right-back.start
}

lead "right-strip-back-end" {
  like = lead.right-strip-side
  to   = run.right-back.end
}

signal "cove-left-side" {
  from = controller.cove.port.cove
  to   = run.left-side.start
  wire = catalog.awg_22
}

signal "cove-left-back" {
  from = run.left-side.end
  to   = run.left-back.start
  wire = catalog.awg_22
}

signal "cove-right-back" {
  from = run.left-back.end
  to   = run.right-back.end
  wire = catalog.awg_22
}

signal "cove-right-side" {
  from = run.right-back.start
  to   = run.right-side.end
  wire = catalog.awg_22
}

order "cove" { runs = [run.left-side, run.left-back, from_end(run.right-back), from_end(run.right-side)] }

case "dinner" {
  channels = { R = "20 %", W = "80 %" }
  level    = "60 %"
}
