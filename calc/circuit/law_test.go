package circuit

import (
	"math"
	"testing"
)

// At FullVolts a pixel draws Full, and below it draws less.
func TestFullVolts(t *testing.T) {
	channels := []Channel{{0.02, 2.1, 0.5}, {0.015, 3.2, 0.5}, {0.015, 3.2, 0.4}}
	for _, c := range []struct {
		series      bool
		volts, amps float64
	}{{false, 3.7, 0.001 + 0.05}, {true, 9, 0.001 + 0.02}} {
		l := &Law{Idle: 0.001, Channels: channels, Series: c.series}
		share := []float64{1, 1, 1}
		if math.Abs(l.FullVolts()-c.volts) > 1e-9 || math.Abs(l.Full()-c.amps) > 1e-12 {
			t.Errorf("series %v: %g A from %g V, want %g A from %g V", c.series, l.Full(), l.FullVolts(), c.amps, c.volts)
		}
		if at, below := l.Current(c.volts, share), l.Current(c.volts-0.01, share); math.Abs(at-c.amps) > 1e-12 || below >= at {
			t.Errorf("series %v: %g A at %g V, %g A just below", c.series, at, c.volts, below)
		}
	}
}
