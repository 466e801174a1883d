# A wall of 3 m x 2 m: twenty rows, laid as a serpentine. Rows that run to the
# right and rows that run back alternate.

plan "club-wall" {
  title = "Pixel wall behind the stage"
  mains = "230 V"
  rate  = "25 Hz"
}

let {
  row  = "10 cm"
  pair = scale(let.row, 2)
  wide = "3 m"
}

strip "row" { like = catalog.ws2815_12v_30 }

wire "bus" { gauge = "10 AWG" }
wire "row" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

surface "wall" {
  width    = "3.2 m"
  height   = "2.2 m"
  material = "plywood, painted black"
}

supply "wall" {
  output  = "12 V"
  rating  = "20 A"
  outputs = 3
  input   = ["230 V"]
}

controller "stage" {
  board         = catalog.esp32_devkit
  input_voltage = ["12 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "24 A"
  port "low" { pin = 4 }
  port "high" { pin = 13 }
}

joint "left" { like = catalog.bus_bar_12 }
joint "right" { like = catalog.bus_bar_12 }

run "low-out" {
  strip   = strip.row
  on      = surface.wall
  times   = 5
  through = [["10 cm", "10 cm"], ["310 cm", "10 cm"]]
  shift   = ["0 cm", let.pair]
}

run "low-back" {
  strip   = strip.row
  on      = surface.wall
  times   = 5
  through = [["310 cm", "20 cm"], ["10 cm", "20 cm"]]
  shift   = ["0 cm", let.pair]
}

run "high-out" {
  strip   = strip.row
  on      = surface.wall
  times   = 5
  through = [["10 cm", "110 cm"], ["310 cm", "110 cm"]]
  shift   = ["0 cm", let.pair]
}

run "high-back" {
  strip   = strip.row
  on      = surface.wall
  times   = 5
  through = [["310 cm", "120 cm"], ["10 cm", "120 cm"]]
  shift   = ["0 cm", let.pair]
}

lead "left" {
  from   = supply.wall.out[1]
  to     = joint.left
  wire   = wire.bus
  length = "80 cm"
  fuse   = "25 A"
}

lead "right" {
  from   = supply.wall.out[2]
  to     = joint.right
  wire   = wire.bus
  length = "80 cm"
  fuse   = "25 A"
}

lead "low-out" {
  times  = 5
  from   = joint.left
  to     = run.low-out-each.start
  wire   = wire.row
  length = "1.2 m"
  fuse   = "3 A"
}

lead "low-back" {
  times  = 5
  from   = joint.right
  to     = run.low-back-each.start
  wire   = wire.row
  length = "1.2 m"
  fuse   = "3 A"
}

lead "high-out" {
  times  = 5
  from   = joint.left
  to     = run.high-out-each.start
  wire   = wire.row
  length = "1.2 m"
  fuse   = "3 A"
}

lead "high-back" {
  times  = 5
  from   = joint.right
  to     = run.high-back-each.start
  wire   = wire.row
  length = "1.2 m"
  fuse   = "3 A"
}

lead "stage" {
  from   = supply.wall.out[3]
  to     = controller.stage.power
  wire   = wire.data
  length = "60 cm"
  fuse   = "1 A"
}

signal "low" {
  from   = controller.stage.port.low
  to     = run.low-out-1.start
  wire   = wire.data
  length = "50 cm"
}

signal "low-turn" {
  times  = 5
  from   = run.low-out-each.end
  to     = run.low-back-each.start
  wire   = wire.data
  length = "15 cm"
}

signal "low-up" {
  times  = 4
  from   = run.low-back-each.end
  to     = run.low-out-next.start
  wire   = wire.data
  length = "15 cm"
}

signal "high" {
  from   = controller.stage.port.high
  to     = run.high-out-1.start
  wire   = wire.data
  length = "1.3 m"
}

signal "high-turn" {
  times  = 5
  from   = run.high-out-each.end
  to     = run.high-back-each.start
  wire   = wire.data
  length = "15 cm"
}

signal "high-up" {
  times  = 4
  from   = run.high-back-each.end
  to     = run.high-out-next.start
  wire   = wire.data
  length = "15 cm"
}

order "wall" {
  runs = [
    in_turn(run.low-out-all, run.low-back-all),
    in_turn(run.high-out-all, run.high-back-all),
  ]
}
