# Hazard: 10 A falls to 7.5 A at 50 degC; 80 % of it is 6.0 A and 404 pixels take 6.1 A, with the board 6.3 A (1.05).
# Source: supply derating (a supply manual's chart); 80 % continuous load: common practice, no source.
plan "supply-derated-in-heat" {
  title   = "Supply derated in heat"
  mains   = "230 V"
  ambient = "50 degC"
  rate    = "30 Hz"
}

strip "s" {
  like         = catalog.ws2815_12v_60
  idle_current = "0.1 mA"
}

wire "feed" { gauge = "1.5 mm2" }
wire "data" { gauge = "22 AWG" }

supply "psu" {
  output      = "12 V"
  rating      = "10 A"
  input       = ["230 V"]
  derate_from = "40 degC"
  derate      = "2.5 %/degC"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  pixels = 202
  strip  = strip.s
}
run "r2" {
  pixels = 202
  strip  = strip.s
}

lead "f1" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}
lead "f2" {
  from   = supply.psu.out
  to     = run.r2.start
  wire   = wire.feed
  length = "1 m"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.psu.out
  to     = controller.ctl.power
  wire   = wire.data
  length = "40 cm"
  fuse   = "1 A"
}

signal "d" {
  from   = controller.ctl.port.a
  to     = run.r.start
  wire   = wire.data
  length = "60 cm"
}
signal "d2" {
  from   = run.r.end
  to     = run.r2.start
  wire   = wire.data
  length = "15 cm"
}

order "all" { runs = [run.r, run.r2] }
