# Joints: one stands for a pair, plus with plus and minus with minus, so buy two
# pieces where a piece joins one conductor only. ways counts the conductors that
# each side takes. A contact's resistance is that of one clean, tight contact.

# Lever splices.

joint "lever_joint_2" {
  kind       = "lever"
  ways       = 2
  rating     = "20 A"
  gauges     = ["24 AWG", "12 AWG"]
  resistance = "1 mohm"
  source     = "rating: 20 A in UL 486C listings, 32 A at 4 mm2 under IEC 60998 (from memory); the lower is taken. gauges, resistance: from memory"
}

joint "lever_joint_3" {
  like = catalog.lever_joint_2
  ways = 3
}

joint "lever_joint_5" {
  like = catalog.lever_joint_2
  ways = 5
}

# Screw terminal strips (each pole a screw in a plastic block), bridged to the
# number of ways.

joint "screw_terminal_2" {
  kind       = "screw"
  ways       = 2
  rating     = "10 A"
  gauges     = ["22 AWG", "14 AWG"]
  resistance = "2 mohm"
  source     = "rating: small blocks are sold for 3, 5, 10 and 16 A; 10 A for 14 AWG and 2.5 mm2 taken: common practice, no source. gauges, resistance: common practice, no source"
}

joint "screw_terminal_3" {
  like = catalog.screw_terminal_2
  ways = 3
}

joint "screw_terminal_4" {
  like = catalog.screw_terminal_2
  ways = 4
}

joint "screw_terminal_6" {
  like = catalog.screw_terminal_2
  ways = 6
}

joint "screw_terminal_8" {
  like = catalog.screw_terminal_2
  ways = 8
}

joint "screw_terminal_10" {
  like = catalog.screw_terminal_2
  ways = 10
}

joint "screw_terminal_12" {
  like = catalog.screw_terminal_2
  ways = 12
}

# Barrier strips with ring or fork lugs, bridged to the number of ways.

joint "barrier_terminal_2" {
  kind       = "screw"
  ways       = 2
  rating     = "20 A"
  gauges     = ["22 AWG", "12 AWG"]
  resistance = "1 mohm"
  source     = "rating: 20 A is the usual print on strips with 8.3 to 9.5 mm pitch; 12 AWG is the wire of 20 A (NFPA 70 (NEC) 240.4(D)): common practice, no source. gauges, resistance: common practice, no source"
}

joint "barrier_terminal_3" {
  like = catalog.barrier_terminal_2
  ways = 3
}

joint "barrier_terminal_4" {
  like = catalog.barrier_terminal_2
  ways = 4
}

joint "barrier_terminal_6" {
  like = catalog.barrier_terminal_2
  ways = 6
}

joint "barrier_terminal_8" {
  like = catalog.barrier_terminal_2
  ways = 8
}

joint "barrier_terminal_10" {
  like = catalog.barrier_terminal_2
  ways = 10
}

joint "barrier_terminal_12" {
  like = catalog.barrier_terminal_2
  ways = 12
}

# Bus bars with ring lugs: one bar for plus, one for minus.

joint "bus_bar_4" {
  kind       = "busbar"
  ways       = 4
  rating     = "60 A"
  gauges     = ["16 AWG", "8 AWG"]
  resistance = "0.5 mohm"
  source     = "rating: 2 A/mm2 in a brass bar of 3 mm x 10 mm, an estimate, no source; makers print 100 A and more. gauges, resistance: common practice, no source"
}

joint "bus_bar_6" {
  like = catalog.bus_bar_4
  ways = 6
}

joint "bus_bar_8" {
  like = catalog.bus_bar_4
  ways = 8
}

joint "bus_bar_12" {
  like = catalog.bus_bar_4
  ways = 12
}

# Soldered and crimped. No contact carries more than the thickest wire that it
# takes, and where no rating is given the wire is the limit.

joint "solder_joint_2" {
  kind       = "solder"
  ways       = 2
  gauges     = ["30 AWG", "12 AWG"]
  resistance = "0.2 mohm"
  source     = "common practice, no source: wires lapped, soldered and sleeved; no rating, as the wire is the limit. resistance: from memory"
}

joint "solder_joint_3" {
  like   = catalog.solder_joint_2
  ways   = 3
  source = "common practice, no source: as solder_joint_2, a branch soldered onto a through wire. resistance: from memory"
}

joint "solder_sleeve_2" {
  kind       = "solder"
  ways       = 2
  rating     = "8 A"
  gauges     = ["26 AWG", "16 AWG"]
  resistance = "0.5 mohm"
  source     = "rating: the default ampacity of the thickest wire it takes, 16 AWG (NFPA 70 (NEC) table 402.5). gauges, resistance: common practice, no source: heat-shrink sleeve with a ring of low-melting solder; keep it from heat"
}

joint "crimp_splice_red" {
  kind       = "crimp"
  ways       = 2
  rating     = "8 A"
  gauges     = ["22 AWG", "16 AWG"]
  resistance = "1 mohm"
  source     = "rating: the default ampacity of the thickest wire it takes, 16 AWG (NFPA 70 (NEC) table 402.5). gauges: the usual colour code of insulated butt splices, from memory. resistance: common practice, no source"
}

joint "crimp_splice_blue" {
  kind       = "crimp"
  ways       = 2
  rating     = "15 A"
  gauges     = ["16 AWG", "14 AWG"]
  resistance = "1 mohm"
  source     = "rating: the default ampacity of the thickest wire it takes, 14 AWG (NFPA 70 (NEC) 240.4(D)). gauges: the usual colour code of insulated butt splices, from memory. resistance: common practice, no source"
}

joint "crimp_splice_yellow" {
  kind       = "crimp"
  ways       = 2
  rating     = "30 A"
  gauges     = ["12 AWG", "10 AWG"]
  resistance = "1 mohm"
  source     = "rating: the default ampacity of the thickest wire it takes, 10 AWG (NFPA 70 (NEC) 240.4(D)). gauges: the usual colour code of insulated butt splices, from memory. resistance: common practice, no source"
}

# Plugs and sockets: one conductor in, one out on each side.

joint "barrel_plug_2_1" {
  kind       = "plug"
  ways       = 2
  rating     = "5 A"
  gauges     = ["24 AWG", "16 AWG"]
  resistance = "20 mohm"
  source     = "rating: 5 A is the usual print, no source. resistance: sheets allow 30 mohm when new (from memory), 20 taken. gauges: common practice, no source. 5.5 mm barrel, 2.1 mm pin; check the size, 2.5 mm sockets take it loosely"
}

joint "barrel_plug_2_5" {
  kind       = "plug"
  ways       = 2
  rating     = "5 A"
  gauges     = ["24 AWG", "16 AWG"]
  resistance = "20 mohm"
  source     = "rating: 5 A is the usual print, no source. resistance: sheets allow 30 mohm when new (from memory), 20 taken. gauges: common practice, no source. 5.5 mm barrel, 2.5 mm pin"
}

joint "pigtail_plug_2" {
  kind       = "plug"
  ways       = 2
  rating     = "3 A"
  gauges     = ["28 AWG", "22 AWG"]
  resistance = "20 mohm"
  source     = "rating: 3 A is the usual print for crimped contacts of 2.5 mm pitch, 22 AWG (from memory). resistance: sheets allow 10 mohm when new and 20 mohm after use (from memory), 20 taken. gauges: from memory. Two pins: plus and minus"
}

joint "pigtail_plug_3" {
  kind       = "plug"
  ways       = 2
  rating     = "3 A"
  gauges     = ["28 AWG", "22 AWG"]
  resistance = "20 mohm"
  source     = "rating: 3 A is the usual print for crimped contacts of 2.5 mm pitch, 22 AWG (from memory). resistance: sheets allow 10 mohm when new and 20 mohm after use (from memory), 20 taken. gauges: from memory. Three pins: plus, minus and data"
}

joint "pigtail_plug_4" {
  kind       = "plug"
  ways       = 2
  rating     = "3 A"
  gauges     = ["28 AWG", "22 AWG"]
  resistance = "20 mohm"
  source     = "rating: 3 A is the usual print for crimped contacts of 2.5 mm pitch, 22 AWG (from memory). resistance: sheets allow 10 mohm when new and 20 mohm after use (from memory), 20 taken. gauges: from memory. Four pins: plus, minus, data and clock or second data"
}

joint "sealed_plug_2" {
  kind       = "plug"
  ways       = 2
  rating     = "5 A"
  gauges     = ["22 AWG", "18 AWG"]
  resistance = "10 mohm"
  enclosure  = "IP65"
  source     = "common practice, no source: screwed round plug with a seal, sold as IP65 to IP68 when mated, the lower taken, sold with 20 or 18 AWG tails; rating and resistance from memory. Two pins: plus and minus"
}

joint "sealed_plug_3" {
  kind       = "plug"
  ways       = 2
  rating     = "5 A"
  gauges     = ["22 AWG", "18 AWG"]
  resistance = "10 mohm"
  enclosure  = "IP65"
  source     = "common practice, no source: screwed round plug with a seal, sold as IP65 to IP68 when mated, the lower taken, sold with 20 or 18 AWG tails; rating and resistance from memory. Three pins: plus, minus and data"
}

joint "screw_plug" {
  kind       = "plug"
  ways       = 2
  rating     = "10 A"
  gauges     = ["24 AWG", "14 AWG"]
  resistance = "5 mohm"
  source     = "common practice, no source: two-part screw terminal of 5.08 mm pitch, 10 to 15 A by maker, the lower taken; resistance from memory"
}
