# Sound: 12 V behind 10 A and a 5 V pair of 2.5 mm2 (17 A, bunched 13.6 A) share a cable, minuses tied: every core carries what the larger fuse lets through.
# Source: IEC 60364-4-43 433.1, In <= Iz for whatever a fault drives through a core (from memory); two circuits bunched 0.80 (B.52.17).
plan "two-supplies-in-one-cable" {
  title = "Bar shelf in 12 V and its 5 V sign in one cable"
  mains = "230 V"
}

strip "shelf" { like = catalog.ws2815_12v_60 }

strip "sign" { like = catalog.ws2812b_5v_60 }

wire "big" { gauge = "2.5 mm2" }

wire "small" { gauge = "2.5 mm2" }

wire "tap" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

joint "shelf" { like = catalog.lever_joint_3 }

supply "twelve" {
  output = "12 V"
  rating = "12 A"
  input  = ["230 V"]
}

supply "five" {
  output = "5 V"
  rating = "5 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "left" {
  strip  = strip.shelf
  length = "3 m"
}

run "right" {
  strip  = strip.shelf
  length = "3 m"
}

run "sign" {
  strip     = strip.sign
  length    = "50 cm"
  capacitor = "1000 uF"
}

lead "shelf" {
  from   = supply.twelve.out
  to     = joint.shelf
  wire   = wire.big
  length = "2 m"
  fuse   = "10 A"
}

lead "left" {
  from   = joint.shelf
  to     = run.left.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "right" {
  from   = joint.shelf
  to     = run.right.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "sign" {
  from   = supply.five.out
  to     = run.sign.start
  wire   = wire.small
  length = "2 m"
  fuse   = "3 A"
  within = lead.shelf
}

lead "tie" {
  from    = supply.twelve.out
  to      = supply.five.out
  wire    = wire.big
  length  = "30 cm"
  carries = "minus"
}

lead "board" {
  from   = supply.five.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "sign" {
  from   = controller.brain.port.a
  to     = run.sign.start
  wire   = wire.data
  length = "2 m"
}

signal "left" {
  from   = run.sign.end
  to     = run.left.start
  wire   = wire.data
  length = "40 cm"
}

signal "right" {
  from   = run.left.end
  to     = run.right.start
  wire   = wire.data
  length = "40 cm"
}

order "all" { runs = [run.sign, run.left, run.right] }
