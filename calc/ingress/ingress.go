// Package ingress compares the protection classes of IEC 60529 with the water
// that a place has.
package ingress

import "strings"

// Keeps reports whether an enclosure with one or several classes, "IP67" or
// "IP66/IP68", keeps out the water that a second numeral stands for. known is
// false where the water is not named in any of them ("IP2X") and nothing else
// keeps it out.
//
// Up to 6 a numeral stands for all lower ones. 7 and 8 are immersion: they stand
// for each other downwards and for 4 and below, not for the jets of 5 and 6,
// which an enclosure has to be marked for as well; 9 is hot jets at high pressure
// and stands for neither 5 to 8. Source: IEC 60529:2013, section 6 (from memory).
func Keeps(classes string, water int) (keeps, known bool) {
	known = true
	for _, class := range strings.Split(classes, "/") {
		if len(class) < 4 || class[3] == 'X' {
			known = false
			continue
		}
		switch has := int(class[3] - '0'); {
		case has == water, has <= 6 && has > water, has > 6 && water <= 4, has == 8 && water == 7:
			return true, true
		}
	}
	return false, known
}
