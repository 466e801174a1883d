# Twelve treads lit from under the nosing, fed from a trunk along the stringer.

plan "cellar-stair" {
  title = "Stair to the cellar, twelve treads"
  mains = "230 V"
  rate  = "30 Hz"
}

let { rise = "18 cm" } # the stair as one sees it who comes up

strip "nosing" { like = catalog.ws2811_24v_60 }

diffuser "nosing" { like = catalog.channel_corner }

wire "trunk" { gauge = "1.5 mm2" }
wire "tap" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "cellar" {
  output = "24 V"
  rating = "6.5 A"
  input  = ["230 V"]
}

controller "post" {
  board         = catalog.esp32_devkit
  input_voltage = ["24 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "4 A"
  port "a" { pin = 18 }
}

joint "tread" {
  like  = catalog.lever_joint_3
  times = 12
}

# ohmstead: allow spots-visible because the dots mark the edge of each tread
run "tread" {
  strip    = strip.nosing
  diffuser = diffuser.nosing
  insert   = "slit"
  times    = 12
  through  = [["0 cm", "0 cm"], ["80 cm", "0 cm"]]
  shift    = ["0 cm", let.rise]
}

lead "riser" {
  from   = supply.cellar.out
  to     = joint.tread-1
  wire   = wire.trunk
  length = "1.5 m"
  fuse   = "7.5 A"
}

lead "trunk" {
  times  = 11
  from   = joint.tread-each
  to     = joint.tread-next
  wire   = wire.trunk
  length = "40 cm"
}

lead "tap" {
  times  = 12
  from   = joint.tread-each
  to     = run.tread-each.start
  wire   = wire.tap
  length = "20 cm"
  fuse   = "1 A"
}

lead "post" {
  from   = supply.cellar.out
  to     = controller.post.power
  wire   = wire.tap
  length = "50 cm"
  fuse   = "1 A"
}

signal "first" {
  from   = controller.post.port.a
  to     = run.tread-1.start
  wire   = wire.data
  length = "1.2 m"
}

signal "up" {
  times  = 11
  from   = run.tread-each.end
  to     = run.tread-next.start
  wire   = wire.data
  length = "1.2 m"
}

order "stair" { runs = [run.tread-all] }
