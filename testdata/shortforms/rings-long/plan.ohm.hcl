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

run "a" {
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

joint "a" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "a-trunk" {
  times  = 9
  from   = joint.a-each
  to     = joint.a-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "a-tap" {
  times  = 10
  from   = joint.a-each
  to     = run.a-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "a-hop" {
  times = 9
  from  = run.a-each.end
  to    = run.a-next.start
  wire  = catalog.awg_20
}

run "b" {
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

joint "b" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "b-trunk" {
  times  = 9
  from   = joint.b-each
  to     = joint.b-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "b-tap" {
  times  = 10
  from   = joint.b-each
  to     = run.b-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "b-hop" {
  times = 9
  from  = run.b-each.end
  to    = run.b-next.start
  wire  = catalog.awg_20
}

run "c" {
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

joint "c" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "c-trunk" {
  times  = 9
  from   = joint.c-each
  to     = joint.c-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "c-tap" {
  times  = 10
  from   = joint.c-each
  to     = run.c-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "c-hop" {
  times = 9
  from  = run.c-each.end
  to    = run.c-next.start
  wire  = catalog.awg_20
}

run "d" {
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

joint "d" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  times     = 10
}

lead "d-trunk" {
  times  = 9
  from   = joint.d-each
  to     = joint.d-next
  wire   = wire.trunk
  length = "70 cm"
}

lead "d-tap" {
  times  = 10
  from   = joint.d-each
  to     = run.d-each.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "d-hop" {
  times = 9
  from  = run.d-each.end
  to    = run.d-next.start
  wire  = catalog.awg_20
}

lead "west" {
  from   = supply.middle.out
  to     = joint.b-10
  wire   = wire.trunk
  length = "1 m"
  fuse   = "15 A"
}

lead "east" {
  like = lead.west
  to   = joint.c-1
}

lead "a-b" {
  from   = joint.a-10
  to     = joint.b-1
  wire   = wire.trunk
  length = "1.1 m"
}

lead "c-d" {
  like = lead.a-b
  from = joint.c-10
  to   = joint.d-1
}

lead "gate" {
  from   = joint.a-1
  to     = controller.gate.power
  wire   = wire.tap
  length = "60 cm"
  fuse   = "1 A"
}

signal "gate" {
  from   = controller.gate.port.fence
  to     = run.a-1.start
  wire   = catalog.awg_20
  length = "80 cm"
}

signal "a-b" {
  from = run.a-10.end
  to   = run.b-1.start
  wire = catalog.awg_20
}

signal "b-c" {
  from = run.b-10.end
  to   = run.c-1.start
  wire = catalog.awg_20
}

signal "c-d" {
  from = run.c-10.end
  to   = run.d-1.start
  wire = catalog.awg_20
}

order "fence" { runs = [run.a-all, run.b-all, run.c-all, run.d-all] }

case "dusk" {
  color = "#ff9040"
  level = "40 %"
}
