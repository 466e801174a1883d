# What holds a run to its surface. Spacing is the most between two on a straight
# stretch, unless the entry says otherwise. Packs differ by seller.

fixing "tube_clip" {
  kind    = "clip"
  spacing = "45 cm"
  holds   = "500 g"
  pack    = 10
  source  = "spacing: a rigid light guide's installation manual, at most 457 mm (common practice for soft tube: 50 cm); holds, pack: common practice, no source"
}

fixing "tube_clip_curve" {
  like    = catalog.tube_clip
  spacing = "15 cm"
  source  = "spacing in curves: common practice, no source (15 to 20 cm); holds, pack: common practice, no source"
}

fixing "flex_clip" {
  like    = catalog.tube_clip
  spacing = "90 cm"
  source  = "spacing: a neon-flex quick guide, at most 914 mm, for stiff solid profiles; holds, pack: common practice, no source"
}

fixing "strip_saddle" {
  kind    = "clip"
  spacing = "20 cm"
  holds   = "100 g"
  pack    = 50
  source  = "spacing: a light engine's installation manual, 127 to 203 mm, for bare or sleeved strip; holds, pack: common practice, no source"
}

fixing "channel_clip" {
  kind    = "clip"
  spacing = "50 cm"
  holds   = "500 g"
  pack    = 10
  source  = "common practice, no source: two to a piece of 1 m"
}

fixing "channel_screw" {
  kind    = "screw"
  spacing = "50 cm"
  holds   = "2 kg"
  pack    = 100
  source  = "common practice, no source: countersunk, 3 mm, through the floor of the channel, into wood or a plug"
}

fixing "tube_bracket" {
  kind    = "screw"
  spacing = "45 cm"
  holds   = "1 kg"
  pack    = 20
  source  = "spacing: a rigid light guide's installation manual, at most 457 mm; holds, pack: common practice, no source: screwed saddle round the tube"
}

fixing "adhesive_tape" {
  kind            = "adhesive"
  material        = "acrylic"
  min_temperature = "10 degC"
  holds_down_to   = "-35 degC"
  holds_up_to     = "90 degC"
  source          = "min_temperature, and what it holds between: a tape maker's guide, from memory. Common practice, no source: continuous tape holds a bare strip or a light channel on a clean smooth surface; it does not hold a filled tube, so no spacing and no weight are given"
}

fixing "removable_strip" {
  kind            = "adhesive"
  material        = "acrylic"
  spacing         = "30 cm"
  holds           = "200 g"
  min_temperature = "10 degC"
  holds_down_to   = "10 degC"
  holds_up_to     = "40 degC"
  pack            = 8
  source          = "temperatures: sellers' sheets of strips that come off by pulling, indoors on clean paint, from memory; spacing, holds, pack: common practice, no source, below the 450 g of a small one's sheet, as for what hangs for long"
}

fixing "magnet_clip" {
  kind        = "magnet"
  spacing     = "30 cm"
  holds       = "500 g"
  holds_up_to = "80 degC"
  pack        = 10
  source      = "holds_up_to: makers' tables of grades of neodymium magnets, without a letter behind the number, from memory; the rest common practice, no source: clip with a magnet foot on bare steel; paint and air gaps weaken it"
}

fixing "cable_tie" {
  kind    = "tie"
  spacing = "30 cm"
  holds   = "2 kg"
  pack    = 100
  source  = "spacing, pack: common practice, no source, along a rail; holds: a quarter of the 80 N loop strength of a tie 2.5 mm wide (from memory)"
}

fixing "gutter_hook" {
  kind    = "hook"
  spacing = "40 cm"
  holds   = "500 g"
  pack    = 25
  source  = "common practice, no source: hook over a gutter or a roof edge"
}
