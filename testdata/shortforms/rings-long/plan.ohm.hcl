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
  on        = surface.fence
  at        = ["1270 cm", "60 cm"]
}

controller "gate" {
  board         = catalog.esp32_devkit
  input_voltage = ["24 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "14 A"
  enclosure     = "IP67"
  on            = surface.fence
  at            = ["10 cm", "70 cm"]
  port "fence" { pin = 18 }
}

run "ring-hoop-1" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["50 cm", "95 cm"]
    heading = "180 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "right"
    }
  }
}

lead "ring-tap-1" {
  times = 10
  from  = joint.ring-tee-1-each
  to    = run.ring-hoop-1-each.start
  wire  = catalog.mm2_0_75
  fuse  = "1 A"
}

signal "ring-hop-1" {
  times = 9
  from  = run.ring-hoop-1-each.end
  to    = run.ring-hoop-1-next.start
  wire  = catalog.mm2_0_75
}

run "ring-hoop-2" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["690 cm", "95 cm"]
    heading = "180 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "right"
    }
  }
}

lead "ring-tap-2" {
  times = 10
  from  = joint.ring-tee-2-each
  to    = run.ring-hoop-2-each.start
  wire  = catalog.mm2_0_75
  fuse  = "1 A"
}

signal "ring-hop-2" {
  times = 9
  from  = run.ring-hoop-2-each.end
  to    = run.ring-hoop-2-next.start
  wire  = catalog.mm2_0_75
}

run "ring-hoop-3" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["1330 cm", "95 cm"]
    heading = "180 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "right"
    }
  }
}

lead "ring-tap-3" {
  times = 10
  from  = joint.ring-tee-3-each
  to    = run.ring-hoop-3-each.start
  wire  = catalog.mm2_0_75
  fuse  = "1 A"
}

signal "ring-hop-3" {
  times = 9
  from  = run.ring-hoop-3-each.end
  to    = run.ring-hoop-3-next.start
  wire  = catalog.mm2_0_75
}

run "ring-hoop-4" {
  times    = 10
  shift    = [let.pitch, "0 cm"]
  strip    = strip.ring
  diffuser = diffuser.ring
  fixing   = catalog.cable_tie
  on       = surface.fence
  insert   = "cord"
  path {
    start   = ["1970 cm", "95 cm"]
    heading = "180 deg"
    arc {
      radius = "15 cm"
      sweep  = "345 deg"
      turn   = "right"
    }
  }
}

lead "ring-tap-4" {
  times = 10
  from  = joint.ring-tee-4-each
  to    = run.ring-hoop-4-each.start
  wire  = catalog.mm2_0_75
  fuse  = "1 A"
}

signal "ring-hop-4" {
  times = 9
  from  = run.ring-hoop-4-each.end
  to    = run.ring-hoop-4-next.start
  wire  = catalog.mm2_0_75
}

joint "ring-tee-1-1" {
  like      = catalog.barrier_terminal_3
  enclosure = "IP67"
  on        = surface.fence
  at        = ["50 cm", "75 cm"]
}

joint "ring-tee-1-2" {
  like = joint.ring-tee-1-1
  at   = ["110 cm", "75 cm"]
}

joint "ring-tee-1-3" {
  like = joint.ring-tee-1-1
  at   = ["170 cm", "75 cm"]
}

joint "ring-tee-1-4" {
  like = joint.ring-tee-1-1
  at   = ["230 cm", "75 cm"]
}

joint "ring-tee-1-5" {
  like = joint.ring-tee-1-1
  at   = ["290 cm", "75 cm"]
}

joint "ring-tee-1-6" {
  like = joint.ring-tee-1-1
  at   = ["350 cm", "75 cm"]
}

joint "ring-tee-1-7" {
  like = joint.ring-tee-1-1
  at   = ["410 cm", "75 cm"]
}

joint "ring-tee-1-8" {
  like = joint.ring-tee-1-1
  at   = ["470 cm", "75 cm"]
}

joint "ring-tee-1-9" {
  like = joint.ring-tee-1-1
  at   = ["530 cm", "75 cm"]
}

joint "ring-tee-1-10" {
  like = joint.ring-tee-1-1
  at   = ["590 cm", "75 cm"]
}

joint "ring-tee-2-1" {
  like = joint.ring-tee-1-1
  at   = ["690 cm", "75 cm"]
}

joint "ring-tee-2-2" {
  like = joint.ring-tee-1-1
  at   = ["750 cm", "75 cm"]
}

joint "ring-tee-2-3" {
  like = joint.ring-tee-1-1
  at   = ["810 cm", "75 cm"]
}

joint "ring-tee-2-4" {
  like = joint.ring-tee-1-1
  at   = ["870 cm", "75 cm"]
}

joint "ring-tee-2-5" {
  like = joint.ring-tee-1-1
  at   = ["930 cm", "75 cm"]
}

joint "ring-tee-2-6" {
  like = joint.ring-tee-1-1
  at   = ["990 cm", "75 cm"]
}

joint "ring-tee-2-7" {
  like = joint.ring-tee-1-1
  at   = ["1050 cm", "75 cm"]
}

joint "ring-tee-2-8" {
  like = joint.ring-tee-1-1
  at   = ["1110 cm", "75 cm"]
}

joint "ring-tee-2-9" {
  like = joint.ring-tee-1-1
  at   = ["1170 cm", "75 cm"]
}

joint "ring-tee-2-10" {
  like = joint.ring-tee-1-1
  at   = ["1230 cm", "75 cm"]
}

joint "ring-tee-3-1" {
  like = joint.ring-tee-1-1
  at   = ["1330 cm", "75 cm"]
}

joint "ring-tee-3-2" {
  like = joint.ring-tee-1-1
  at   = ["1390 cm", "75 cm"]
}

joint "ring-tee-3-3" {
  like = joint.ring-tee-1-1
  at   = ["1450 cm", "75 cm"]
}

joint "ring-tee-3-4" {
  like = joint.ring-tee-1-1
  at   = ["1510 cm", "75 cm"]
}

joint "ring-tee-3-5" {
  like = joint.ring-tee-1-1
  at   = ["1570 cm", "75 cm"]
}

joint "ring-tee-3-6" {
  like = joint.ring-tee-1-1
  at   = ["1630 cm", "75 cm"]
}

joint "ring-tee-3-7" {
  like = joint.ring-tee-1-1
  at   = ["1690 cm", "75 cm"]
}

joint "ring-tee-3-8" {
  like = joint.ring-tee-1-1
  at   = ["1750 cm", "75 cm"]
}

joint "ring-tee-3-9" {
  like = joint.ring-tee-1-1
  at   = ["1810 cm", "75 cm"]
}

joint "ring-tee-3-10" {
  like = joint.ring-tee-1-1
  at   = ["1870 cm", "75 cm"]
}

joint "ring-tee-4-1" {
  like = joint.ring-tee-1-1
  at   = ["1970 cm", "75 cm"]
}

joint "ring-tee-4-2" {
  like = joint.ring-tee-1-1
  at   = ["2030 cm", "75 cm"]
}

joint "ring-tee-4-3" {
  like = joint.ring-tee-1-1
  at   = ["2090 cm", "75 cm"]
}

joint "ring-tee-4-4" {
  like = joint.ring-tee-1-1
  at   = ["2150 cm", "75 cm"]
}

joint "ring-tee-4-5" {
  like = joint.ring-tee-1-1
  at   = ["2210 cm", "75 cm"]
}

joint "ring-tee-4-6" {
  like = joint.ring-tee-1-1
  at   = ["2270 cm", "75 cm"]
}

joint "ring-tee-4-7" {
  like = joint.ring-tee-1-1
  at   = ["2330 cm", "75 cm"]
}

joint "ring-tee-4-8" {
  like = joint.ring-tee-1-1
  at   = ["2390 cm", "75 cm"]
}

joint "ring-tee-4-9" {
  like = joint.ring-tee-1-1
  at   = ["2450 cm", "75 cm"]
}

joint "ring-tee-4-10" {
  like = joint.ring-tee-1-1
  at   = ["2510 cm", "75 cm"]
}

lead "left-ring-tee-2-10" {
  from = supply.middle.out
  to   = joint.ring-tee-2-10
  wire = catalog.mm2_2_5
  fuse = "15 A"
}

lead "left-ring-tee-2-9" {
  from = joint.ring-tee-2-10
  to   = joint.ring-tee-2-9
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-8" {
  from = joint.ring-tee-2-9
  to   = joint.ring-tee-2-8
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-7" {
  from = joint.ring-tee-2-8
  to   = joint.ring-tee-2-7
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-6" {
  from = joint.ring-tee-2-7
  to   = joint.ring-tee-2-6
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-5" {
  from = joint.ring-tee-2-6
  to   = joint.ring-tee-2-5
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-4" {
  from = joint.ring-tee-2-5
  to   = joint.ring-tee-2-4
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-3" {
  from = joint.ring-tee-2-4
  to   = joint.ring-tee-2-3
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-2" {
  from = joint.ring-tee-2-3
  to   = joint.ring-tee-2-2
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-2-1" {
  from = joint.ring-tee-2-2
  to   = joint.ring-tee-2-1
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-10" {
  from = joint.ring-tee-2-1
  to   = joint.ring-tee-1-10
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-9" {
  from = joint.ring-tee-1-10
  to   = joint.ring-tee-1-9
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-8" {
  from = joint.ring-tee-1-9
  to   = joint.ring-tee-1-8
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-7" {
  from = joint.ring-tee-1-8
  to   = joint.ring-tee-1-7
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-6" {
  from = joint.ring-tee-1-7
  to   = joint.ring-tee-1-6
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-5" {
  from = joint.ring-tee-1-6
  to   = joint.ring-tee-1-5
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-4" {
  from = joint.ring-tee-1-5
  to   = joint.ring-tee-1-4
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-3" {
  from = joint.ring-tee-1-4
  to   = joint.ring-tee-1-3
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-2" {
  from = joint.ring-tee-1-3
  to   = joint.ring-tee-1-2
  wire = catalog.mm2_2_5
}

lead "left-ring-tee-1-1" {
  from = joint.ring-tee-1-2
  to   = joint.ring-tee-1-1
  wire = catalog.mm2_2_5
}

lead "left-gate" {
  from = joint.ring-tee-1-1
  to   = controller.gate.power
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-1" {
  from = supply.middle.out
  to   = joint.ring-tee-3-1
  wire = catalog.mm2_2_5
  fuse = "15 A"
}

lead "right-ring-tee-3-2" {
  from = joint.ring-tee-3-1
  to   = joint.ring-tee-3-2
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-3" {
  from = joint.ring-tee-3-2
  to   = joint.ring-tee-3-3
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-4" {
  from = joint.ring-tee-3-3
  to   = joint.ring-tee-3-4
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-5" {
  from = joint.ring-tee-3-4
  to   = joint.ring-tee-3-5
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-6" {
  from = joint.ring-tee-3-5
  to   = joint.ring-tee-3-6
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-7" {
  from = joint.ring-tee-3-6
  to   = joint.ring-tee-3-7
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-8" {
  from = joint.ring-tee-3-7
  to   = joint.ring-tee-3-8
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-9" {
  from = joint.ring-tee-3-8
  to   = joint.ring-tee-3-9
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-3-10" {
  from = joint.ring-tee-3-9
  to   = joint.ring-tee-3-10
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-1" {
  from = joint.ring-tee-3-10
  to   = joint.ring-tee-4-1
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-2" {
  from = joint.ring-tee-4-1
  to   = joint.ring-tee-4-2
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-3" {
  from = joint.ring-tee-4-2
  to   = joint.ring-tee-4-3
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-4" {
  from = joint.ring-tee-4-3
  to   = joint.ring-tee-4-4
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-5" {
  from = joint.ring-tee-4-4
  to   = joint.ring-tee-4-5
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-6" {
  from = joint.ring-tee-4-5
  to   = joint.ring-tee-4-6
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-7" {
  from = joint.ring-tee-4-6
  to   = joint.ring-tee-4-7
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-8" {
  from = joint.ring-tee-4-7
  to   = joint.ring-tee-4-8
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-9" {
  from = joint.ring-tee-4-8
  to   = joint.ring-tee-4-9
  wire = catalog.mm2_2_5
}

lead "right-ring-tee-4-10" {
  from = joint.ring-tee-4-9
  to   = joint.ring-tee-4-10
  wire = catalog.mm2_2_5
}

signal "gate" {
  from = controller.gate.port.fence
  to   = run.ring-hoop-1-1.start
  wire = catalog.mm2_0_75
}

signal "ring-hop-1-10" {
  from = run.ring-hoop-1-10.end
  to   = run.ring-hoop-2-1.start
  wire = catalog.mm2_0_75
}

signal "ring-hop-2-10" {
  from = run.ring-hoop-2-10.end
  to   = run.ring-hoop-3-1.start
  wire = catalog.mm2_0_75
}

signal "ring-hop-3-10" {
  from = run.ring-hoop-3-10.end
  to   = run.ring-hoop-4-1.start
  wire = catalog.mm2_0_75
}

order "fence" { runs = [run.ring-hoop-1-all, run.ring-hoop-2-all, run.ring-hoop-3-all, run.ring-hoop-4-all] }

case "dusk" {
  color = "#ff9040"
  level = "40 %"
}
