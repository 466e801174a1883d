# Sound: people read by it, and the chip switches fully on and off 1316 times a second; low risk begins at 1250 Hz (1.05 of it).
# Source: IEEE 1789-2015: at most 0.08 % x f below 1250 Hz (from memory); 100 % wants 1250 Hz.
plan "reading-light-that-flickers" {
  title    = "Over the desks of a reading room"
  mains    = "230 V"
  occupied = true
}

strip "desk" {
  like     = catalog.ws2815_12v_60
  pwm_rate = "1316 Hz"
  source   = "switching rate measured with a photodiode, the rest as the catalogue's entry"
}

wire "feed" { gauge = "1.5 mm2" }

wire "data" { gauge = "22 AWG" }

supply "box" {
  output = "12 V"
  rating = "10 A"
  input  = ["230 V"]
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "desk" {
  strip  = strip.desk
  length = "3 m"
}

lead "desk" {
  from   = supply.box.out
  to     = run.desk.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "desk" {
  from   = controller.brain.port.a
  to     = run.desk.start
  wire   = wire.data
  length = "50 cm"
}

order "all" { runs = [run.desk] }
