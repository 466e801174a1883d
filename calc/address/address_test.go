package address

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

const (
	slots = "arithmetic on the 512 slots of ANSI E1.31-2018"
	e131  = "ANSI E1.31-2018"
	e111  = "ANSI E1.11 (DMX512-A)"
)

func whole(pixels, channels int) Layout { return Layout{1, 1, pixels, channels, true} }

func packed(pixels, channels int) Layout { return Layout{1, 1, pixels, channels, false} }

func TestConstants(t *testing.T) {
	tests := []struct {
		name      string
		got, want int
		source    string
	}{
		{"least universe", MinUniverse, 1, e131},
		{"greatest universe", MaxUniverse, 63999, e131},
		{"full packet", PacketBytes, 638, e131},
		{"header", HeaderBytes, 126, e131},
		{"port", UDPPort, 5568, e131 + ", from memory"},
		{"default priority", DefaultPriority, 100, e131},
		{"greatest priority", MaxPriority, 200, e131},
		{"slots", MaxSlot, 512, e111},
		{"RGB pixels a universe", MaxSlot / 3, 170, slots},
		{"RGBW pixels a universe", MaxSlot / 4, 128, slots},
		{"five-channel pixels a universe", MaxSlot / 5, 102, slots},
	}
	for _, tt := range tests {
		if tt.source == "" || tt.got != tt.want {
			t.Errorf("%s: got %d, want %d, source %q", tt.name, tt.got, tt.want, tt.source)
		}
	}
}

func TestUniverseCount(t *testing.T) {
	pixels := []int{150, 300, 500, 600, 1000}
	for _, row := range []struct {
		channels int
		want     []int
	}{{3, []int{1, 2, 3, 4, 6}}, {4, []int{2, 3, 4, 5, 8}}} {
		for i, n := range pixels {
			spans, err := whole(n, row.channels).Spans()
			if err != nil {
				t.Fatal(err)
			}
			if len(spans) != row.want[i] {
				t.Errorf("%d pixels of %d channels: %d universes, want %d (%s)", n, row.channels, len(spans), row.want[i], slots)
			}
		}
	}
}

func TestLocate(t *testing.T) {
	tests := []struct {
		name           string
		l              Layout
		pixel          int
		universe, slot int
		source         string
	}{
		{"RGB, last of the first", whole(600, 3), 169, 1, 508, slots},
		{"RGB, first of the second", whole(600, 3), 170, 2, 1, slots},
		{"RGB, last", whole(600, 3), 599, 4, 268, slots},
		{"RGB, pixel 400", whole(600, 3), 400, 3, 181, slots},
		{"RGBW, last of the first", whole(600, 4), 127, 1, 509, slots},
		{"RGBW, first of the second", whole(600, 4), 128, 2, 1, slots},
		{"RGBW, pixel 400", whole(600, 4), 400, 4, 65, slots},
		{"RGBW, last", whole(600, 4), 599, 5, 349, slots},
		{"packed, straddling", packed(600, 3), 170, 1, 511, slots},
		{"packed, after it", packed(600, 3), 171, 2, 2, slots},
		{"packed, pixel 400", packed(600, 3), 400, 3, 177, slots},
		{"whole, from slot 501", Layout{7, 501, 10, 3, true}, 3, 7, 510, slots},
		{"whole, from slot 501, next", Layout{7, 501, 10, 3, true}, 4, 8, 1, slots},
		{"the very last slot", Layout{63999, 510, 1, 3, true}, 0, 63999, 510, slots},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			u, s, err := tt.l.Locate(tt.pixel)
			if err != nil {
				t.Fatal(err)
			}
			if u != tt.universe || s != tt.slot {
				t.Errorf("universe %d slot %d, want %d and %d", u, s, tt.universe, tt.slot)
			}
		})
	}
}

func TestSpans(t *testing.T) {
	tests := []struct {
		name string
		l    Layout
		want []Span
	}{
		{"600 RGBW, whole", whole(600, 4), []Span{
			{1, 1, 0, 128, 512}, {2, 1, 128, 128, 512}, {3, 1, 256, 128, 512}, {4, 1, 384, 128, 512}, {5, 1, 512, 88, 352}}},
		{"300 RGB, whole", whole(300, 3), []Span{{1, 1, 0, 170, 510}, {2, 1, 170, 130, 390}}},
		{"300 RGB, packed", packed(300, 3), []Span{{1, 1, 0, 171, 512}, {2, 1, 171, 129, 388}}},
		{"only an end is left", packed(171, 3), []Span{{1, 1, 0, 171, 512}, {2, 1, 171, 0, 1}}},
		{"three universes, packed", packed(400, 3), []Span{{1, 1, 0, 171, 512}, {2, 1, 171, 171, 512}, {3, 1, 342, 58, 176}}},
		{"whole, from slot 501", Layout{7, 501, 10, 3, true}, []Span{{7, 501, 0, 4, 12}, {8, 1, 4, 6, 18}}},
		{"packed, from slot 512", Layout{7, 512, 2, 3, false}, []Span{{7, 512, 0, 1, 1}, {8, 1, 1, 1, 5}}},
		{"one channel", whole(512, 1), []Span{{1, 1, 0, 512, 512}}},
		{"the widest pixel", packed(2, 512), []Span{{1, 1, 0, 1, 512}, {2, 1, 1, 1, 512}}},
		{"the widest pixel, packed from slot 2", Layout{1, 2, 2, 512, false},
			[]Span{{1, 2, 0, 1, 511}, {2, 1, 1, 1, 512}, {3, 1, 2, 0, 1}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.l.Spans()
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// Spans and Locate must tell the same story, and no slot may be lost.
func TestSpansAgreeWithLocate(t *testing.T) {
	for channels := 1; channels <= 9; channels++ {
		for _, slot := range []int{1, 2, 100, 504} {
			for _, pixels := range []int{1, 2, 57, 300, 1234} {
				for _, keep := range []bool{true, false} {
					l := Layout{3, slot, pixels, channels, keep}
					spans, err := l.Spans()
					if err != nil {
						t.Fatal(err)
					}
					used, next := 0, 0
					for _, s := range spans {
						if s.Slots < 1 || s.Slot+s.Slots-1 > MaxSlot || s.FirstPixel != next {
							t.Fatalf("%+v: span %+v", l, s)
						}
						for k := s.FirstPixel; k < s.FirstPixel+s.Pixels; k++ {
							if u, at, err := l.Locate(k); err != nil || u != s.Universe || at < s.Slot || at >= s.Slot+s.Slots {
								t.Fatalf("%+v: pixel %d at universe %d slot %d, not in %+v (%v)", l, k, u, at, s, err)
							}
						}
						used += s.Slots
						next += s.Pixels
					}
					if used != pixels*channels || next != pixels {
						t.Fatalf("%+v: %d slots and %d pixels", l, used, next)
					}
				}
			}
		}
	}
}

func TestMulticast(t *testing.T) {
	for universe, want := range map[int]string{
		1: "239.255.0.1", 4: "239.255.0.4", 255: "239.255.0.255", 256: "239.255.1.0",
		1000: "239.255.3.232", 63999: "239.255.249.255",
	} {
		got, err := Multicast(universe)
		if err != nil || got.String() != want {
			t.Errorf("universe %d: %v, %v, want %s (%s)", universe, got, err, want, e131)
		}
	}
}

func TestOverlap(t *testing.T) {
	spans := func(l Layout) []Span {
		s, err := l.Spans()
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	a := spans(whole(300, 3)) // universe 1 slots 1-510, universe 2 slots 1-390
	tests := []struct {
		name string
		b    Layout
		want []Shared
	}{
		{"the same", whole(300, 3), []Shared{{1, 1, 510}, {2, 1, 390}}},
		{"right after", Layout{2, 391, 40, 3, true}, nil},
		{"one slot too early", Layout{2, 390, 40, 3, true}, []Shared{{2, 390, 1}}},
		{"other universes", Layout{3, 1, 300, 3, true}, nil},
		{"in the slots left unused", Layout{1, 511, 2, 1, true}, nil},
		{"inside", Layout{2, 100, 2, 4, true}, []Shared{{2, 100, 8}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := spans(tt.b)
			got, back := Overlap(a, b), Overlap(b, a)
			if !slices.Equal(got, tt.want) || !slices.Equal(back, tt.want) {
				t.Errorf("got %v and %v, want %v", got, back, tt.want)
			}
		})
	}
}

func TestDataRate(t *testing.T) {
	got, err := DataRate(5, 40)
	if err != nil || got != 5*638*8*40 || math.Abs(got/1.021e6-1) > 5e-4 {
		t.Errorf("5 full packets 40 times a second: %g, %v, want 1.021 Mbit/s (%s, packet of 638 bytes)", got, err, e131)
	}
}

func TestPacketTime(t *testing.T) {
	const manual = "controller manual, 1990 edition's break of 88 µs and mark of 8 µs"
	tests := []struct {
		name      string
		slots     int
		brk, mark float64
		want      float64 // s
		rate      float64 // Hz
		tol       float64
		source    string
	}{
		{"full, 1990", 512, 88e-6, 8e-6, 22668e-6, 44.12, 0.005, manual},
		{"full", 512, MinBreak, MinMark, 22676e-6, 44.10, 0.005, e111},
		{"24 slots, 1990", 24, 88e-6, 8e-6, 1196e-6, 836, 0.5, manual},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			got, err := PacketTime(tt.slots, tt.brk, tt.mark)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-tt.want) > 1e-12 || math.Abs(1/got-tt.rate) > tt.tol {
				t.Errorf("got %g s, %g Hz, want %g s, %g Hz", got, 1/got, tt.want, tt.rate)
			}
		})
	}
	for slots, want := range map[int]float64{512: 1 / 22676e-6, 24: 1 / 1204e-6, 0: 1 / 1204e-6} {
		if got, err := PacketRate(slots); err != nil || math.Abs(got-want) > 1e-6 {
			t.Errorf("%d slots: %g Hz, %v, want %g (%s)", slots, got, err, want, e111)
		}
	}
}

func TestRefused(t *testing.T) {
	spans := func(l Layout) func() error { return func() error { _, err := l.Spans(); return err } }
	tests := []struct {
		name string
		do   func() error
		want string
	}{
		{"universe 0", spans(Layout{0, 1, 1, 3, true}), "universe 0 is out of range: 1 to 63999"},
		{"universe 64000", spans(Layout{64000, 1, 1, 3, true}), "universe 64000"},
		{"slot 0", spans(Layout{1, 0, 1, 3, true}), "slot 0 is out of range: 1 to 512"},
		{"slot 513", spans(Layout{1, 513, 1, 3, false}), "slot 513"},
		{"no channels", spans(whole(1, 0)), "0 channels"},
		{"513 channels", spans(packed(1, 513)), "513 channels"},
		{"no pixels", spans(whole(0, 3)), "0 pixels"},
		{"absurdly many", spans(packed(math.MaxInt, 3)), "pixels is out of range"},
		{"no room for the first", spans(Layout{4, 511, 1, 3, true}), "leaves 2 slots in universe 4, too few for a whole pixel of 3 channels: start at slot 510 or before"},
		{"past the last universe", spans(Layout{63999, 1, 171, 3, true}), "past universe 63999"},
		{"an end past the last universe", spans(Layout{63999, 1, 171, 3, false}), "past universe 63999"},
		{"pixel -1", func() error { _, _, err := whole(3, 3).Locate(-1); return err }, "pixel -1"},
		{"pixel past the end", func() error { _, _, err := whole(3, 3).Locate(3); return err }, "pixel 3 is not in the line: 0 to 2"},
		{"address of universe 0", func() error { _, err := Multicast(0); return err }, "universe 0"},
		{"rate no number", func() error { _, err := DataRate(1, math.NaN()); return err }, "rate NaN"},
		{"too many universes", func() error { _, err := DataRate(64000, 1); return err }, "64000 universes"},
		{"packet of 513", func() error { _, err := PacketRate(513); return err }, "513 slots"},
		{"no break", func() error { _, err := PacketTime(1, 0, MinMark); return err }, "break 0 s"},
		{"no mark", func() error { _, err := PacketTime(1, MinBreak, 0); return err }, "mark after break 0 s"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if err := tt.do(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}

func ExampleLayout_Locate() {
	line := Layout{Universe: 1, Slot: 1, Pixels: 600, Channels: 4, WholePixels: true}
	universe, slot, _ := line.Locate(400)
	group, _ := Multicast(universe)
	fmt.Println(universe, slot, group)
	// Output: 4 65 239.255.0.4
}
