# Two shelves over a desk, lit from one supply.

plan "shelf" {
  title = "Shelves over the desk"
  mains = "230 V"
  rate  = "40 Hz"
  note  = "Measured twice: 1 200 mm wide, 18 mm thick."
}

let {
  gap  = "2 cm"
  long = sum("1.2 m", "3 cm")
}

# The strip on both shelves.
# Bought as one reel.
strip "warm" {
  like            = catalog.sk6812_5v_60
  channel_current = { G = "12 mA", R = "12 mA", B = "12 mA", W = "18 mA" }
  price           = "21.50 EUR"
}

wire "feed" { gauge = "18 AWG" }
wire "data" { gauge = "22 AWG" }

supply "brick" {
  output = "5 V"
  rating = "10 A"
  input  = ["120 V", "230 V"]
}

controller "brain" {
  board   = catalog.esp32_devkit
  ceiling = "6 A"
  port "a" { pin = 4 }
  port "b" {
    pin = 5
  }
}

run "upper" {
  strip  = strip.warm
  length = let.long
}

run "lower" {
  like = run.upper
  path {
    start   = ["0 cm", "0 cm"]
    heading = "0 deg"
    line { to = ["60 cm", "0 cm"] }
    arc {
      to     = ["90 cm", "30 cm"]
      radius = "30 cm"
    }
  }
  through = [
    ["0 cm", "0 cm"],
    ["10 cm", "2 cm"], # over the bracket
    ["20 cm", "0 cm"],
  ]
}

lead "upper" {
  from = supply.brick.out[0]
  to   = run.upper["1.5 m"]
  wire = wire.feed
}

order "all" { runs = [run.upper, from_end(run.lower)] }

case "evening" {
  color = "#ffb070"
  level = "70 %"
  held  = true
}
