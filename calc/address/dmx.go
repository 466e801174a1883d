package address

import "fmt"

// Timing of ANSI E1.11 (DMX512-A), s, as sent by a transmitter. Source: the
// standard's timing table, as restated in console support notes and controller
// manuals.
const (
	SlotTime        = 44e-6   // 11 bits at 250 kbit/s
	MinBreak        = 92e-6   // sent by a transmitter; 88e-6 in the 1990 edition
	MinMark         = 12e-6   // mark after break, sent; 8e-6 in the 1990 edition
	MinBreakToBreak = 1204e-6 // from one break's start to the next
)

// PacketTime is how long a packet of a number of slots (the start code comes
// on top) takes with a given break and mark after break, s.
//
//	t = break + mark + 44 µs (slots + 1)
//
// slots 0 to 512; break and mark in s, each up to 1 s, as the standard allows.
func PacketTime(slots int, breakTime, mark float64) (float64, error) {
	if slots < 0 || slots > MaxSlot {
		return 0, fmt.Errorf("%d slots is out of range: 0 to %d", slots, MaxSlot)
	}
	if !(breakTime > 0 && breakTime <= 1) {
		return 0, fmt.Errorf("break %g s is out of range: above 0, at most 1 s", breakTime)
	}
	if !(mark > 0 && mark <= 1) {
		return 0, fmt.Errorf("mark after break %g s is out of range: above 0, at most 1 s", mark)
	}
	return breakTime + mark + SlotTime*float64(slots+1), nil
}

// PacketRate is the most packets of a number of slots in a second, Hz: the
// shortest break and mark, but no break sooner than MinBreakToBreak after the
// last. 512 slots give 44.10 Hz.
func PacketRate(slots int) (float64, error) {
	t, err := PacketTime(slots, MinBreak, MinMark)
	if err != nil {
		return 0, err
	}
	return 1 / max(t, MinBreakToBreak), nil
}
