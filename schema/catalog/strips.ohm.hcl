# Addressable LED strips: chip, supply voltage, LEDs per metre.
#
# Two strips sold under one chip's name may differ by 1.6 times in current
# ("How Much Current Do WS2812 LEDs Really Use?", two strips measured), and the
# order of the colours differs too. The currents here are on the high side, so
# that supplies and fuses come out large enough. Measure your reel and write
# what you found beside like.
#
# Copper is never printed on a reel. A rail is R = 0.01724 ohm mm2/m divided by
# thickness times width, and 2 oz copper is 0.070 mm thick (IPC-4562, from
# memory). The widths are common practice, no source: 2 to 4 mm a rail on a
# strip of 10 to 12 mm.
#
# The most current of a rail is the lesser of two, rounded down to whole or half amperes:
# what IPC-2221 (from memory) allows an outer trace at 10 K rise,
# I = 0.048 dT^0.44 A^0.725 with A in square mils; and what turns 5 W/m into heat
# in both rails together (2.5 W/m on film of 5 mm), half of what a diffuser
# carries away (common practice, no source). One strip maker prints 3 A for a
# module (LM10A flexible LED module datasheet, safety information).
let {
  rail_5mm  = "0.205 ohm/m"  # 0.070 mm x 1.2 mm
  rail_10mm = "0.082 ohm/m"  # 0.070 mm x 3 mm
  rail_12mm = "0.0616 ohm/m" # 0.070 mm x 4 mm
  rail_both = "0.041 ohm/m"  # 0.070 mm x 3 mm on both layers, joined at each chip

  rail_current_5mm  = "2 A"   # IPC-2221: 4.5 A; 1.6 W/m
  rail_current_10mm = "5 A"   # IPC-2221: 8.8 A; 4.1 W/m
  rail_current_12mm = "6 A"   # IPC-2221: 10.8 A; 4.4 W/m
  rail_current_both = "7.5 A" # IPC-2221: 14.5 A; 4.6 W/m
}

# 5 V, one chip in each LED, data line only.

strip "ws2812b_5v_60" {
  chip            = "WS2812B"
  voltage         = "5 V"
  density         = "60/m"
  channels        = "GRB"
  channel_current = "20 mA"
  idle_current    = "1 mA"
  forward         = { R = "2.1 V", G = "3.2 V", B = "3.2 V" }
  headroom        = "0.5 V"
  min_voltage     = "4 V"
  max_voltage     = "5.3 V"
  rail            = let.rail_10mm
  rail_current    = let.rail_current_10mm
  cut             = 1
  width           = "10 mm"
  bend_radius     = "30 mm"
  bits            = 24
  bit_rate        = "800 kbit/s"
  latch           = "300 us"
  logic_high      = "70 %"
  reel            = "5 m"
  pwm_rate        = "400 Hz"
  source          = "WS2812B datasheet: 3.5 to 5.3 V, red 2.0-2.2 V, green and blue 3.0-3.4 V (middle taken), 0.7 VDD, GRB, 800 kbit/s, 20 mA nominal (bench logs of a strip tester: 16.0-18.5 mA; idle 1.0-1.3 mA). latch: later sheet 280 us, early sheet 50 us, rounded up. min_voltage: blue at 3.4 V + 0.5 V, rounded up. headroom: from memory. bend_radius: a seller's note. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: that sheet, 400 Hz or more (432 Hz measured)"
}

strip "ws2812b_5v_30" {
  like    = catalog.ws2812b_5v_60
  density = "30/m"
  source  = "as ws2812b_5v_60 (WS2812B datasheet and common practice); density: seller specification"
}

strip "ws2812b_5v_96" {
  like    = catalog.ws2812b_5v_60
  density = "96/m"
  source  = "as ws2812b_5v_60 (WS2812B datasheet and common practice); density: seller specification"
}

strip "ws2812b_5v_144" {
  like         = catalog.ws2812b_5v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as ws2812b_5v_60 (WS2812B datasheet and common practice); density: seller specification; width, rail, reel (1 or 2 m): common practice, no source"
}

strip "ws2812b_v5_5v_60" {
  like            = catalog.ws2812b_5v_60
  chip            = "WS2812B-V5"
  channel_current = "16 mA"
  idle_current    = "0.8 mA"
  logic_high      = "65 %"
  pwm_rate        = "2 kHz"
  source          = "as ws2812b_5v_60, but channel_current, idle_current: bench logs of a strip tester, one sample (15.7-16.0 mA, 0.7-0.8 mA; the sheet says 12 mA, from memory); logic_high: a public digest of chip datasheets, 0.65 VDD (the sheet says 2.7 V, from memory); latch: sheet 280 us, bench 238 us, rounded up. pwm_rate: sheet 2000 Hz (2074 Hz measured)"
}

strip "ws2812b_v5_5v_144" {
  like         = catalog.ws2812b_v5_5v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as ws2812b_v5_5v_60 (bench logs, a digest of chip datasheets, common practice); density: seller specification; width, rail, reel: common practice, no source"
}

strip "ws2813_5v_60" {
  like            = catalog.ws2812b_5v_60
  chip            = "WS2813"
  channel_current = "18 mA"
  idle_current    = "0.7 mA"
  logic_high      = "60 %"
  backup_data     = true
  pwm_rate        = "2 kHz"
  source          = "a community list of pixel chips, 2026-02, and a public digest of chip datasheets: 18 mA (5 mA makes exist), 0.7 mA idle, input 3.0 V at 5 V, 3.5-5.3 V, second data line, latch 280 us rounded up; sheets give RGB or GRB: try the first pixel with plain red. forward, headroom, min_voltage as WS2812B. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: that list, 2000 Hz"
}

strip "ws2813_5v_30" {
  like    = catalog.ws2813_5v_60
  density = "30/m"
  source  = "as ws2813_5v_60 (a community list of pixel chips, a digest of chip datasheets, common practice); density: seller specification"
}

strip "sk6812_5v_60" {
  like        = catalog.ws2812b_5v_60
  chip        = "SK6812"
  max_voltage = "5.5 V"
  logic_high  = "68 %"
  pwm_rate    = "1.2 kHz"
  source      = "a community list of pixel chips, 2026-02: 20 mA (bench logs: 10.8 mA), 1.0 mA idle, input 3.4 V at 5 V; SK6812 datasheet: GRB, 800 kbit/s, latch 80 us (taken longer, for mixed lots). max_voltage: from memory (sheet 4.5-5.5 V). forward, headroom, min_voltage as WS2812B. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: SK6812 sheet 1200 Hz (bench 1155 Hz; that list 4700 Hz, the lower taken)"
}

strip "sk6812_5v_30" {
  like    = catalog.sk6812_5v_60
  density = "30/m"
  source  = "as sk6812_5v_60 (SK6812 datasheet, a community list of pixel chips, common practice); density: seller specification"
}

strip "sk6812_5v_144" {
  like         = catalog.sk6812_5v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as sk6812_5v_60 (SK6812 datasheet, a community list of pixel chips, common practice); density: seller specification; width, rail, reel (1 or 2 m): common practice, no source"
}

strip "sk6812_rgbw_5v_60" {
  like         = catalog.sk6812_5v_60
  chip         = "SK6812RGBW"
  channels     = "GRBW"
  forward      = { R = "2.1 V", G = "3.2 V", B = "3.2 V", W = "3.2 V" }
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  bits         = 32
  source       = "SK6812RGBW datasheet: 20 mA a channel (a 2019 sheet bins at 13 mA), 1.0 mA idle, 32 bits GRBW (one seller's sheet: RGBW), latch 80 us (taken longer, for mixed lots); input 3.4 V at 5 V: a community list of pixel chips, 2026-02. White is a blue die under phosphor, its forward voltage taken as blue (from memory). max_voltage: from memory. rail, rail_current: computed, see the head of the file. width (10 mm is sold too), reel: common practice, no source"
}

strip "sk6812_rgbw_5v_30" {
  like    = catalog.sk6812_rgbw_5v_60
  density = "30/m"
  source  = "as sk6812_rgbw_5v_60 (SK6812RGBW datasheet, a community list of pixel chips, common practice); density: seller specification"
}

strip "sk6812_rgbw_5v_144" {
  like    = catalog.sk6812_rgbw_5v_60
  density = "144/m"
  reel    = "2 m"
  source  = "as sk6812_rgbw_5v_60 (SK6812RGBW datasheet, a community list of pixel chips, common practice); density: seller specification; reel (1 or 2 m): common practice, no source"
}

strip "sk6805_5v_60" {
  like            = catalog.sk6812_5v_60
  chip            = "SK6805"
  channel_current = "5 mA"
  rail            = let.rail_5mm
  rail_current    = let.rail_current_5mm
  width           = "5 mm"
  logic_high      = "70 %"
  pwm_rate        = "1.2 kHz"
  source          = "from memory: 5 mA a channel, 0.5-1 mA idle, 0.7 VDD, GRB, 4.5-5.5 V; bit rate and latch 80 us (taken longer): a public digest of chip datasheets. forward, headroom, min_voltage as WS2812B. rail, rail_current: computed, see the head of the file. density, width (narrow film for small packages), reel: common practice, no source. pwm_rate: from memory"
}

strip "sk6805_5v_144" {
  like    = catalog.sk6805_5v_60
  density = "144/m"
  reel    = "2 m"
  source  = "as sk6805_5v_60 (from memory, a digest of chip datasheets, common practice); density, reel: common practice, no source"
}

# 5 V, with a clock line beside data. A pixel's 32 bits are an 8-bit header with
# the global dimmer and 8 bits a colour. There is no silence to wait for: the
# frame ends with extra clock pulses, which the timing counts.

strip "apa102_5v_60" {
  like        = catalog.ws2812b_5v_60
  chip        = "APA102"
  channels    = "BGR"
  max_voltage = "5.5 V"
  bits        = 32
  bit_rate    = "4 Mbit/s"
  latch       = "0 us"
  clocked     = true
  pwm_rate    = "19.2 kHz"
  source      = "a community list of pixel chips, 2026-02: 19-22 mA a channel, 1.0 mA idle, input 3.5 V at 5 V, header and B, G, R. bit_rate: common practice; the chip takes 15 to 30 Mbit/s on a bench, but its clock thins out over hundreds of pixels. max_voltage: from memory. forward, headroom, min_voltage as WS2812B. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: that list, 19200 Hz (its global dimmer 400 Hz)"
}

strip "apa102_5v_30" {
  like    = catalog.apa102_5v_60
  density = "30/m"
  source  = "as apa102_5v_60 (a community list of pixel chips, common practice); density: seller specification"
}

strip "apa102_5v_144" {
  like         = catalog.apa102_5v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as apa102_5v_60 (a community list of pixel chips, common practice); density: seller specification; width, rail, reel: common practice, no source"
}

strip "sk9822_5v_60" {
  like     = catalog.apa102_5v_60
  chip     = "SK9822"
  pwm_rate = "4 kHz"
  source   = "SK9822 datasheet: 3.7-5.5 V, header and B, G, R; 20 mA a channel, 1 mA idle: from memory; input 3.5 V at 5 V: a public digest of chip datasheets. bit_rate: common practice. forward, headroom, min_voltage as WS2812B. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: sheet 4700 Hz, another table 4000 Hz, the lower taken"
}

strip "sk9822_5v_144" {
  like         = catalog.sk9822_5v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as sk9822_5v_60 (SK9822 datasheet, from memory, common practice); density: seller specification; width, rail, reel: common practice, no source"
}

# 12 V, one chip in each LED; the red, green and blue die of a pixel stand in
# one string and share its current.

strip "ws2815_12v_60" {
  chip            = "WS2815"
  voltage         = "12 V"
  density         = "60/m"
  stack           = "series"
  channels        = "GRB"
  channel_current = "15 mA"
  idle_current    = "2.1 mA"
  forward         = { R = "2.1 V", G = "3.2 V", B = "3.2 V" }
  headroom        = "0.5 V"
  min_voltage     = "9 V"
  max_voltage     = "13.5 V"
  rail            = let.rail_both
  rail_current    = let.rail_current_both
  cut             = 1
  width           = "10 mm"
  bend_radius     = "30 mm"
  bits            = 24
  bit_rate        = "800 kbit/s"
  latch           = "300 us"
  logic_voltage   = "3.5 V"
  backup_data     = true
  reel            = "5 m"
  pwm_rate        = "2 kHz"
  source          = "WS2815 datasheet: 9-13.5 V, 2.1 mA idle, dies in series, second data line, latch 280 us or 300 us by edition. Its 0.7 VDD would be 8.4 V; the input stands on the chip's inner 5 V, so 3.5 V: a community list of pixel chips, 2026-02. channel_current: 15 mA from memory, 10 mA in that list. Sheets give GRB or RGB: try the first pixel with plain red. forward: WS2812B datasheet, middle; headroom: from memory, so that 9 V still holds the full current. bend_radius: a seller's note. rail, rail_current: computed for rails on both layers, as is usual at 12 V (common practice, no source; a film with one layer has twice the resistance: measure yours), see the head of the file. width, reel: common practice, no source. pwm_rate: WS2815 sheet, 2000 Hz"
}

strip "ws2815_12v_30" {
  like    = catalog.ws2815_12v_60
  density = "30/m"
  source  = "as ws2815_12v_60 (WS2815 datasheet, a community list of pixel chips, common practice); density: seller specification"
}

strip "ws2815_12v_144" {
  like         = catalog.ws2815_12v_60
  density      = "144/m"
  rail         = let.rail_12mm
  rail_current = let.rail_current_12mm
  width        = "12 mm"
  reel         = "2 m"
  source       = "as ws2815_12v_60 (WS2815 datasheet, a community list of pixel chips, common practice); density: seller specification; width, rail, reel: common practice, no source"
}

strip "gs8208_12v_60" {
  like            = catalog.ws2815_12v_60
  chip            = "GS8208"
  channels        = "RGB"
  channel_current = "17.5 mA"
  idle_current    = "2.5 mA"
  max_voltage     = "15 V"
  pwm_rate        = "8 kHz"
  source          = "GS8208 datasheet: 9-15 V (a community list of pixel chips, 2026-02: 10.8-13.2 V), 17.5 mA (a later sheet 15 mA, measured 10 mA), dies in series, latch 300 us, second data line; that list: 2.5 mA idle, 3.5 V input, RGB. forward: WS2812B datasheet, middle; headroom: from memory. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: GS8208 sheet, 8000 Hz"
}

# 12 V and 24 V, one chip for a group of LEDs; the LEDs of one colour stand in
# series, each colour with a string of its own. The chip lives behind a resistor
# on about 5 V, so its input does not follow the supply.

strip "ws2811_12v_60" {
  chip            = "WS2811"
  voltage         = "12 V"
  density         = "60/m"
  group           = 3
  series          = 3
  channels        = "RGB"
  channel_current = "18.5 mA"
  idle_current    = "0.7 mA"
  forward         = { R = "2.1 V", G = "3.2 V", B = "3.2 V" }
  headroom        = "0.5 V"
  min_voltage     = "10.1 V"
  max_voltage     = "13.2 V"
  rail            = let.rail_10mm
  rail_current    = let.rail_current_10mm
  cut             = 3
  width           = "10 mm"
  bend_radius     = "30 mm"
  bits            = 24
  bit_rate        = "800 kbit/s"
  latch           = "300 us"
  logic_voltage   = "3.5 V"
  reel            = "5 m"
  pwm_rate        = "400 Hz"
  source          = "a community list of pixel chips, 2026-02: 18.5 mA through 3 LEDs in series, 0.7 mA idle; WS2811 datasheet: RGB, 800 kbit/s (half of that in slow mode), input 0.6-0.7 of its inner 5 V; latch 280 us (later sheet, from memory), rounded up. forward: WS2812B datasheet, middle, each LED; min_voltage: 3 x 3.2 V + 0.5 V; headroom: from memory. max_voltage: 12 V + 10 %, common practice. bend_radius: a seller's note. cut: seller specification, 10 chips a metre at 30/m. rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: older sheets 400 Hz, newer 2000 Hz, the lower taken"
}

strip "ws2811_12v_30" {
  like    = catalog.ws2811_12v_60
  density = "30/m"
  source  = "as ws2811_12v_60 (WS2811 datasheet, a community list of pixel chips, common practice); density: seller specification, 30 LEDs and 10 chips a metre"
}

strip "ws2811_24v_60" {
  like        = catalog.ws2811_12v_60
  voltage     = "24 V"
  group       = 6
  series      = 6
  min_voltage = "19.7 V"
  max_voltage = "26.4 V"
  cut         = 6
  source      = "as ws2811_12v_60 (WS2811 datasheet, a community list of pixel chips, common practice) with 6 LEDs in series: from memory; min_voltage: 6 x 3.2 V + 0.5 V; max_voltage: 24 V + 10 %, common practice"
}

strip "ws2814_24v_60" {
  like            = catalog.ws2811_24v_60
  chip            = "WS2814"
  channels        = "RGBW"
  channel_current = "18 mA"
  idle_current    = "1 mA"
  forward         = { R = "2.1 V", G = "3.2 V", B = "3.2 V", W = "3.2 V" }
  rail            = let.rail_12mm
  rail_current    = let.rail_current_12mm
  width           = "12 mm"
  bits            = 32
  backup_data     = true
  pwm_rate        = "2 kHz"
  source          = "a public digest of chip datasheets: 32 bits RGBW (the A make sends white first), second data line, 800 kbit/s, latch 280 us rounded up (from memory). 12-24 V, 18 mA (from strips of 17 to 20 W/m), 1 mA idle, 3.5 V input, 6 LEDs in series: from memory; measure yours. White is a blue die under phosphor, its forward voltage taken as blue (from memory). rail, rail_current: computed, see the head of the file. width, reel: common practice, no source. pwm_rate: from memory"
}
