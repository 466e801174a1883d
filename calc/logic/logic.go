// Package logic knows data lines: the levels that outputs and inputs keep to,
// and how far a line goes.
package logic

import "strings"

// OutputSure is the share of its supply that an output of a 3.3 V
// microcontroller is guaranteed to reach under load: 2.62 V of 3.3 V (RP2040
// Datasheet, table of IO characteristics), 0.8 VDD (ESP32 datasheet, from
// memory). Unloaded, an output reaches nearly all of it.
const OutputSure = 2.62 / 3.3

// Sure returns the level in V that an output is guaranteed to reach under load,
// of the level that it has unloaded.
func Sure(unloaded float64) float64 { return OutputSure * unloaded }

// High returns the least level in V that an input reads as high, where it is a
// share of the chip's supply in V.
func High(share, supply float64) float64 { return share * supply }

// Easy is how far a data line goes without further thought, m: "a metre or two
// is usually no problem" (common practice, no source).
const Easy = 2.0

// LongestLine returns the longest data line in m between two chips, or from a
// controller to the first chip, that the chip's maker allows without an added
// circuit: 10 m for WS2811 and 5 m for WS2812B and WS2815 (their datasheets,
// typical application). The shorter figure is taken for every other chip.
func LongestLine(chip string) float64 {
	if strings.HasPrefix(strings.ToUpper(chip), "WS2811") {
		return 10
	}
	return 5
}
