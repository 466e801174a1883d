// Package address gives pixels their places in ANSI E1.31 universes, and holds
// the limits of that standard and of ANSI E1.11 (DMX512-A).
package address

import (
	"cmp"
	"fmt"
	"net/netip"
	"slices"
)

// Limits of ANSI E1.31-2018, Lightweight streaming protocol for transport of
// DMX512 using ACN; section numbers from memory.
const (
	MinUniverse     = 1     // section 6.2.7
	MaxUniverse     = 63999 // section 6.2.7
	MaxSlot         = 512   // slots in a universe, counted from 1
	HeaderBytes     = 126   // of a data packet before its slots, start code included (section 4)
	PacketBytes     = HeaderBytes + MaxSlot
	UDPPort         = 5568 // section 9.3.1; value from memory
	DefaultPriority = 100  // section 6.2.3
	MaxPriority     = 200  // section 6.2.3
)

// Layout is a line of pixels laid into universes.
type Layout struct {
	Universe    int  // that holds the first pixel
	Slot        int  // of the first pixel's first channel, counted from 1
	Pixels      int  // in the line
	Channels    int  // slots that each pixel takes
	WholePixels bool // no pixel is split between two universes; the slots left over stay unused
}

// Span is the part of a Layout that lies in one universe.
//
// The slots that it uses run from Slot to Slot+Slots-1. FirstPixel and Pixels
// speak of pixels that *start* in this universe. Where pixels may straddle,
// the first slots can belong to a pixel that started in the universe before,
// and the last pixel counted here can end in the next; a span that holds only
// such an end has Pixels 0 and, as FirstPixel, the pixel that would come next.
type Span struct {
	Universe   int
	Slot       int // first slot used
	FirstPixel int // counted from 0
	Pixels     int
	Slots      int // slots used
}

// Check says whether the layout lies within the standard's limits.
func (l Layout) Check() error {
	switch {
	case l.Universe < MinUniverse || l.Universe > MaxUniverse:
		return fmt.Errorf("universe %d is out of range: %d to %d", l.Universe, MinUniverse, MaxUniverse)
	case l.Slot < 1 || l.Slot > MaxSlot:
		return fmt.Errorf("slot %d is out of range: 1 to %d", l.Slot, MaxSlot)
	case l.Channels < 1 || l.Channels > MaxSlot:
		return fmt.Errorf("%d channels per pixel is out of range: 1 to %d", l.Channels, MaxSlot)
	case l.Pixels < 1 || l.Pixels > MaxUniverse*MaxSlot:
		return fmt.Errorf("%d pixels is out of range: 1 to %d", l.Pixels, MaxUniverse*MaxSlot)
	case l.WholePixels && l.first() < 1:
		return fmt.Errorf("slot %d leaves %d slots in universe %d, too few for a whole pixel of %d channels: start at slot %d or before",
			l.Slot, MaxSlot-l.Slot+1, l.Universe, l.Channels, MaxSlot-l.Channels+1)
	}
	if last, _ := l.locate(l.Pixels - 1); last > MaxUniverse || last == MaxUniverse && l.tail() {
		return fmt.Errorf("%d pixels of %d channels from universe %d slot %d run past universe %d, the last there is",
			l.Pixels, l.Channels, l.Universe, l.Slot, MaxUniverse)
	}
	return nil
}

// first is the number of whole pixels that the first universe holds.
func (l Layout) first() int { return (MaxSlot - l.Slot + 1) / l.Channels }

// tail says whether the last pixel ends in a later universe than it starts in.
func (l Layout) tail() bool {
	_, slot := l.locate(l.Pixels - 1)
	return slot+l.Channels-1 > MaxSlot
}

// Locate is the universe and the slot of a pixel's first channel. The pixel is
// counted from 0 and must be below l.Pixels.
//
// Whole pixels, c channels, n places after those in the first universe:
//
//	universe = first + 1 + n div (512 div c),  slot = c (n mod (512 div c)) + 1
//
// Straddling, b = slot - 1 + c pixel:
//
//	universe = first + b div 512,  slot = b mod 512 + 1
//
// Source: arithmetic on the 512 slots of ANSI E1.31-2018.
func (l Layout) Locate(pixel int) (universe, slot int, err error) {
	if err := l.Check(); err != nil {
		return 0, 0, err
	}
	if pixel < 0 || pixel >= l.Pixels {
		return 0, 0, fmt.Errorf("pixel %d is not in the line: 0 to %d", pixel, l.Pixels-1)
	}
	universe, slot = l.locate(pixel)
	return universe, slot, nil
}

func (l Layout) locate(pixel int) (universe, slot int) {
	if !l.WholePixels {
		b := l.Slot - 1 + l.Channels*pixel
		return l.Universe + b/MaxSlot, b%MaxSlot + 1
	}
	if n := l.first(); pixel < n {
		return l.Universe, l.Slot + l.Channels*pixel
	} else {
		pixel -= n
	}
	each := MaxSlot / l.Channels
	return l.Universe + 1 + pixel/each, l.Channels*(pixel%each) + 1
}

// Spans are the parts of the layout, one a universe, in rising order.
func (l Layout) Spans() ([]Span, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	var spans []Span
	s := Span{Universe: l.Universe, Slot: l.Slot}
	tail := 0 // slots at the start of s that finish the pixel before
	for next := 0; next < l.Pixels || tail > 0; {
		room := MaxSlot - s.Slot + 1 - tail
		fit := room / l.Channels
		if !l.WholePixels {
			fit = (room + l.Channels - 1) / l.Channels
		}
		s.FirstPixel, s.Pixels = next, min(fit, l.Pixels-next)
		next += s.Pixels
		used := tail + s.Pixels*l.Channels
		s.Slots = min(used, MaxSlot-s.Slot+1)
		tail = used - s.Slots
		spans = append(spans, s)
		s = Span{Universe: s.Universe + 1, Slot: 1}
	}
	return spans, nil
}

// Shared is a range of slots that two layouts both use.
type Shared struct {
	Universe, Slot, Slots int
}

// Overlap lists the slots that two sets of spans both use, by universe and
// slot. Each set holds at most one span a universe, as Spans gives them.
func Overlap(a, b []Span) []Shared {
	if apart(a, b) {
		return nil
	}
	in := make(map[int]Span, len(a))
	for _, s := range a {
		in[s.Universe] = s
	}
	var shared []Shared
	for _, s := range b {
		o, ok := in[s.Universe]
		if !ok {
			continue
		}
		from, to := max(s.Slot, o.Slot), min(s.Slot+s.Slots, o.Slot+o.Slots)
		if from < to {
			shared = append(shared, Shared{s.Universe, from, to - from})
		}
	}
	slices.SortFunc(shared, func(x, y Shared) int {
		return cmp.Or(cmp.Compare(x.Universe, y.Universe), cmp.Compare(x.Slot, y.Slot))
	})
	return shared
}

// apart reports whether all universes of one set come before all of the other.
func apart(a, b []Span) bool {
	if len(a) == 0 || len(b) == 0 {
		return true
	}
	byUniverse := func(x, y Span) int { return cmp.Compare(x.Universe, y.Universe) }
	before := func(a, b []Span) bool {
		return slices.MaxFunc(a, byUniverse).Universe < slices.MinFunc(b, byUniverse).Universe
	}
	return before(a, b) || before(b, a)
}

// Multicast is the IPv4 address to which a universe is sent:
// 239.255.(universe div 256).(universe mod 256). Source: ANSI E1.31-2018,
// section 9.3.1 (number from memory).
func Multicast(universe int) (netip.Addr, error) {
	if universe < MinUniverse || universe > MaxUniverse {
		return netip.Addr{}, fmt.Errorf("universe %d is out of range: %d to %d", universe, MinUniverse, MaxUniverse)
	}
	return netip.AddrFrom4([4]byte{239, 255, byte(universe >> 8), byte(universe)}), nil
}

// DataRate is the UDP payload of full packets for a number of universes at a
// frame rate in Hz, bit/s: universes × 638 × 8 × rate.
func DataRate(universes int, rate float64) (float64, error) {
	if universes < 0 || universes > MaxUniverse {
		return 0, fmt.Errorf("%d universes is out of range: 0 to %d", universes, MaxUniverse)
	}
	if !(rate >= 0 && rate <= 1e6) {
		return 0, fmt.Errorf("rate %g Hz is out of range: 0 to 1e6", rate)
	}
	return float64(universes) * PacketBytes * 8 * rate, nil
}
