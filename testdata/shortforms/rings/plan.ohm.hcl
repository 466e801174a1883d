# Forty rings of strip in silicone tube on rigid hoops, ten in each of a garden fence's
# four bays: a trunk along the fence with a tap to each, and data from ring to ring.

plan "fence" {
  title    = "Forty rings on the garden fence"
  mains    = "230 V"
  ambient  = "30 degC"
  exposure = "wet"
  rate     = "40 Hz"
}

policy { spare = "10 %" }

strip "ring" {
  like  = catalog.ws2811_24v_60
  price = "22 EUR"
}

diffuser "ring" { like = catalog.silicone_tube_side_20x20 }

surface "fence" {
  width    = "25.4 m"
  height   = "1.8 m"
  material = "larch boards"
}

usual "run" "diffuser" "supply" "controller" "joint" "lead" "signal" {
  on        = surface.fence
  enclosure = "IP67"
  wire      = catalog.mm2_0_75
}

supply "middle" {
  output = "24 V"
  rating = "25 A"
  input  = "230 V"
  at     = ["1270 cm", "60 cm"]
}

controller "gate" {
  board         = catalog.esp32_devkit
  input_voltage = "24 V" # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "14 A"
  at            = ["10 cm", "70 cm"]
  port "fence" { pin = 18 }
}

assembly "ring" {
  rows      = 4
  row_shift = ["640 cm", "0 cm"]
  times     = 10
  shift     = ["60 cm", "0 cm"]
  run "hoop" {
    strip    = strip.ring
    diffuser = diffuser.ring
    fixing   = catalog.cable_tie
    insert   = "cord"
    circle {
      centre = ["50 cm", "110 cm"]
      radius = "15 cm"
      start  = "270 deg"
      sweep  = "345 deg"
    }
  }
  joint "tee" {
    like = catalog.barrier_terminal_3
    at   = ["50 cm", "75 cm"]
  }
  lead "tap" {
    from = joint.tee
    to   = run.hoop.start
    fuse = "1 A"
  }
}

# The trunk is fed in the middle, and goes from there through two bays to either side.
feed "left" {
  from    = supply.middle.out
  through = [joint.ring-tee-2-10-to-1, joint.ring-tee-1-10-to-1, controller.gate.power]
  wire    = catalog.mm2_2_5
  fuse    = "15 A"
}

feed "right" {
  from    = supply.middle.out
  through = joint.ring-tee-3-to-4
  wire    = catalog.mm2_2_5
  fuse    = "15 A"
}

chain "fence" {
  from = controller.gate.port.fence
  runs = assembly.ring
}

case "dusk" {
  color = "#ff9040"
  level = "40 %"
}
