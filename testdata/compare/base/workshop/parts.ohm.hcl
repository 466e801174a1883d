# What the workshop buys and keeps.

let { stock_drop = "14 %" }

policy { drop = let.stock_drop }

strip "house" {
  like  = catalog.ws2812b_5v_30
  price = "24 EUR"
}

diffuser "tube" {
  like  = catalog.silicone_tube_side_bend
  price = "19 EUR"
}

fixing "clip" {
  like  = catalog.tube_clip
  price = "4.50 EUR"
}

wire "feed" {
  gauge = "16 AWG"
  reel  = "25 m"
  price = "14 EUR"
}

wire "data" {
  gauge = "22 AWG"
  reel  = "25 m"
  price = "8 EUR"
}
