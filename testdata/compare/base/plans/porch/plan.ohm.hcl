# Light over the porch door, and along the window sill beside it.

plan "porch" {
  title = "Porch"
  mains = "230 V"
  rate  = "40 Hz"
  stock = ["../../workshop"]
}

surface "wall" {
  width    = "4 m"
  height   = "3 m"
  material = "brick"
}

supply "brick" {
  output = "5 V"
  trim   = "5.2 V"
  rating = "18 A"
  input  = ["230 V"]
  on     = surface.wall
  at     = ["20 cm", "20 cm"]
  price  = "32 EUR"
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5 V"
  series_resistor = "330 ohm"
  ceiling         = "8 A"
  on              = surface.wall
  at              = ["30 cm", "20 cm"]
  port "a" { pin = 4 }
}

run "arch" {
  strip    = strip.house
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  path {
    start = ["60 cm", "20 cm"]
    line { to = ["60 cm", "140 cm"] }
    arc {
      to     = ["150 cm", "140 cm"]
      radius = "45 cm"
      turn   = "right"
    }
    line { to = ["150 cm", "20 cm"] }
  }
}

run "sill" {
  strip    = strip.house
  diffuser = diffuser.tube
  fixing   = fixing.clip
  on       = surface.wall
  insert   = "cord"
  through  = [["180 cm", "100 cm"], ["330 cm", "100 cm"]]
}

lead "left" {
  from   = supply.brick.out
  to     = run.arch.start
  wire   = wire.feed
  length = "80 cm"
  fuse   = "5 A"
}

lead "right" {
  from   = supply.brick.out
  to     = run.arch.end
  wire   = wire.feed
  length = "1.8 m"
  fuse   = "5 A"
}

lead "sill" {
  from   = supply.brick.out
  to     = run.sill.start
  wire   = wire.feed
  length = "2.4 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "20 cm"
  fuse   = "1 A"
}

signal "arch" {
  from   = controller.brain.port.a
  to     = run.arch.start
  wire   = wire.data
  length = "60 cm"
}

signal "sill" {
  from   = run.arch.end
  to     = run.sill.start
  wire   = wire.data
  length = "1.2 m"
}

order "porch" { runs = [run.arch, run.sill] }

universes "porch" {
  order = order.porch
  first = 1
}

case "evening" {
  color = "#ffb070"
  level = "60 %"
}
