# Sound: two leads of 14 AWG, 60 degC PVC (15 A at 30 degC), in one conduit at 36.9 degC: 15 x 0.80 x sqrt(23.1/30) = 10.53 A behind 10 A fuses (0.95).
# Source: NFPA 70 Table 310.16, 60 degC column, and 310.15(B), sqrt((60-T)/30); 0.80 for four to six loaded conductors (310.15(C)(1)), for two circuits in IEC 60364-5-52 B.52.17 too; In <= Iz.
plan "two-flat-leads-under-a-tin-roof" {
  title   = "Two pairs of lines under a tin roof"
  mains   = "120 V"
  ambient = "36.9 degC"
}

strip "line" { like = catalog.ws2815_12v_60 }

wire "feed" { like = catalog.awg_14_pair }

wire "tap" { like = catalog.awg_16 }

wire "data" { gauge = "22 AWG" }

joint "near" { like = catalog.barrier_terminal_3 }

joint "far" { like = catalog.barrier_terminal_3 }

supply "box" {
  output      = "12 V"
  rating      = "20 A"
  input       = ["120 V"]
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
  times  = 4
  length = "3 m"
}

lead "near" {
  from   = supply.box.out
  to     = joint.near
  wire   = wire.feed
  length = "1.5 m"
  fuse   = "10 A"
}

lead "far" {
  from   = supply.box.out
  to     = joint.far
  wire   = wire.feed
  length = "1.5 m"
  fuse   = "10 A"
  within = lead.near
}

lead "near-1" {
  from   = joint.near
  to     = run.line-1.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "near-2" {
  from   = joint.near
  to     = run.line-2.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "far-1" {
  from   = joint.far
  to     = run.line-3.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "far-2" {
  from   = joint.far
  to     = run.line-4.start
  wire   = wire.tap
  length = "40 cm"
  fuse   = "5 A"
}

lead "board" {
  from   = supply.box.out
  to     = controller.brain.power
  wire   = wire.data
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
  times  = 3
}

order "all" { runs = [run.line-all] }
