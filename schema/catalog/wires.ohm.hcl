# Wires and cables. No entry has an ampacity of its own: the conservative table
# counts, which goes by the gauge and the air around it. Sizes are ASTM B258 for
# AWG and IEC 60228 for metric, conductors copper. Nothing here is rated for use
# inside walls, unless its entry says so: the code in force at the place decides
# what may go there.
#
# min_temperature, to be bent or moved: ordinary PVC 5 degC (EN 50565-1, from
# memory; taken for American PVC too, common practice, no source), silicone rubber
# -60 degC (from memory). Fixed, all stand more.

# Single conductors, American gauges.

wire "awg_10" {
  gauge           = "10 AWG"
  stranded        = true
  insulation      = "PVC"
  max_temperature = "105 degC"
  min_temperature = "5 degC"
  source          = "size: ASTM B258; insulation: PVC of UL 758 style 1015, 105 degC (from memory)"
}

wire "awg_12" {
  like  = catalog.awg_10
  gauge = "12 AWG"
}

wire "awg_14" {
  like  = catalog.awg_10
  gauge = "14 AWG"
}

wire "awg_16" {
  gauge           = "16 AWG"
  stranded        = true
  insulation      = "PVC"
  max_temperature = "80 degC"
  min_temperature = "5 degC"
  source          = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory)"
}

wire "awg_18" {
  like  = catalog.awg_16
  gauge = "18 AWG"
}

wire "awg_20" {
  like  = catalog.awg_16
  gauge = "20 AWG"
}

wire "awg_22" {
  like  = catalog.awg_16
  gauge = "22 AWG"
}

wire "awg_24" {
  like  = catalog.awg_16
  gauge = "24 AWG"
}

wire "awg_26" {
  like  = catalog.awg_16
  gauge = "26 AWG"
}

wire "awg_28" {
  like  = catalog.awg_16
  gauge = "28 AWG"
}

wire "awg_30" {
  like  = catalog.awg_16
  gauge = "30 AWG"
}

# Solid, for signals and for terminals that want it.

wire "awg_18_solid" {
  like     = catalog.awg_18
  stranded = false
  source   = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory); solid conductor"
}

wire "awg_20_solid" {
  like     = catalog.awg_20
  stranded = false
  source   = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory); solid conductor"
}

wire "awg_22_solid" {
  like     = catalog.awg_22
  stranded = false
  source   = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory); solid conductor"
}

wire "awg_24_solid" {
  like     = catalog.awg_24
  stranded = false
  source   = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory); solid conductor"
}

wire "awg_26_solid" {
  like     = catalog.awg_26
  stranded = false
  source   = "size: ASTM B258; insulation: PVC of UL 758 style 1007, 80 degC (from memory); solid conductor"
}

# Soft silicone leads for tight or hot places.

wire "awg_12_silicone" {
  gauge           = "12 AWG"
  stranded        = true
  insulation      = "silicone"
  max_temperature = "180 degC"
  min_temperature = "-60 degC"
  source          = "size: ASTM B258; insulation: silicone rubber, 180 degC (from memory; some makers print 200)"
}

wire "awg_14_silicone" {
  like  = catalog.awg_12_silicone
  gauge = "14 AWG"
}

wire "awg_16_silicone" {
  like  = catalog.awg_12_silicone
  gauge = "16 AWG"
}

wire "awg_18_silicone" {
  like  = catalog.awg_12_silicone
  gauge = "18 AWG"
}

wire "awg_20_silicone" {
  like  = catalog.awg_12_silicone
  gauge = "20 AWG"
}

wire "awg_22_silicone" {
  like  = catalog.awg_12_silicone
  gauge = "22 AWG"
}

# Cables of several conductors, American gauges.

wire "awg_14_pair" {
  like            = catalog.awg_14
  cores           = 2
  max_temperature = "60 degC"
  source          = "size: ASTM B258; flat two-core lead, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_16_pair" {
  like            = catalog.awg_16
  cores           = 2
  max_temperature = "60 degC"
  source          = "size: ASTM B258; flat two-core lead, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_18_pair" {
  like            = catalog.awg_18
  cores           = 2
  max_temperature = "60 degC"
  source          = "size: ASTM B258; flat two-core lead, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_20_pair" {
  like            = catalog.awg_20
  cores           = 2
  max_temperature = "60 degC"
  source          = "size: ASTM B258; flat two-core lead, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_22_pair" {
  like            = catalog.awg_22
  cores           = 2
  max_temperature = "60 degC"
  source          = "size: ASTM B258; flat two-core lead, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_18_triple" {
  like            = catalog.awg_18
  cores           = 3
  max_temperature = "60 degC"
  source          = "size: ASTM B258; three-core lead for plus, minus and data, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_20_triple" {
  like            = catalog.awg_20
  cores           = 3
  max_temperature = "60 degC"
  source          = "size: ASTM B258; three-core lead for plus, minus and data, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "awg_22_triple" {
  like            = catalog.awg_22
  cores           = 3
  max_temperature = "60 degC"
  source          = "size: ASTM B258; three-core lead for plus, minus and data, PVC, taken at the lowest common rating, 60 degC (from memory)"
}

wire "in_wall_14_pair" {
  gauge           = "14 AWG"
  stranded        = true
  cores           = 2
  insulation      = "PVC, type CL2"
  max_temperature = "60 degC"
  min_temperature = "5 degC"
  source          = "size: ASTM B258; type CL2 for Class 2 circuits inside walls, NFPA 70 (NEC) article 725, and its 60 degC: from memory; the code in force decides"
}

wire "in_wall_16_pair" {
  like  = catalog.in_wall_14_pair
  gauge = "16 AWG"
}

wire "in_wall_18_pair" {
  like  = catalog.in_wall_14_pair
  gauge = "18 AWG"
}

wire "network_cable_24" {
  gauge           = "24 AWG"
  stranded        = false
  cores           = 8
  insulation      = "polyethylene, PVC jacket"
  max_temperature = "60 degC"
  min_temperature = "0 degC"
  source          = "four twisted pairs of 24 AWG, solid (ISO/IEC 11801 and TIA-568, from memory); 60 degC, and 0 degC to lay it: from memory; for signals with a differential pair"
}

# Single conductors, metric.

wire "mm2_0_5" {
  gauge           = "0.5 mm2"
  stranded        = true
  insulation      = "PVC, H05V-K"
  max_temperature = "70 degC"
  min_temperature = "5 degC"
  source          = "size: IEC 60228 class 5; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_0_75" {
  like  = catalog.mm2_0_5
  gauge = "0.75 mm2"
}

wire "mm2_1_0" {
  like  = catalog.mm2_0_5
  gauge = "1.0 mm2"
}

wire "mm2_1_5" {
  gauge           = "1.5 mm2"
  stranded        = true
  insulation      = "PVC, H07V-K"
  max_temperature = "70 degC"
  min_temperature = "5 degC"
  source          = "size: IEC 60228 class 5; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_2_5" {
  like  = catalog.mm2_1_5
  gauge = "2.5 mm2"
}

wire "mm2_4" {
  like  = catalog.mm2_1_5
  gauge = "4 mm2"
}

# Solid, metric.

wire "mm2_0_5_solid" {
  like       = catalog.mm2_0_5
  stranded   = false
  insulation = "PVC, H05V-U"
  source     = "size: IEC 60228 class 1; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_0_75_solid" {
  like       = catalog.mm2_0_75
  stranded   = false
  insulation = "PVC, H05V-U"
  source     = "size: IEC 60228 class 1; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_1_0_solid" {
  like       = catalog.mm2_1_0
  stranded   = false
  insulation = "PVC, H05V-U"
  source     = "size: IEC 60228 class 1; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_1_5_solid" {
  like       = catalog.mm2_1_5
  stranded   = false
  insulation = "PVC, H07V-U"
  source     = "size: IEC 60228 class 1; insulation: EN 50525-2-31, 70 degC (from memory)"
}

wire "mm2_2_5_solid" {
  like       = catalog.mm2_2_5
  stranded   = false
  insulation = "PVC, H07V-U"
  source     = "size: IEC 60228 class 1; insulation: EN 50525-2-31, 70 degC (from memory)"
}

# Two-core flexible cables, metric.

wire "flex_2x0_5" {
  like       = catalog.mm2_0_5
  cores      = 2
  insulation = "PVC, H03VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}

wire "flex_2x0_75" {
  like       = catalog.mm2_0_75
  cores      = 2
  insulation = "PVC, H03VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}

wire "flex_2x1_0" {
  like       = catalog.mm2_1_0
  cores      = 2
  insulation = "PVC, H05VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}

wire "flex_2x1_5" {
  like       = catalog.mm2_1_5
  cores      = 2
  insulation = "PVC, H05VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}

wire "flex_2x2_5" {
  like       = catalog.mm2_2_5
  cores      = 2
  insulation = "PVC, H05VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}

wire "flex_2x4" {
  like       = catalog.mm2_4
  cores      = 2
  insulation = "PVC, H05VV-F"
  source     = "size: IEC 60228 class 5; insulation: EN 50525-2-11, 70 degC (from memory)"
}
