# Sound: a limited source may feed 8 A for ever; the unfused lead is good for 8.42 A (0.95), the strip's copper for 9 A.
# Source: IEC 60950-1 Table 2B, 8.0 A; wire must carry it or be fused.
plan "unfused-behind-limited-source" {
  title   = "Unfused behind limited source"
  mains   = "230 V"
  ambient = "30 degC"
  rate    = "30 Hz"
}

strip "s" {
  like         = catalog.ws2811_24v_60
  rail         = "0.041 ohm/m"
  rail_current = "9 A"
}

wire "feed" {
  gauge           = "1.0 mm2"
  ampacity        = "8.42 A"
  max_temperature = "70 degC"
}

wire "data" { gauge = "22 AWG" }

supply "psu" {
  output   = "24 V"
  rating   = "4 A"
  input    = ["230 V"]
  limited  = true
  overload = "200 %"
}

controller "ctl" {
  board           = catalog.esp32_devkit
  input_voltage   = ["24 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 4 }
}

run "r" {
  length = "3 m"
  strip  = strip.s
}

lead "feed" {
  from   = supply.psu.out
  to     = run.r.start
  wire   = wire.feed
  length = "1 m"
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
