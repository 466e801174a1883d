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

let { pitch = "60 cm" }

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

run "half-ring-hoop-1-1" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
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

joint "half-ring-tee-1-1" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "half-ring-trunk-1-1" {
  times  = 9
  from   = joint.half-ring-tee-1-1-each
  to     = joint.half-ring-tee-1-1-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "half-ring-tap-1-1" {
  times  = 10
  from   = joint.half-ring-tee-1-1-each
  to     = run.half-ring-hoop-1-1-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "half-ring-hop-1-1" {
  times = 9
  from  = run.half-ring-hoop-1-1-each.end
  to    = run.half-ring-hoop-1-1-next.start
  wire  = catalog.awg_20
}

run "half-ring-hoop-1-2" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["690 cm", "95 cm"]
    heading = "0 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "left"
    }
  }
}

joint "half-ring-tee-1-2" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "half-ring-trunk-1-2" {
  times  = 9
  from   = joint.half-ring-tee-1-2-each
  to     = joint.half-ring-tee-1-2-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "half-ring-tap-1-2" {
  times  = 10
  from   = joint.half-ring-tee-1-2-each
  to     = run.half-ring-hoop-1-2-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "half-ring-hop-1-2" {
  times = 9
  from  = run.half-ring-hoop-1-2-each.end
  to    = run.half-ring-hoop-1-2-next.start
  wire  = catalog.awg_20
}

run "half-ring-hoop-2-1" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["1330 cm", "95 cm"]
    heading = "0 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "left"
    }
  }
}

joint "half-ring-tee-2-1" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "half-ring-trunk-2-1" {
  times  = 9
  from   = joint.half-ring-tee-2-1-each
  to     = joint.half-ring-tee-2-1-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "half-ring-tap-2-1" {
  times  = 10
  from   = joint.half-ring-tee-2-1-each
  to     = run.half-ring-hoop-2-1-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "half-ring-hop-2-1" {
  times = 9
  from  = run.half-ring-hoop-2-1-each.end
  to    = run.half-ring-hoop-2-1-next.start
  wire  = catalog.awg_20
}

run "half-ring-hoop-2-2" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["1970 cm", "95 cm"]
    heading = "0 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "left"
    }
  }
}

joint "half-ring-tee-2-2" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "half-ring-trunk-2-2" {
  times  = 9
  from   = joint.half-ring-tee-2-2-each
  to     = joint.half-ring-tee-2-2-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "half-ring-tap-2-2" {
  times  = 10
  from   = joint.half-ring-tee-2-2-each
  to     = run.half-ring-hoop-2-2-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "half-ring-hop-2-2" {
  times = 9
  from  = run.half-ring-hoop-2-2-each.end
  to    = run.half-ring-hoop-2-2-next.start
  wire  = catalog.awg_20
}

lead "trunk-half-ring-tee-1-2-10" {
  from   = supply.middle.out
  to     = joint.half-ring-tee-1-2-10
  wire   = wire.trunk
  length = "1 m"
  fuse   = "15 A"
}

lead "trunk-half-ring-tee-2-1-1" {
  like = lead.trunk-half-ring-tee-1-2-10
  to   = joint.half-ring-tee-2-1-1
}

lead "half-ring-trunk-1-1-10" {
  from   = joint.half-ring-tee-1-1-10
  to     = joint.half-ring-tee-1-2-1
  wire   = wire.trunk
  length = "1.1 m"
}

lead "half-ring-trunk-2-1-10" {
  like = lead.half-ring-trunk-1-1-10
  from = joint.half-ring-tee-2-1-10
  to   = joint.half-ring-tee-2-2-1
}

lead "gate" {
  from   = joint.half-ring-tee-1-1-1
  to     = controller.gate.power
  wire   = wire.tap
  length = "60 cm"
  fuse   = "1 A"
}

signal "gate" {
  from   = controller.gate.port.fence
  to     = run.half-ring-hoop-1-1-1.start
  wire   = catalog.awg_20
  length = "80 cm"
}

signal "half-ring-hop-1-1-10" {
  from = run.half-ring-hoop-1-1-10.end
  to   = run.half-ring-hoop-1-2-1.start
  wire = catalog.awg_20
}

signal "half-ring-hop-1-2-10" {
  from = run.half-ring-hoop-1-2-10.end
  to   = run.half-ring-hoop-2-1-1.start
  wire = catalog.awg_20
}

signal "half-ring-hop-2-1-10" {
  from = run.half-ring-hoop-2-1-10.end
  to   = run.half-ring-hoop-2-2-1.start
  wire = catalog.awg_20
}

order "fence" { runs = [run.half-ring-hoop-1-1-all, run.half-ring-hoop-1-2-all, run.half-ring-hoop-2-1-all, run.half-ring-hoop-2-2-all] }

case "dusk" {
  color = "#ff9040"
  level = "40 %"
}
