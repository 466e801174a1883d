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
  input  = "230 V"
  at     = ["100 cm", "5 cm"]
}

controller "panel" {
  board         = catalog.esp32_devkit
  input_voltage = "12 V" # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "4 A"
  at            = ["30 cm", "5 cm"]
  port "pen" { pin = 4 }
}

joint "bar" {
  like = catalog.barrier_terminal_12
  at   = ["110 cm", "8 cm"]
}

lead "bar" {
  from = supply.panel.out
  to   = joint.bar
  wire = catalog.awg_14
  fuse = "7.5 A"
}

usual "run" "supply" "controller" "joint" {
  strip    = strip.stroke
  diffuser = catalog.silicone_tube_side_12x20
  fixing   = catalog.tube_clip_curve
  on       = surface.panel
}

assembly "note" {
  runs {
    n-1 = [["10 cm", "15 cm"], ["10 cm", "65 cm"]]
    n-2 = [["13 cm", "62 cm"], ["42 cm", "18 cm"]]
    n-3 = [["45 cm", "15 cm"], ["45 cm", "65 cm"]]
    run "o" {
      insert = "cord"
      circle {
        centre = ["85 cm", "40 cm"]
        radius = "25 cm"
        sweep  = "350 deg"
      }
    }
    t-1 = [["120 cm", "65 cm"], ["160 cm", "65 cm"]]
    t-2 = [["140 cm", "61 cm"], ["140 cm", "15 cm"]]
    e-1 = [["175 cm", "15 cm"], ["175 cm", "65 cm"]]
    e-2 = [["178 cm", "65 cm"], ["205 cm", "65 cm"]]
    e-3 = [["202 cm", "40 cm"], ["178 cm", "40 cm"]]
    e-4 = [["178 cm", "15 cm"], ["205 cm", "15 cm"]]
  }
}

chain "pen" {
  from = controller.panel.port.pen
  runs = assembly.note
  wire = catalog.awg_22
}

feed "bar" {
  from = joint.bar
  to   = [chain.pen, controller.panel.power]
  wire = catalog.awg_20
  fuse = "3 A"
}
