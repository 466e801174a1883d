# The word NOTE over a club's stage in ten strokes of silicone tube on a panel, each
# fed from one terminal bar. The data goes through the strokes as a pen would write them.

plan "note" {
  title    = "NOTE over the club's stage"
  mains    = "230 V"
  exposure = "dry"
  rate     = "40 Hz"
}

policy { drop = "5 %" }

strip "stroke" {
  like  = catalog.ws2815_12v_60
  price = "24 EUR"
}

surface "panel" {
  width    = "2.2 m"
  height   = "80 cm"
  material = "birch plywood, painted black"
}

supply "panel" {
  output = "12 V"
  rating = "8.5 A"
  input  = ["230 V"]
  on     = surface.panel
  at     = ["100 cm", "5 cm"]
}

controller "panel" {
  board         = catalog.esp32_devkit
  input_voltage = ["12 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "4 A"
  on            = surface.panel
  at            = ["30 cm", "5 cm"]
  port "pen" { pin = 4 }
}

joint "bar" {
  like = catalog.barrier_terminal_12
  on   = surface.panel
  at   = ["110 cm", "8 cm"]
}

lead "bar" {
  from = supply.panel.out
  to   = joint.bar
  wire = catalog.awg_14
  fuse = "7.5 A"
}

run "note-n-1" {
  strip    = strip.stroke
  diffuser = catalog.silicone_tube_side_12x20
  fixing   = catalog.tube_clip_curve
  on       = surface.panel
  through  = [["10 cm", "15 cm"], ["10 cm", "65 cm"]]
}

run "note-n-2" {
  like    = run.note-n-1
  through = [["13 cm", "62 cm"], ["42 cm", "18 cm"]]
}

run "note-n-3" {
  like    = run.note-n-1
  through = [["45 cm", "15 cm"], ["45 cm", "65 cm"]]
}

run "note-o" {
  like   = run.note-n-1
  insert = "cord"
  path {
    start   = ["85 cm", "65 cm"]
    heading = "0 deg"
    arc {
      radius = "25 cm"
      sweep  = "350 deg"
      turn   = "right"
    }
  }
}

run "note-t-1" {
  like    = run.note-n-1
  through = [["120 cm", "65 cm"], ["160 cm", "65 cm"]]
}

run "note-t-2" {
  like    = run.note-n-1
  through = [["140 cm", "61 cm"], ["140 cm", "15 cm"]]
}

run "note-e-1" {
  like    = run.note-n-1
  through = [["175 cm", "15 cm"], ["175 cm", "65 cm"]]
}

run "note-e-2" {
  like    = run.note-n-1
  through = [["178 cm", "65 cm"], ["205 cm", "65 cm"]]
}

run "note-e-3" {
  like    = run.note-n-1
  through = [["202 cm", "40 cm"], ["178 cm", "40 cm"]]
}

run "note-e-4" {
  like    = run.note-n-1
  through = [["178 cm", "15 cm"], ["205 cm", "15 cm"]]
}

lead "bar-note-n-1" {
  from = joint.bar
  to   = run.note-n-1.start
  wire = catalog.awg_20
  fuse = "3 A"
}

lead "bar-note-n-2" {
  like = lead.bar-note-n-1
  to   = run.note-n-2.start
}

lead "bar-note-n-3" {
  like = lead.bar-note-n-1
  to   = run.note-n-3.start
}

lead "bar-note-o" {
  like = lead.bar-note-n-1
  to   = run.note-o.start
}

lead "bar-note-t-1" {
  like = lead.bar-note-n-1
  to   = run.note-t-1.start
}

lead "bar-note-t-2" {
  like = lead.bar-note-n-1
  to   = run.note-t-2.start
}

lead "bar-note-e-1" {
  like = lead.bar-note-n-1
  to   = run.note-e-1.start
}

lead "bar-note-e-2" {
  like = lead.bar-note-n-1
  to   = run.note-e-2.start
}

lead "bar-note-e-3" {
  like = lead.bar-note-n-1
  to   = run.note-e-3.start
}

lead "bar-note-e-4" {
  like = lead.bar-note-n-1
  to   = run.note-e-4.start
}

lead "bar-panel" {
  like = lead.bar-note-n-1
  to   = controller.panel.power
}

signal "pen-note-n-1" {
  from = controller.panel.port.pen
  to   = run.note-n-1.start
  wire = catalog.awg_22
}

signal "pen-note-n-2" {
  from = run.note-n-1.end
  to   = run.note-n-2.start
  wire = catalog.awg_22
}

signal "pen-note-n-3" {
  from = run.note-n-2.end
  to   = run.note-n-3.start
  wire = catalog.awg_22
}

signal "pen-note-o" {
  from = run.note-n-3.end
  to   = run.note-o.start
  wire = catalog.awg_22
}

signal "pen-note-t-1" {
  from = run.note-o.end
  to   = run.note-t-1.start
  wire = catalog.awg_22
}

signal "pen-note-t-2" {
  from = run.note-t-1.end
  to   = run.note-t-2.start
  wire = catalog.awg_22
}

signal "pen-note-e-1" {
  from = run.note-t-2.end
  to   = run.note-e-1.start
  wire = catalog.awg_22
}

signal "pen-note-e-2" {
  from = run.note-e-1.end
  to   = run.note-e-2.start
  wire = catalog.awg_22
}

signal "pen-note-e-3" {
  from = run.note-e-2.end
  to   = run.note-e-3.start
  wire = catalog.awg_22
}

signal "pen-note-e-4" {
  from = run.note-e-3.end
  to   = run.note-e-4.start
  wire = catalog.awg_22
}

order "pen" {
  runs = [
    run.note-n-1,
    run.note-n-2,
    run.note-n-3,
    run.note-o,
    run.note-t-1,
    run.note-t-2,
    run.note-e-1,
    run.note-e-2,
    run.note-e-3,
    run.note-e-4,
  ]
}
