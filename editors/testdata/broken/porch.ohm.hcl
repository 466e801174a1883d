# A plan with faults, for trying editors: lead.left has a length without a
# unit, and lead.board is laid out carelessly.
plan "porch-arch" {
  title = "Arch over the porch door"
  mains = "230 V"
  rate  = "40 Hz"
}

strip "arch" { like = catalog.ws2815_12v_60 }
diffuser "tube" { like = catalog.silicone_tube_side_bend }
wire "feed" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}

controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["12 V"]
  buffer        = "5 V"
  ceiling       = "6 A"
  port "a" { pin = 4 }
}

run "arch" {
  strip    = strip.arch
  diffuser = diffuser.tube
  insert   = "cord"
  length   = "3.6 m"
}

lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = 1.2
  fuse   = "7.5 A"
}

lead "board" {
  from = supply.brick.out
    to = controller.brain.power
  wire = wire.data
  length = "25 cm"
  fuse = "1 A"
}

signal "arch" {
  from   = controller.brain.port.a
  to     = run.arch.start
  wire   = wire.data
  length = "60 cm"
}

order "arch" { runs = [run.arch] }
