// Package timing works out how long it takes to send a frame to addressable
// LEDs, and so how many frames fit in a second.
package timing

import (
	"fmt"
	"math"
)

// MaxPixels is the most pixels on one data line that this package counts; a
// number beyond it is taken for a slip.
const MaxPixels = 1_000_000

// Protocol is how a chip takes its data.
type Protocol struct {
	Bits    int     // per pixel: 24 for RGB, 32 for RGBW or for a clocked chip with its header
	BitRate float64 // bit/s; for a clocked chip the clock's frequency in Hz
	Latch   float64 // s of quiet line that shows the frame; 0 for a clocked chip
	Clocked bool    // data and clock on two conductors
}

// Check says whether the protocol's figures can be computed with.
func (p Protocol) Check() error {
	switch {
	case p.Bits < 1 || p.Bits > 1024:
		return fmt.Errorf("%d bits per pixel is out of range: 1 to 1024", p.Bits)
	case !(p.BitRate >= 1 && p.BitRate <= 1e9):
		return fmt.Errorf("bit rate %g bit/s is out of range: 1 to 1e9", p.BitRate)
	case !(p.Latch >= 0 && p.Latch <= 1):
		return fmt.Errorf("latch time %g s is out of range: 0 to 1 s", p.Latch)
	}
	return nil
}

// FrameTime is how long one frame for n pixels in a row takes, s.
//
//	single wire:  t = n bits / f + latch
//	clocked:      t = (32 + n bits + 8 ceil(n/16)) / f + latch
//
// n pixels, 0 to MaxPixels; f in bit/s. A clocked frame begins with 32 zero
// bits; each pixel delays the data by half a clock, so that n/2 more clocks
// are needed at the end, sent as whole bytes. Source: the data format sections
// of the WS2812B and APA102 datasheets; n/2 closing clocks from memory (the
// APA102 sheet prints 32 whatever n is).
func (p Protocol) FrameTime(n int) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if n < 0 || n > MaxPixels {
		return 0, fmt.Errorf("%d pixels on one data line is out of range: at least 0, at most %d", n, MaxPixels)
	}
	return p.frameTime(n), nil
}

func (p Protocol) frameTime(n int) float64 {
	bits := n * p.Bits
	if p.Clocked {
		bits += 32 + 8*((n+15)/16)
	}
	return float64(bits)/p.BitRate + p.Latch
}

// MostPixels is the largest number of pixels in a row that can be refreshed
// at the wanted rate, Hz: the greatest n with FrameTime(n) <= 1/rate, allowing
// for rounding of one part in 1e9. It is 0 where not even one pixel can be,
// and never more than MaxPixels.
func (p Protocol) MostPixels(rate float64) (int, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if !(rate > 0) || math.IsInf(rate, 0) {
		return 0, fmt.Errorf("rate %g Hz is out of range: it must be more than 0", rate)
	}
	fits := func(n int) bool { return p.frameTime(n)*rate <= 1+1e-9 }
	lo, hi := 0, MaxPixels // fits(lo) or lo is 0
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if fits(mid) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo, nil
}

// Ports is how long a controller takes to refresh all its ports, s. It drives
// `lanes` of them at once, in the order given: each batch takes as long as the
// longest frame in it, and the batches follow one another.
//
// frames holds the FrameTime of each port in s. No ports take no time.
func Ports(frames []float64, lanes int) (float64, error) {
	if lanes < 1 {
		return 0, fmt.Errorf("%d ports driven at once is out of range: at least 1", lanes)
	}
	var total, longest float64
	for i, t := range frames {
		if !(t >= 0) || math.IsInf(t, 0) {
			return 0, fmt.Errorf("frame time %g s of port %d is out of range: it must be 0 or more", t, i+1)
		}
		longest = max(longest, t)
		if (i+1)%lanes == 0 || i == len(frames)-1 {
			total += longest
			longest = 0
		}
	}
	return total, nil
}
