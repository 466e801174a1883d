# Sound: two feeds behind 5 A each meet in a joint; the bare lead that goes on from it may get 10 A and is good for 10.53 A (0.95).
# Source: IEC 60364-4-43 433.1, In <= Iz with the sum of the fuses before it (from memory).
plan "one-lead-behind-two-feeds" {
  title = "Two arcades fed twice over, so that one feed may fail"
  mains = "230 V"
}

strip "arcade" { like = catalog.ws2815_12v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "on" {
  gauge    = "1.5 mm2"
  ampacity = "10.53 A"
  source   = "sheet of the cable, laid in insulation"
}

wire "tap" { gauge = "1.0 mm2" }

wire "data" { gauge = "22 AWG" }

joint "meet" { like = catalog.lever_joint_3 }

joint "split" { like = catalog.lever_joint_3 }

supply "box" {
  output = "12 V"
  rating = "20 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "left" {
  strip  = strip.arcade
  length = "1.67 m"
}

run "right" {
  strip  = strip.arcade
  length = "1.67 m"
}

lead "east" {
  from   = supply.box.out
  to     = joint.meet
  wire   = wire.feed
  length = "1.5 m"
  fuse   = "5 A"
}

lead "west" {
  from   = supply.box.out
  to     = joint.meet
  wire   = wire.feed
  length = "1.5 m"
  fuse   = "5 A"
}

lead "on" {
  from   = joint.meet
  to     = joint.split
  wire   = wire.on
  length = "2 m"
}

lead "left" {
  from   = joint.split
  to     = run.left.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "3 A"
}

lead "right" {
  from   = joint.split
  to     = run.right.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "3 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "left" {
  from   = controller.brain.port.a
  to     = run.left.start
  wire   = wire.data
  length = "50 cm"
}

signal "right" {
  from   = run.left.end
  to     = run.right.start
  wire   = wire.data
  length = "40 cm"
}

order "all" { runs = [run.left, run.right] }
