# Hazard: pixels on 4.5 V stand 4.5 + 0.5 = 5.0 V at their input; the buffer gives 5.25 V (1.05).
# Source: WS2812B sheet: input at most VDD + 0.5 V (from memory), one at 0.7 VDD.
plan "buffer-above-the-pixels" {
  title = "Rim of a mirror, the board on its own supply"
  mains = "230 V"
}

strip "rim" { like = catalog.ws2812b_5v_60 }

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "5 V"
  rating = "5 A"
  input  = ["230 V"]
  trim   = "4.5 V"
}

controller "brain" {
  board           = catalog.esp32_devkit
  buffer          = "5.25 V"
  series_resistor = "330 ohm"
  own_power       = true
  port "a" { pin = 18 }
}

run "rim" {
  strip     = strip.rim
  length    = "50 cm"
  capacitor = "1000 uF"
}

lead "rim" {
  from   = supply.box.out
  to     = run.rim.start
  wire   = wire.feed
  length = "50 cm"
  fuse   = "3 A"
}

lead "minus" {
  from    = supply.box.out
  to      = controller.brain.power
  wire    = wire.feed
  length  = "40 cm"
  carries = "minus"
}

signal "rim" {
  from   = controller.brain.port.a
  to     = run.rim.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.rim] }
