# Eighteen metres under the eave in four lengths, 24 V, fed from a trunk that is
# itself fed from both ends; the pixels have network addresses.

plan "eave" {
  title   = "Eave of the boat club"
  mains   = "230 V"
  ambient = "35 degC"
  rate    = "30 Hz"
}

let { bay = "4.5 m" }

strip "eave" {
  like      = catalog.ws2811_24v_60
  enclosure = "IP67"
}

diffuser "eave" {
  like  = catalog.channel_deep
  piece = "4.5 m"
}

wire "trunk" { gauge = "2.5 mm2" }
wire "tap" { gauge = "0.75 mm2" }
wire "data" { gauge = "22 AWG" }

supply "loft" {
  output    = "24 V"
  rating    = "15 A"
  input     = ["230 V"]
  enclosure = "IP67"
}

controller "loft" {
  board         = catalog.esp32_devkit
  input_voltage = ["24 V"] # its carrier has a step-down converter
  buffer        = "5 V"
  ceiling       = "10 A"
  port "a" { pin = 18 }
}

joint "eave" {
  like  = catalog.barrier_terminal_4
  times = 5
}

run "eave" {
  times    = 4
  strip    = strip.eave
  diffuser = diffuser.eave
  insert   = "slit"
  through  = [["0 m", "0 m"], [let.bay, "0 m"]]
  shift    = [let.bay, "0 m"]
}

lead "west" {
  from   = supply.loft.out
  to     = joint.eave-1
  wire   = wire.trunk
  length = "3 m"
  fuse   = "10 A"
}

lead "east" {
  from   = supply.loft.out
  to     = joint.eave-5
  wire   = wire.trunk
  length = "20 m"
  fuse   = "10 A"
}

lead "trunk" {
  times  = 4
  from   = joint.eave-each
  to     = joint.eave-next
  wire   = wire.trunk
  length = let.bay
}

lead "near" {
  times  = 4
  from   = joint.eave-each
  to     = run.eave-each.start
  wire   = wire.tap
  length = "20 cm"
  fuse   = "3 A"
}

lead "far" {
  times  = 4
  from   = joint.eave-next
  to     = run.eave-each.end
  wire   = wire.tap
  length = "20 cm"
  fuse   = "3 A"
}

lead "loft" {
  from   = supply.loft.out
  to     = controller.loft.power
  wire   = wire.tap
  length = "40 cm"
  fuse   = "1 A"
}

signal "first" {
  from     = controller.loft.port.a
  to       = run.eave-1.start
  wire     = wire.data
  length   = "3 m"
  resistor = "330 ohm"
}

signal "bay" {
  times  = 3
  from   = run.eave-each.end
  to     = run.eave-next.start
  wire   = wire.data
  length = "25 cm"
}

order "eave" { runs = [run.eave-all] }

universes "eave" {
  order = order.eave
  first = 1
}

case "lantern" {
  color = "#ff9040"
  level = "50 %"
}
