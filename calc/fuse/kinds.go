package fuse

// The kinds of protective device that low-voltage leads have, the commonest
// first. Ratings are in A, voltages in V of direct current.
var kinds = []Kind{
	{
		Name: "blade", Doc: "blade fuse", Standard: "ISO 8820-3",
		// 1 to 30 A as in a fuse maker's guide, 35 and 40 A as on a sheet of the regular
		// size; above, the large size (type E, up to 100 A; from memory).
		Ratings: []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100},
		Volts:   32, Most: 58, Breaks: 1000, // ISO 8820-3, types C, E and F
		Opens: 1.35, Within: "600 s", // operating time at 135 %: 0.75 to 600 s, type C, on a maker's sheet; 1800 s, type E
		gates: []Gate{{2, 5}, {3.5, 0.5}, {6, 0.15}}, // sheets of the regular size, 35 and 40 A
		Share: 0.75,                                  // fuse maker's application note: a 10 A fuse carries 7.5 A at 25 degC; others plan with 80 %
		// Typical drop at the rating: 1 to 30 A from memory, low trust; 40 A 96 mV read
		// on a sheet of the regular size, 75 mV on one of the large size.
		drops: []point{{1, 0.176}, {2, 0.141}, {3, 0.137}, {5, 0.128}, {7.5, 0.116}, {10, 0.109}, {15, 0.102}, {20, 0.098}, {30, 0.084}, {40, 0.096}, {50, 0.075}},
	},
	{
		Name: "glass", Doc: "glass cartridge, 5 x 20 mm or 6.3 x 32 mm", Standard: "IEC 60127-2",
		Ratings: cartridge, Volts: 60, Most: 250, // stamped for 250 V of alternating current; for direct current the maker's sheet decides, 60 V from memory
		Breaks: 35, BreaksTimes: 10, // low breaking capacity: 35 A or 10 times the rating, the greater (IEC 60127-2 sheets 2 and 3, from memory)
		Opens: 2.1, Within: "30 min", // quick at 210 %: at most 30 min, as a maker's sheet prints it; time-lag 2 min, from memory
		gates: timeLag,
		Share: 0.8, drops: cartridgeDrops, // share: makers' guides say 0.8 to 1 for fuses of IEC 60127, from memory
	},
	{
		Name: "ceramic", Doc: "sand-filled ceramic cartridge, 5 x 20 mm or 6.3 x 32 mm", Standard: "IEC 60127-2",
		Ratings: cartridge, Volts: 60, Most: 250,
		Breaks: 1500, // high breaking capacity (IEC 60127-2 sheets 1 and 5, from memory)
		Opens:  2.1, Within: "30 min",
		gates: timeLag,
		Share: 0.8, drops: cartridgeDrops,
	},
	{
		Name: "bolted", Doc: "bolt-down fuse strip", Standard: "ISO 8820-5",
		// Small type 30 to 200 A, large type 60 to 500 A; strips of 61 mm hole spacing
		// (ANL) are of no ISO type and come in the same range. All from memory.
		Ratings: []float64{30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500},
		Volts:   32, Most: 58, Breaks: 2000, // from memory
		Opens: 1.35, Within: "1800 s", // as blades of the large size; from memory
		gates: []Gate{{2, 50}, {3.5, 7}, {6, 1}}, // a sheet of the large size of blades
		Share: 0.75, drops: []point{{30, 0.1}},   // upper end of makers' typical drops, from memory
	},
	{
		Name: "resettable", Doc: "resettable fuse (PTC); its rating is the current that it holds", Standard: "",
		Ratings: []float64{0.5, 0.75, 1.1, 1.6, 1.85, 2.5}, // as one datasheet has them; no standard sets them
		Volts:   16, Most: 60, Breaks: 40,                  // from memory: made for 6 to 60 V, 40 A at the most
		Opens: 2, Within: "some s", // trips at 1.7 to 2 times what it holds, in still air of 20 degC (a maker's datasheet)
		Share: 1,                                                                                                   // passes its hold current without tripping, in still air of 20 degC (the same)
		held:  []point{{-40, 1.5}, {0, 1.15}, {20, 1}, {40, 0.83}, {50, 0.74}, {60, 0.66}, {70, 0.57}, {85, 0.42}}, // typical, from memory
		// Hold current times the greatest resistance one hour after a trip, a maker's datasheet.
		drops: []point{{0.75, 0.75 * 0.230}, {1.1, 1.1 * 0.140}, {1.6, 1.6 * 0.110}, {1.85, 1.85 * 0.090}, {2.5, 2.5 * 0.060}},
	},
}

// cartridge is the series of miniature fuse-links: from 1 A as IEC 60127-7
// prints it, below by the same decade (R10) from memory.
var cartridge = []float64{0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10}

// cartridgeDrops are greatest drops at the rating of quick fuses of 5 x 20 mm
// (IEC 60127-2 sheet 2, from memory, low trust). IEC 60127-7 allows other
// miniature fuses 500 mV at 1 A and 300 mV up to 6.3 A.
var cartridgeDrops = []point{{0.5, 1}, {0.63, 0.65}, {0.8, 0.24}, {1, 0.2}}

// timeLag are the gates of slow cartridges (IEC 60127-2 sheet 3, from memory): quick ones open sooner.
var timeLag = []Gate{{2.75, 10}, {4, 3}, {10, 0.3}}
