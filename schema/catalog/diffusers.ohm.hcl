# Diffusers: silicone tubes by outer size (width x height, lit face up) and
# aluminium channels with an opal cover.
#
# Sizes, the film that fits and the radii are common practice, no source. A strip
# bends only over its flat side: a tube for bending to the side holds it on edge.
# The radius is the upper end of what sellers give for the tube's dimension
# across the bend: 30-50 mm for 6-8 mm, 60-80 mm for 10-12 mm, 100-150 mm for
# 16-20 mm.
#
# heat_limit of a tube: its surface 20 K above still air at 10 W/m2K, so 200 W/m2
# times its perimeter (an estimate, no source), and no more than 13 W/m, as metal
# is advised above about 10 W/m, +-30 % (common practice, no source). A strip's
# board should stay at or below 50 degC (a profile maker's note).
#
# min_temperature of a tube: silicone rubber stays soft to -60 degC (from memory).
# cover of a channel: opal polycarbonate or acrylic, which grow alike (common
# practice, no source).
#
# weight of a tube: silicone of 1.2 g/cm3 (from memory), a third of it hollow
# (common practice, no source).

# Tubes that bend to the side: letters, arches, anything flat on a wall.

diffuser "silicone_tube_side_12x20" {
  kind            = "tube"
  material        = "silicone"
  min_temperature = "-60 degC"
  piece           = "5 m"
  inner_width     = "10.2 mm"
  depth           = "13 mm"
  bend_radius     = "80 mm"
  bend_plane      = "side"
  push_limit      = "60 cm"
  heat_limit      = "12.5 W/m"
  weight          = "190 g/m"
  joinable        = false
  caps            = 2
  source          = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_side_bend" {
  like   = catalog.silicone_tube_side_12x20
  source = "the everyday size for strips of 8 to 10 mm, as silicone_tube_side_12x20: common practice, no source; size from memory; heat_limit and weight are estimates from the outer size"
}

diffuser "silicone_tube_side_6x12" {
  like        = catalog.silicone_tube_side_12x20
  inner_width = "6.2 mm"
  depth       = "7 mm"
  bend_radius = "50 mm"
  heat_limit  = "7 W/m"
  weight      = "56 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_side_8x16" {
  like        = catalog.silicone_tube_side_12x20
  inner_width = "6.2 mm"
  depth       = "11 mm"
  bend_radius = "50 mm"
  heat_limit  = "9 W/m"
  weight      = "100 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_side_10x18" {
  like       = catalog.silicone_tube_side_12x20
  depth      = "11 mm"
  heat_limit = "11 W/m"
  weight     = "140 g/m"
  source     = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_side_20x20" {
  like        = catalog.silicone_tube_side_12x20
  inner_width = "12.2 mm"
  depth       = "12 mm"
  bend_radius = "150 mm"
  heat_limit  = "13 W/m"
  weight      = "310 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

# Tubes that bend towards and away from their lit face: hoops, columns, coves.

diffuser "silicone_tube_top_16x16" {
  kind            = "tube"
  material        = "silicone"
  min_temperature = "-60 degC"
  piece           = "5 m"
  inner_width     = "12.2 mm"
  depth           = "12 mm"
  bend_radius     = "150 mm"
  bend_plane      = "top"
  push_limit      = "60 cm"
  heat_limit      = "12.5 W/m"
  weight          = "200 g/m"
  joinable        = false
  caps            = 2
  source          = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_top_bend" {
  like   = catalog.silicone_tube_top_16x16
  source = "the everyday size for strips of 10 to 12 mm, as silicone_tube_top_16x16: common practice, no source; size from memory; heat_limit and weight are estimates from the outer size"
}

diffuser "silicone_tube_top_6x12" {
  like        = catalog.silicone_tube_top_16x16
  inner_width = "5.2 mm"
  depth       = "8 mm"
  bend_radius = "80 mm"
  heat_limit  = "7 W/m"
  weight      = "56 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_top_10x10" {
  like        = catalog.silicone_tube_top_16x16
  inner_width = "8.2 mm"
  depth       = "6 mm"
  bend_radius = "80 mm"
  heat_limit  = "8 W/m"
  weight      = "78 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_top_12x12" {
  like        = catalog.silicone_tube_top_16x16
  inner_width = "10.2 mm"
  depth       = "8 mm"
  bend_radius = "80 mm"
  heat_limit  = "9.5 W/m"
  weight      = "110 g/m"
  source      = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

diffuser "silicone_tube_top_20x20" {
  like       = catalog.silicone_tube_top_16x16
  depth      = "16 mm"
  heat_limit = "13 W/m"
  weight     = "310 g/m"
  source     = "common practice, no source; size from memory; heat_limit and weight are estimates from the outer size, see the head of the file"
}

# Channels: rigid and straight. The strip is laid in and the cover snapped on, so
# there is no length limit for pushing; a continuous cover hides a butt joint.

diffuser "channel_surface" {
  kind        = "channel"
  material    = "aluminium"
  cover       = "polycarbonate"
  piece       = "2 m"
  inner_width = "12.2 mm"
  depth       = "6 mm"
  heat_limit  = "20 W/m"
  weight      = "160 g/m"
  joinable    = true
  caps        = 2
  source      = "common practice, no source: 17 mm wide, 8 mm high, with cover; depth: a seller's guide, 6 to 13 mm between strip and cover"
}

diffuser "channel_deep" {
  like       = catalog.channel_surface
  depth      = "13 mm"
  heat_limit = "25 W/m"
  weight     = "250 g/m"
  source     = "common practice, no source: 17 mm wide, 15 mm high, with cover; depth: a seller's guide, 6 to 13 mm between strip and cover"
}

diffuser "channel_corner" {
  like   = catalog.channel_surface
  depth  = "9 mm"
  weight = "200 g/m"
  source = "common practice, no source: 16 mm x 16 mm for an inside corner, with cover; depth: a seller's guide, 6 to 13 mm between strip and cover"
}

diffuser "channel_recessed" {
  like       = catalog.channel_surface
  heat_limit = "15 W/m"
  weight     = "190 g/m"
  source     = "common practice, no source: 25 mm flange, 8 mm high, with cover; heat_limit: lower than channel_surface, as no air passes behind it; depth: a seller's guide, 6 to 13 mm between strip and cover"
}
