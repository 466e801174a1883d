# Hazard: 18 AWG (6 A at 30 degC, 75 degC wire) carries 4.76 A at 46.7 degC, behind a 5 A fuse.
# Source: NFPA 70 Table 402.5 and 310.15(B)(1), sqrt((75-T)/45) (from memory); In <= Iz.
plan "hot-attic-awg-lead" {
  title   = "Hot attic awg lead"
  mains   = "120 V"
  ambient = "46.7 degC"
  rate    = "30 Hz"
}

strip "s" { like = catalog.ws2815_12v_60 }
wire "feed" {
  gauge           = "18 AWG"
  insulation      = "PVC"
  max_temperature = "75 degC"
}

wire "data" {
  gauge           = "22 AWG"
  max_temperature = "105 degC"
}

supply "psu" {
  output      = "12 V"
  rating      = "7.5 A"
  input       = ["120 V"]
  derate_from = "50 degC"
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
  length = "2 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
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

order "all" { runs = [run.r] }
