plan "shelf" {
  mains = "230 V"
  rate  = "40 Hz"
}

strip "led" { like = catalog.ws2812b_5v_60 }
wire "feed" { gauge = "16 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "5 V"
  rating = "10 A"
  input  = ["230 V"]
}

surface "wall" {
  width  = "1.2 m"
  height = "80 cm"
}

controller "brain" {
  board   = catalog.esp32_devkit
  buffer  = "5 V"
  ceiling = "4 A"
  port "a" { pin = 4 }
}

run "top" {
  strip   = strip.led
  on      = surface.wall
  through = [["10 cm", "60 cm"], ["110 cm", "60 cm"]]
}

run "low" {
  strip   = strip.led
  on      = surface.wall
  through = [["10 cm", "30 cm"], ["110 cm", "30 cm"]]
}

lead "top" {
  from   = supply.brick.out
  to     = run.top.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "low" {
  from   = supply.brick.out
  to     = run.low.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.brick.out
  to     = controller.brain.power
  wire   = wire.data
  length = "20 cm"
  fuse   = "1 A"
}

signal "top" {
  from   = controller.brain.port.a
  to     = run.top.start
  wire   = wire.data
  length = "60 cm"
}

signal "low" {
  from   = run.top.end
  to     = run.low.start
  wire   = wire.data
  length = "1.2 m"
}

order "shelf" { runs = [run.top, from_end(run.low)] }
