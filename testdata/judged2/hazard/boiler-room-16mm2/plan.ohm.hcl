# Hazard: 16 mm2 (54 A, B2, 40 degC) carries 54 x sqrt(23.3/30) = 47.6 A at 46.7 degC, behind a bolted 50 A fuse (1.05).
# Source: IEC 60204-1 Table 6 B2 (from memory) and its ambient factors, sqrt((70-T)/30); In <= Iz, IEC 60364-4-43 433.1.
plan "boiler-room-16mm2" {
  title   = "Six lines over the pipes of a boiler room"
  mains   = "230 V"
  ambient = "46.7 degC"
}

strip "line" { like = catalog.ws2815_12v_60 }

wire "trunk" {
  gauge           = "16 mm2"
  insulation      = "PVC"
  max_temperature = "70 degC"
}

wire "tap" {
  gauge           = "1.5 mm2"
  insulation      = "PVC"
  max_temperature = "70 degC"
}

wire "data" { gauge = "22 AWG" }

holder "main" {
  kind    = "bolted"
  voltage = "32 V"
  rating  = "200 A"
}

joint "bar" {
  kind   = "busbar"
  ways   = 8
  rating = "100 A"
  gauges = ["0.75 mm2", "25 mm2"]
}

supply "box" {
  output      = "12 V"
  rating      = "40 A"
  input       = ["230 V"]
  derate_from = "50 degC"
  derate      = "2.5 %/degC"
}

controller "brain" {
  board           = catalog.esp32_devkit
  input_voltage   = ["5 V", "12 V"]
  buffer          = "5 V"
  series_resistor = "330 ohm"
  port "a" { pin = 18 }
}

run "line" {
  strip  = strip.line
  times  = 6
  length = "3 m"
}

lead "trunk" {
  from   = supply.box.out
  to     = joint.bar
  wire   = wire.trunk
  length = "2 m"
  fuse   = "50 A"
  holder = holder.main
}

lead "tap" {
  from   = joint.bar
  to     = run.line-each.start
  wire   = wire.tap
  length = "1 m"
  fuse   = "5 A"
  times  = 6
}

lead "board" {
  from   = joint.bar
  to     = controller.brain.power
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "first" {
  from   = controller.brain.port.a
  to     = run.line-1.start
  wire   = wire.data
  length = "50 cm"
}

signal "next" {
  from   = run.line-each.end
  to     = run.line-next.start
  wire   = wire.data
  length = "30 cm"
  times  = 5
}

order "all" { runs = [run.line-all] }
