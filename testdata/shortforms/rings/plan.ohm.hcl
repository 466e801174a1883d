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

diffuser "ring" {
  like      = catalog.silicone_tube_side_20x20
  enclosure = "IP67"
}

wire "trunk" { gauge = "2.5 mm2" }
wire "tap" { gauge = "0.75 mm2" }

surface "fence" {
  width    = "25.4 m"
  height   = "1.8 m"
  material = "larch boards"
}

supply "middle" {
  output    = "24 V"
  rating    = "25 A"
  input     = ["230 V"]
  enclosure = "IP67"
}

controller "gate" {
  board         = catalog.esp32_devkit
  input_voltage = ["24 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "14 A"
  enclosure     = "IP67"
  port "fence" { pin = 18 }
}

# The trunk is fed in the middle, and goes from there through two bays to either side.
assembly "half" {
  times = 2
  shift = ["1280 cm", "0 cm"]
  assembly "ring" {
    rows      = 2
    row_shift = ["640 cm", "0 cm"]
    times     = 10
    shift     = ["60 cm", "0 cm"]
    run "hoop" {
      strip    = strip.ring
      diffuser = diffuser.ring
      fixing   = catalog.cable_tie
      on       = surface.fence
      insert   = "cord"
      path {
        start   = ["50 cm", "95 cm"]
        heading = "0 deg"
        arc {
          radius = "15 cm"
          sweep  = "345 deg"
          turn   = "left"
        }
      }
    }
    joint "tee" {
      like      = catalog.barrier_terminal_3
      enclosure = "IP67"
    }
    lead "trunk" {
      from   = joint.tee
      to     = joint.tee-next
      wire   = wire.trunk
      length = "70 cm"
    }
    lead "tap" {
      from   = joint.tee
      to     = run.hoop.start
      wire   = wire.tap
      length = "40 cm"
      fuse   = "1 A"
    }
    copy "10" {
      lead "trunk" { length = "1.1 m" }
    }
  }
}

feed "trunk" {
  from   = supply.middle.out
  to     = [joint.half-ring-tee-1-2-10, joint.half-ring-tee-2-1-1]
  wire   = wire.trunk
  length = "1 m"
  fuse   = "15 A"
}

lead "gate" {
  from   = joint.half-ring-tee-1-1-1
  to     = controller.gate.power
  wire   = wire.tap
  length = "60 cm"
  fuse   = "1 A"
}

chain "fence" {
  from = controller.gate.port.fence
  runs = [assembly.half]
  wire = catalog.awg_20
  hop {
    to     = run.half-ring-hoop-1-1-1
    length = "80 cm"
  }
}

case "dusk" {
  color = "#ff9040"
  level = "40 %"
}
