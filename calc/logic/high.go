package logic

// Margin is how far in V the level at an input may lie above the chip's own
// supply: the absolute maximum of a data input is VDD + 0.5 V (WS2812B and
// SK6812 datasheets, absolute maximum ratings; from memory).
const Margin = 0.5

// TooHigh reports whether a level in V is more than an input stands whose chip
// has a supply in V.
func TooHigh(level, supply float64) bool { return level > (supply+Margin)*(1+1e-9) }
