// Package meter says how far a meter reading may lie from the truth.
package meter

import (
	"math"
	"strings"
)

// What a common handheld meter leaves open on its direct voltage ranges where its
// sheet is not at hand: a share of the reading and some of the last digit shown.
// Sheets of such meters name 0.5 % to 0.8 % and 2 to 3 digits (from memory).
const (
	Accuracy = 0.005
	Digits   = 2
)

// CurrentAccuracy and CurrentDigits are the same for its 10 A range (1.5 % to 2 %
// and 5 digits, from memory).
const (
	CurrentAccuracy = 0.015
	CurrentDigits   = 5
)

// CurrentStep is the place of the last digit of its 10 A range, A (from memory).
const CurrentStep = 0.01

// Range is the place of the last digit that a common handheld meter of 2000 counts shows of a reading: 0.001 below
// 2, 0.01 below 20, 0.1 below 200, then 1 (from memory).
func Range(reading float64) float64 {
	step := 0.001
	for math.Abs(reading) >= 2000*step && step < 1 {
		step *= 10
	}
	return step
}

// Error is the most, in the unit of the reading, that a healthy meter is off:
//
//	accuracy |reading| + digits step
//
// with step the place of the last digit that it showed.
func Error(reading, accuracy float64, digits int, step float64) float64 {
	return accuracy*math.Abs(reading) + float64(digits)*step
}

// Step is the place of the last digit of a decimal number: 0.01 of "11.40 V", 1
// of "12 V"; 0 where the text begins with no number.
func Step(text string) float64 {
	text = strings.TrimLeft(text, " +-")
	whole := len(text) - len(strings.TrimLeft(text, "0123456789"))
	rest, dot := strings.CutPrefix(text[whole:], ".")
	places := 0
	if dot {
		places = len(rest) - len(strings.TrimLeft(rest, "0123456789"))
	}
	if whole+places == 0 {
		return 0
	}
	return math.Pow10(-places)
}
