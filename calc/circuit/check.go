package circuit

import (
	"fmt"
	"math"
	"slices"
)

// snap is the distance in pitches within which two points of a rail are one. It is far above
// the rounding of a position and worth less than 1e-9 V.
const snap = 1e-8

// check returns an *InputError for the first input that is out of range.
func (c *Circuit) check() error {
	if c.Nodes < 0 {
		return &InputError{"Nodes", float64(c.Nodes), "at least 0"}
	}
	for i, s := range c.Sources {
		field := func(name string) string { return fmt.Sprintf("Sources[%d].%s", i, name) }
		if err := first(
			c.node(field, "Plus", s.Plus, 0),
			c.node(field, "Minus", s.Minus, 0),
			within(field, "Volts", s.Volts, 0, MaxVolts, "V"),
		); err != nil {
			return err
		}
	}
	for i, w := range c.Wires {
		field := func(name string) string { return fmt.Sprintf("Wires[%d].%s", i, name) }
		if err := first(
			c.node(field, "A", w.A, 0),
			c.node(field, "B", w.B, 0),
			within(field, "Ohms", w.Ohms, MinOhms, MaxOhms, "ohm"),
			within(field, "Heat", w.Heat, 0, MaxHeat, "1/A2"),
			within(field, "Heat*Most^2", w.Heat*w.Most*w.Most, 0, MaxRise, ""),
		); err != nil {
			return err
		}
	}
	for i, s := range c.Sinks {
		field := func(name string) string { return fmt.Sprintf("Sinks[%d].%s", i, name) }
		if err := first(
			c.node(field, "Plus", s.Plus, 0),
			c.node(field, "Minus", s.Minus, 0),
			within(field, "Amps", s.Amps, 0, MaxAmps, "A"),
			within(field, "Knee", s.Knee, 0, MaxVolts, "V"),
		); err != nil {
			return err
		}
	}
	pixels := 0
	for i := range c.Strips {
		if err := c.checkStrip(i); err != nil {
			return err
		}
		if pixels += c.Strips[i].Pixels; pixels > MaxPixels {
			return &InputError{fmt.Sprintf("the sum of Strips[0..%d].Pixels", i), float64(pixels), fmt.Sprintf("at most %d", MaxPixels)}
		}
	}
	return nil
}

func (c *Circuit) checkStrip(i int) error {
	s := &c.Strips[i]
	field := func(name string) string { return fmt.Sprintf("Strips[%d].%s", i, name) }
	if s.Pixels < 1 || s.Pixels > MaxPixels {
		return &InputError{field("Pixels"), float64(s.Pixels), fmt.Sprintf("between 1 and %d", MaxPixels)}
	}
	if err := first(
		within(field, "Pitch", s.Pitch, 1e-6, MaxMetres/float64(s.Pixels), "m"),
		within(field, "Rail", s.Rail, MinOhms/s.Pitch, MaxOhms/s.Pitch, "ohm/m"),
	); err != nil {
		return err
	}
	if s.Law == nil {
		return &InputError{field("Law"), 0, "given (it is nil)"}
	}
	if err := within(field, "Law.Idle", s.Law.Idle, 0, MaxAmps, "A"); err != nil {
		return err
	}
	for k, ch := range s.Law.Channels {
		field := func(name string) string { return fmt.Sprintf("Strips[%d].Law.Channels[%d].%s", i, k, name) }
		if err := first(
			within(field, "Amps", ch.Amps, 0, MaxAmps, "A"),
			within(field, "Forward", ch.Forward, 0, MaxVolts, "V"),
			within(field, "Headroom", ch.Headroom, 0, MaxVolts, "V"),
		); err != nil {
			return err
		}
	}
	if err := checkDrive(s, StripDrive{s.Share, s.Each}, func() string { return fmt.Sprintf("Strips[%d]", i) }); err != nil {
		return err
	}
	length := float64(s.Pixels) * s.Pitch
	for k, t := range s.Taps {
		field := func(name string) string { return fmt.Sprintf("Strips[%d].Taps[%d].%s", i, k, name) }
		least := 0.0
		if k > 0 {
			least = s.Taps[k-1].At
		}
		slack := snap * s.Pitch
		if !(t.At >= least-slack && t.At <= length+slack) {
			return &InputError{field("At"), t.At, fmt.Sprintf("between %g m (taps are sorted) and the strip's end at %g m", least, length)}
		}
		if err := first(
			c.node(field, "Plus", t.Plus, -1),
			c.node(field, "Minus", t.Minus, -1),
		); err != nil {
			return err
		}
	}
	return nil
}

// checkDrive checks the shares of one strip; name says what to call it.
func checkDrive(s *Strip, d StripDrive, name func() string) error {
	channels := len(s.Law.Channels)
	row := func(label string, share []float64) error {
		switch {
		case share == nil || len(share) == channels && inUnit(share):
			return nil
		case len(share) != channels:
			return &InputError{"the length of " + name() + label, float64(len(share)), fmt.Sprintf("%d, one share for each channel", channels)}
		}
		c := slices.IndexFunc(share, func(x float64) bool { return !(x >= 0 && x <= 1) })
		return &InputError{fmt.Sprintf("%s%s[%d]", name(), label, c), share[c], "between 0 and 1"}
	}
	if d.Each == nil {
		return row(".Share", d.Share)
	}
	if len(d.Each) != s.Pixels {
		return &InputError{"the length of " + name() + ".Each", float64(len(d.Each)), fmt.Sprintf("%d, one for each pixel", s.Pixels)}
	}
	for k, share := range d.Each {
		if share == nil || len(share) == channels && inUnit(share) {
			continue // the label of a row is built only where it is needed
		}
		if err := row(fmt.Sprintf(".Each[%d]", k), share); err != nil {
			return err
		}
	}
	return nil
}

func inUnit(share []float64) bool {
	for _, x := range share {
		if !(x >= 0 && x <= 1) {
			return false
		}
	}
	return true
}

func (c *Circuit) node(field func(string) string, name string, n, least int) error {
	if n < least || n >= c.Nodes {
		return &InputError{field(name), float64(n), fmt.Sprintf("a node between %d and %d", least, c.Nodes-1)}
	}
	return nil
}

// within refuses NaN as well, as every comparison with it fails.
func within(field func(string) string, name string, v, least, most float64, unit string) error {
	if v >= least && v <= most && !math.IsInf(v, 0) {
		return nil
	}
	return &InputError{field(name), v, fmt.Sprintf("between %g and %g %s", least, most, unit)}
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
