package pixels

import (
	"math"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, tol)
	}
}

var (
	single60  = Strip{Density: 60, Group: 1, Cut: 1}
	triple60  = Strip{Density: 60, Group: 3, Cut: 3}
	twoPixels = Strip{Density: 60, Group: 3, Cut: 6} // two pixels between pads
)

func TestPitch(t *testing.T) {
	const pitch = "arithmetic: pitch = 1000 mm / density"
	tests := []struct {
		name           string
		strip          Strip
		pitch, between float64 // mm
		tol            float64
		source         string
	}{
		{"30/m", Strip{30, 1, 1}, 33.33, 33.33, 0.005, pitch},
		{"60/m", single60, 16.67, 16.67, 0.005, pitch},
		{"96/m", Strip{96, 1, 1}, 10.42, 10.42, 0.005, pitch},
		{"100/m", Strip{100, 1, 1}, 10.00, 10.00, 1e-9, pitch},
		{"144/m", Strip{144, 1, 1}, 6.944, 6.944, 0.0005, pitch},
		{"12 V in threes, 60/m", triple60, 50, 50, 1e-9, "seller's note on 12 V strip, 3 LEDs each chip: cut every 50 mm"},
		{"12 V in threes, 30/m", Strip{30, 3, 3}, 100, 100, 1e-9, "seller's note on 12 V strip, 30 LEDs and 10 chips a metre: cut every 100 mm"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			near(t, "pitch", 1000*tt.strip.Pitch(), tt.pitch, tt.tol)
			near(t, "interval", 1000*tt.strip.Interval(), tt.between, tt.tol)
		})
	}
}

func TestFit(t *testing.T) {
	const (
		down = "common practice, no source: a run rounds down to a whole cut interval"
		perM = "seller's note on 12 V strip: 10 and 20 pixels a metre at 30 and 60 LEDs a metre, three to a chip"
	)
	tests := []struct {
		name                   string
		strip                  Strip
		length                 float64
		pixels                 int
		lower, upper, leftover float64
		source                 string
	}{
		{"reel of 5 m at 60/m", single60, 5, 300, 5, 5, 0, down},
		{"reel of 5 m at 30/m", Strip{30, 1, 1}, 5, 150, 5, 5, 0, down},
		{"reel of 5 m at 144/m", Strip{144, 1, 1}, 5, 720, 5, 5, 0, down},
		{"one metre at 60/m in threes", triple60, 1, 20, 1, 1, 0, perM},
		{"one metre at 30/m in threes", Strip{30, 3, 3}, 1, 10, 1, 1, 0, perM},
		{"3.6 m at 60/m", single60, 3.6, 216, 3.6, 3.6, 0, down},
		{"added up from tenths", single60, 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1 + 0.1, 42, 0.7, 0.7, 0, down},
		{"5 m in inches, 196.85 in", single60, 196.85 * 0.0254, 300, 5, 5, 0, down},
		{"3 mm short of a reel", single60, 4.997, 299, 299. / 60, 5, 4.997 - 299./60, down},
		{"16 ft 4 in", single60, (16*12 + 4) * 0.0254, 298, 298. / 60, 299. / 60, 4.9784 - 298./60, down},
		{"arch of a door", single60, 1.4 + math.Pi*0.45 + 1.4, 252, 4.2, 253. / 60, 1.4 + math.Pi*0.45 + 1.4 - 4.2, down},
		{"arch in threes", triple60, 1.4 + math.Pi*0.45 + 1.4, 84, 4.2, 4.25, 1.4 + math.Pi*0.45 + 1.4 - 4.2, down},
		{"two pixels between pads", twoPixels, 0.55, 10, 0.5, 0.6, 0.05, down},
		{"one interval", triple60, 0.05, 1, 0.05, 0.05, 0, down},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			r, err := Fit(tt.strip, tt.length)
			if err != nil {
				t.Fatal(err)
			}
			if r.Pixels != tt.pixels {
				t.Errorf("%d pixels, want %d", r.Pixels, tt.pixels)
			}
			near(t, "lower", r.Lower, tt.lower, 1e-12)
			near(t, "upper", r.Upper, tt.upper, 1e-12)
			near(t, "leftover", r.Leftover, tt.leftover, 1e-12)
		})
	}
}

func TestSnap(t *testing.T) {
	single, err := Fit(single60, 3.01) // 180 pixels and 10 mm over
	if err != nil {
		t.Fatal(err)
	}
	pairs, err := Fit(twoPixels, 3)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name string
		got  Snap
		want Snap
	}{
		{"on a pad", single.Nearest(1.5, 180), Snap{90, 1.5, 0, false}},
		{"a little after", single.Nearest(1.503, 180), Snap{90, 1.5, -0.003, false}},
		{"more than a quarter pitch after", single.Nearest(1.505, 180), Snap{90, 1.5, -0.005, true}},
		{"nearer to the next", single.Nearest(1.51, 180), Snap{91, 91. / 60, 91./60 - 1.51, true}},
		{"midway goes to the start", single.Nearest(1.5+1./120, 180), Snap{90, 1.5, -1. / 120, true}},
		{"start", single.Nearest(0, 180), Snap{0, 0, 0, false}},
		{"before the start", single.Nearest(-0.1, 180), Snap{0, 0, 0.1, true}},
		{"past the last pad, on the leftover", single.Nearest(3.01, 180), Snap{180, 3, -0.01, true}},
		{"the end", single.Nearest(180*single.Pitch(), 180), Snap{180, 3, 0, false}},
		{"fewer pixels than fit", single.Nearest(3, 170), Snap{170, 170. / 60, 170./60 - 3, true}},
		{"a pixel without a pad", pairs.Nearest(7*pairs.Pitch(), pairs.Pixels), Snap{6, 0.3, -0.05, true}},
		{"a distance with few pads", pairs.Nearest(0.36, pairs.Pixels), Snap{8, 0.4, 0.04, true}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.got.Pixel != tt.want.Pixel || tt.got.Far != tt.want.Far {
				t.Errorf("got %+v, want %+v", tt.got, tt.want)
			}
			near(t, "at", tt.got.At, tt.want.At, 1e-12)
			near(t, "moved", tt.got.Moved, tt.want.Moved, 1e-12)
		})
	}
}

func TestFixings(t *testing.T) {
	const practice = "common practice, no source"
	tests := []struct {
		name            string
		length, spacing float64
		count           int
		gap             float64
		source          string
	}{
		{"soft tube, each 500 mm", 3, 0.5, 7, 2.95 / 6, practice},
		{"exactly whole spacings", 2.05, 0.5, 5, 0.5, practice},
		{"a hair more", 2.051, 0.5, 6, 2.001 / 5, practice},
		{"shorter than a spacing", 0.3, 0.5, 2, 0.25, practice},
		{"two insets", 0.05, 0.5, 1, 0, practice},
		{"rigid light guide, 18 in", 4, 0.457, 10, 3.95 / 9, "rigid light guide installation manual: clips at most 457 mm apart"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			at, err := Fixings(tt.length, tt.spacing)
			if err != nil {
				t.Fatal(err)
			}
			if len(at) != tt.count {
				t.Fatalf("%d fixings: %v, want %d", len(at), at, tt.count)
			}
			near(t, "first and last", at[0].At+at[len(at)-1].At, tt.length, 1e-12)
			for i := 1; i < len(at); i++ {
				near(t, "gap", at[i].At-at[i-1].At, tt.gap, 1e-12)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	fit := func(s Strip, length float64) func() error {
		return func() error { _, err := Fit(s, length); return err }
	}
	tests := []struct {
		name string
		do   func() error
		want string
	}{
		{"no density", fit(Strip{0, 1, 1}, 1), "density 0 LEDs/m"},
		{"density no number", fit(Strip{nan, 1, 1}, 1), "density NaN LEDs/m"},
		{"no group", fit(Strip{60, 0, 1}, 1), "0 LEDs in a pixel"},
		{"no cut", fit(Strip{60, 1, 0}, 1), "0 LEDs between pads"},
		{"cut splits a pixel", fit(Strip{60, 3, 4}, 1), "splits a pixel of 3 LEDs"},
		{"no length", fit(single60, 0), "length 0 m"},
		{"negative length", fit(single60, -2), "length -2 m"},
		{"length no number", fit(single60, nan), "length NaN m"},
		{"length without end", fit(single60, inf), "length +Inf m"},
		{"shorter than a cut", fit(triple60, 0.049), "the shortest cut of this strip is 5 cm"},
		{"far too many", fit(single60, 1e12), "at most 1000000"},
		{"one too many", fit(Strip{1000, 1, 1}, 1000.001), "1000001 pixels"},
		{"fixings of nothing", func() error { _, err := Fixings(0, 1); return err }, "length 0 m"},
		{"fixings without spacing", func() error { _, err := Fixings(1, 0); return err }, "spacing 0 m"},
		{"too many fixings", func() error { _, err := Fixings(1, 1e-9); return err }, "at most 1000000"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if err := tt.do(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}

func FuzzFit(f *testing.F) {
	f.Add(60.0, 1, 1, 5.0, 1.5, 90)
	f.Add(1e-300, 3, 6, 1e300, 0.0, 0)
	f.Fuzz(func(t *testing.T, density float64, group, cut int, length, d float64, k int) {
		r, err := Fit(Strip{density, group, cut}, length)
		if err != nil {
			return
		}
		slack := 2 * Tolerance * r.Interval()
		if r.Pixels < 1 || r.Pixels > MaxPixels || r.Pixels != r.Intervals*r.PerInterval() {
			t.Errorf("%+v", r)
		}
		if !(r.Lower <= length+slack && length <= r.Upper+slack && r.Leftover >= 0 && r.Leftover <= r.Interval()+slack) {
			t.Errorf("%+v", r)
		}
		for _, wish := range []float64{d, float64(k) * r.Pitch()} {
			if s := r.Nearest(wish, r.Pixels); wish == wish && !(s.Pixel >= 0 && s.Pixel <= r.Pixels && s.At >= 0 && s.At <= r.Lower+slack) {
				t.Errorf("%+v for %g on %+v", s, wish, r)
			}
		}
		if at, err := Fixings(length, d); err == nil {
			for i, v := range at {
				if !(v.At >= 0 && v.At <= length) || i > 0 && !(v.At-at[i-1].At <= d*(1+1e-6)+1e-9*length) {
					t.Errorf("fixing %d at %v after %v", i, v, at[max(0, i-1)])
					break
				}
			}
		}
	})
}

func TestFixingLoad(t *testing.T) {
	// Fixings at 25 mm, 1 m and 1.975 m carry 0.5125, 0.975 and 0.5125 m; two carry half each; one carries all.
	for _, c := range []struct {
		length, spacing float64
		want            []float64
	}{{2, 1, []float64{0.5125, 0.975, 0.5125}}, {1, 1, []float64{0.5, 0.5}}, {0.04, 1, []float64{0.04}}} {
		got, err := Fixings(c.length, c.spacing)
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%g m each %g m: %v, %v, want %v", c.length, c.spacing, got, err, c.want)
			continue
		}
		for i, w := range c.want {
			near(t, "carried", got[i].Carries, w, 1e-12)
		}
	}
	if got := FixingSpacing(0.160, 0.1); got != 0.62 { // 0.625 m, rounded down
		t.Errorf("100 g of 160 g/m each %g m", got)
	}
	if got := BlendDepth(Spacing(60)); math.Abs(got-0.7/60) > 1e-12 {
		t.Errorf("60 LEDs/m blend at %g m", got)
	}
}

// What has to be held is held: each corner and joint on both sides, each bend
// where it begins and ends; and together they carry all of the run.
func TestFixingsAtMarks(t *testing.T) {
	got, err := Fixings(3, 0.5, Mark{2, Joint}, Mark{1, Corner}, Mark{1.3, Bend}, Mark{1.6, Bend}, Mark{1.06, Bend}, Mark{3.5, Corner})
	if err != nil {
		t.Fatal(err)
	}
	want := []Fixing{
		{0.025, 0.025 + 0.2375, Start}, {0.5, 0.475, Stretch}, {0.975, 0.2375 + 0.025, Corner},
		{1.025, 0.025 + 0.1375, Corner}, {1.3, 0.1375 + 0.15, Bend}, {1.6, 0.15 + 0.1875, Bend}, {1.975, 0.1875 + 0.025, Joint},
		{2.025, 0.025 + 0.2375, Joint}, {2.5, 0.475, Stretch}, {2.975, 0.2375 + 0.025, End},
	}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	sum := 0.0
	for i, w := range want {
		near(t, "at", got[i].At, w.At, 1e-12)
		near(t, "carries", got[i].Carries, w.Carries, 1e-12)
		if got[i].Of != w.Of {
			t.Errorf("fixing %d holds %s, want %s", i, got[i].Of, w.Of)
		}
		sum += got[i].Carries
	}
	near(t, "carried in all", sum, 3, 1e-12)
	short, err := Fixings(0.07, 1, Mark{0.03, Corner})
	if err != nil || len(short) != 2 {
		t.Fatalf("of two pieces no longer than two insets: %v, %v", short, err)
	}
	near(t, "in the middle of one", short[0].At, 0.015, 1e-12)
	near(t, "in the middle of the other", short[1].At, 0.05, 1e-12)
}

// Handbook tables of magnets: 0.11 to 0.12 % of remanence a kelvin; at 80 degC
// 6.6 to 7.2 % less, and of the pull, which goes with its square, 12.8 to 13.9 %.
func TestWarmFixings(t *testing.T) {
	for _, c := range []struct {
		share      func(float64) float64
		degC       float64
		least, top float64
	}{
		{WarmMagnet, -30, 1, 1}, {WarmMagnet, 20, 1, 1}, {WarmMagnet, 80, 0.861, 0.872},
		{WarmAcrylic, -30, 1, 1}, {WarmAcrylic, 43, 0.66, 0.67}, {WarmAcrylic, 66, 0.333, 0.334}, {WarmAcrylic, 90, 0.333, 0.334},
	} {
		if got := c.share(c.degC); got < c.least-1e-3 || got > c.top+1e-3 {
			t.Errorf("at %g degC: %g, want %g to %g", c.degC, got, c.least, c.top)
		}
	}
}
