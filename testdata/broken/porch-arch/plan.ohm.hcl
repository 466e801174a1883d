plan "porch-arch" {
  title = "Arch over the porch door"
  mains = "230 V"
  rate  = "40 Hz"
}

strip "arch" {
  like  = catalog.ws2815_12v_60
  price = "24 EUR"
}

diffuser "tube" { like = catalog.silicone_tube_side_bend }
wire "feed" { gauge = "22 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "12 V"
  rating = "12.5 A"
  input  = ["230 V"]
}

controller "brain" {
  board         = catalog.esp32_devkit
  input_voltage = ["5 V", "12 V"] # its carrier has a step-down converter
  ceiling       = "6 A"
  port "a" { pin = 12 }
}

run "arch" {
  strip    = strip.arch
  diffuser = diffuser.tube
  insert   = "cord"
  pixels   = 300
  path {
    start = ["0 cm", "0 cm"]
    line { to = ["0 cm", "140 cm"] }
    arc {
      to     = ["90 cm", "140 cm"]
      radius = "45 cm"
      turn   = "right"
    }
    line { to = ["90 cm", "0 cm"] }
  }
}

lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = "1.2 m"
  fuse   = "7.5 A"
}

lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "25 cm"
  fuse   = "1 A"
}

signal "arch" {
  from   = controller.brain.port.a
  to     = run.arch.end
  wire   = wire.data
  length = "60 cm"
}

order "arch" { runs = [run.arch] }
