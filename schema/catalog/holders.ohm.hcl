# Fuse holders and fuse blocks. One without ways is an in-line holder, of which
# each lead has its own; one with ways takes the fuses of so many leads. voltage
# is the lower of what the holder and the usual fuse in it are rated for; write
# the higher one where both are. resistance is that of a way's two contacts.

# Blade fuses.

holder "inline_blade" {
  kind       = "blade"
  voltage    = "32 V"
  rating     = "30 A"
  resistance = "3 mohm"
  source     = "voltage: ISO 8820-3, the lower of its two. rating: usual print for a holder with 12 AWG tails, no source; with thinner tails what they carry counts. resistance: common practice, no source: two spring contacts"
}

holder "blade_block_4" {
  kind       = "blade"
  ways       = 4
  voltage    = "32 V"
  rating     = "30 A"
  resistance = "3 mohm"
  source     = "voltage: ISO 8820-3, the lower of its two. rating: usual print of each way, no source; the sum is often less, read the print. resistance: common practice, no source"
}

holder "blade_block_6" {
  like = catalog.blade_block_4
  ways = 6
}

holder "blade_block_8" {
  like = catalog.blade_block_4
  ways = 8
}

holder "blade_block_12" {
  like = catalog.blade_block_4
  ways = 12
}

holder "inline_blade_large" {
  kind       = "blade"
  voltage    = "32 V"
  rating     = "60 A"
  resistance = "1 mohm"
  source     = "voltage: ISO 8820-3 type E. rating: usual print for a holder with 8 AWG tails, no source. resistance: common practice, no source"
}

# Cartridges of 5 x 20 mm and 6.3 x 32 mm.

holder "inline_glass" {
  kind       = "glass"
  voltage    = "60 V"
  rating     = "6.3 A"
  resistance = "5 mohm"
  source     = "voltage: holders and fuses are printed 250 V of alternating current; for direct current the maker's sheet decides, 60 V from memory. rating: IEC 60127-6 holders of 5 x 20 mm are common for 6.3 and 10 A, the lower taken, from memory. resistance: IEC 60127-6 allows 5 mohm new, from memory"
}

holder "panel_glass" {
  like   = catalog.inline_glass
  rating = "10 A"
  source = "as inline_glass; rating: usual print of panel holders for 5 x 20 mm and 6.3 x 32 mm, no source"
}

holder "inline_ceramic" {
  like = catalog.inline_glass
  kind = "ceramic"
}

# Bolted down.

holder "bolted_small" {
  kind       = "bolted"
  voltage    = "32 V"
  rating     = "200 A"
  resistance = "0.2 mohm"
  source     = "voltage, rating: ISO 8820-5 type SF30, from memory. resistance: two bolted contacts, common practice, no source"
}

holder "bolted_large" {
  like   = catalog.bolted_small
  rating = "500 A"
  source = "voltage, rating: ISO 8820-5 type SF51, and strips of 61 mm hole spacing, from memory. resistance: two bolted contacts, common practice, no source"
}

# Resettable fuses, soldered in: no holder, no contacts.

holder "resettable_16v" {
  kind    = "resettable"
  voltage = "16 V"
  source  = "one maker's series for 16 V, from memory; 30 V and 60 V ones hold less for their size"
}
