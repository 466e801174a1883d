# A plan is everything that hangs on the wall: strips, supplies, wires, pixels.
# All *.ohm.hcl files of a directory are one plan; split it as you like.
#
#   ohmstead check      says what will not work, and why
#   ohmstead show       shows every voltage, current and address
#   ohmstead explain    explains the rules
#   ohmstead catalog    lists the parts that you can start from
#
# Every value has a unit. What is not sure yet: measure it, and write it here.

plan "NAME" {
  title = "NAME"
  mains = "230 V" # what comes out of the wall where it hangs
  rate  = "40 Hz" # pictures a second that the effects need
}

# The strip as it comes off the reel. The catalogue gives typical values; write
# beside "like" what your reel's sheet or your own meter says instead.
strip "main" { like = catalog.ws2815_12v_60 }

diffuser "tube" { like = catalog.silicone_tube_side_bend }

wire "feed" { gauge = "16 AWG" } # thick, for power
wire "data" { gauge = "22 AWG" } # thin, for data and the board

# The mains side is for a qualified person under the code in force at the place.
supply "brick" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}

controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["5 V", "12 V"] # its carrier has a step-down converter
  buffer        = "5 V"           # a level shifter lifts the data to 5 V
  ceiling       = "4 A"           # the current limit set in its firmware
  port "a" { pin = 4 }
}

# A run is a cut length of strip in its diffuser. Where the shape matters, draw
# it with a path block instead of a length.
run "first" {
  strip    = strip.main
  diffuser = diffuser.tube
  insert   = "cord"
  length   = "3 m"
}

# Power goes from the supply to the run, through a fuse near the supply: a
# ceiling is software and protects no wire.
lead "first" {
  from   = supply.brick.out
  to     = run.first.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "7.5 A"
}

lead "brain" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "25 cm"
  fuse   = "1 A"
}

# Data goes from the controller to where the arrows on the strip begin.
signal "first" {
  from   = controller.brain.port.a
  to     = run.first.start
  wire   = wire.data
  length = "60 cm"
}

# The one line of pixels that effects see.
order "all" { runs = [run.first] }

# A load case of your own, beside the built-in full (everything white) and held
# (the same under the ceiling).
case "evening" {
  color = "#ffb070"
  level = "60 %"
}
