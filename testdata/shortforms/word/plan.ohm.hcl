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

usual "run" {
  strip    = strip.stroke
  diffuser = catalog.silicone_tube_side_12x20
  fixing   = catalog.tube_clip_curve
  on       = surface.panel
}

assembly "note" {
  run "n-1" { through = [["10 cm", "15 cm"], ["10 cm", "65 cm"]] }
  run "n-2" { through = [["13 cm", "62 cm"], ["42 cm", "18 cm"]] }
  run "n-3" { through = [["45 cm", "15 cm"], ["45 cm", "65 cm"]] }

  run "o" {
    insert = "cord"
    path {
      start = ["60 cm", "40 cm"]
      arc {
        radius = "25 cm"
        sweep  = "350 deg"
        turn   = "right"
      }
    }
  }

  run "t-1" { through = [["120 cm", "65 cm"], ["160 cm", "65 cm"]] }
  run "t-2" { through = [["140 cm", "61 cm"], ["140 cm", "15 cm"]] }
  run "e-1" { through = [["175 cm", "15 cm"], ["175 cm", "65 cm"]] }
  run "e-2" { through = [["178 cm", "65 cm"], ["205 cm", "65 cm"]] }
  run "e-3" { through = [["202 cm", "40 cm"], ["178 cm", "40 cm"]] }
  run "e-4" { through = [["178 cm", "15 cm"], ["205 cm", "15 cm"]] }
}

chain "pen" {
  from = controller.panel.port.pen
  runs = [assembly.note]
  wire = catalog.awg_22
}

feed "bar" {
  from = joint.bar
  to   = [chain.pen, controller.panel.power]
  wire = catalog.awg_20
  fuse = "3 A"
}
