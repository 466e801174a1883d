package timing

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

func wire(bits int, latch float64) Protocol {
	return Protocol{Bits: bits, BitRate: 800e3, Latch: latch}
}

func clocked(f float64) Protocol { return Protocol{Bits: 32, BitRate: f, Clocked: true} }

// Each chip's sheet prints how long the line is high and low for a 0 and for a
// 1; the period must hold its stated bit rate's.
func TestPulsesMakeTheBitRate(t *testing.T) {
	type span struct{ least, most float64 } // ns
	exact := func(v, tol float64) span { return span{v - tol, v + tol} }
	tests := []struct {
		chip               string
		t0h, t0l, t1h, t1l span
		rate               float64
		source             string
	}{
		{"WS2811, low speed", exact(500, 150), exact(2000, 150), exact(1200, 150), exact(1300, 150), 400e3, "WS2811 datasheet, data transfer time"},
		{"WS2811, high speed", exact(250, 75), exact(1000, 75), exact(600, 75), exact(650, 75), 800e3, "WS2811 datasheet, high speed is half of low"},
		{"WS2812B, early", exact(400, 150), exact(850, 150), exact(800, 150), exact(450, 150), 800e3, "WS2812B datasheet, data transfer time"},
		{"WS2812B, later", span{220, 380}, span{750, 1600}, span{750, 1600}, span{220, 420}, 800e3, "WS2812B datasheet, later edition, via a digest"},
		{"WS2812B-V5", span{220, 380}, span{580, 1000}, span{580, 1000}, span{580, 1000}, 800e3, "WS2812B-V5 datasheet via a digest"},
		{"WS2815", span{220, 380}, span{580, 1600}, span{580, 1600}, span{220, 420}, 800e3, "WS2815 datasheet via a digest"},
		{"SK6812, 2015", exact(300, 150), exact(900, 150), exact(600, 150), exact(600, 150), 800e3, "SK6812 datasheet, 2015, via a digest"},
		{"SK6812, later", exact(400, 150), exact(850, 150), exact(800, 150), exact(450, 150), 800e3, "SK6812 datasheet, later edition, via a digest"},
		{"GS8208", exact(312.5, 0), exact(937.5, 0), exact(937.5, 0), exact(312.5, 0), 800e3, "GS8208 datasheet via a digest, quarters of the period"},
	}
	for _, tt := range tests {
		t.Run(tt.chip, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			period := 1e9 / tt.rate
			for _, bit := range [][2]span{{tt.t0h, tt.t0l}, {tt.t1h, tt.t1l}} {
				if period < bit[0].least+bit[1].least || period > bit[0].most+bit[1].most {
					t.Errorf("a period of %g ns is not in %g to %g", period, bit[0].least+bit[1].least, bit[0].most+bit[1].most)
				}
			}
		})
	}
}

func TestFrameTime(t *testing.T) {
	const (
		sheet   = "WS2812B datasheet, features: 30 frames a second with no fewer than 1024 pixels"
		sheet11 = "WS2811 datasheet, features: 30 frames a second, low speed no fewer than 512 pixels"
	)
	tests := []struct {
		name   string
		p      Protocol
		n      int
		want   float64 // s
		rate   float64 // Hz
		tol    float64 // of the rate
		source string
	}{
		{"1024 pixels, high speed", wire(24, 50e-6), 1024, 30770e-6, 32.50, 0.005, sheet},
		{"512 pixels, low speed", Protocol{24, 400e3, 50e-6, false}, 512, 30770e-6, 32.50, 0.005, sheet11},
		{"no pixels", wire(24, 300e-6), 0, 300e-6, 3333.3, 0.05, "definition"},
		{"one clocked pixel", clocked(1e6), 1, 72e-6, 13889, 0.5, "APA102 datasheet, frame format: 32 + 32 + 8 bits"},
		{"16 clocked pixels", clocked(1e6), 16, 552e-6, 1811.6, 0.05, "APA102 datasheet, frame format: 32 + 512 + 8 bits"},
		{"17 clocked pixels", clocked(1e6), 17, 592e-6, 1689.2, 0.05, "APA102 datasheet, frame format: 32 + 544 + 16 bits"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			got, err := tt.p.FrameTime(tt.n)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "frame time", got, tt.want, 1e-12)
			near(t, "rate", 1/got, tt.rate, tt.tol)
		})
	}
}

// Frame rates by number of pixels, from n bits 1.25 µs + latch of the WS2812B
// and SK6812 datasheets and from the APA102 sheet's frame format, computed
// apart from this package to the digits printed.
func TestFrameRates(t *testing.T) {
	columns := []struct {
		name string
		p    Protocol
	}{
		{"RGB 50 µs", wire(24, 50e-6)}, {"RGB 280 µs", wire(24, 280e-6)}, {"RGB 300 µs", wire(24, 300e-6)},
		{"RGBW 50 µs", wire(32, 50e-6)}, {"RGBW 80 µs", wire(32, 80e-6)}, {"RGBW 280 µs", wire(32, 280e-6)},
		{"clocked 1 MHz", clocked(1e6)}, {"clocked 4 MHz", clocked(4e6)},
	}
	rows := []struct {
		n    int
		want [8]float64
	}{
		{150, [8]float64{219.8, 209.2, 208.3, 165.3, 164.5, 159.2, 203.6, 814.3}},
		{300, [8]float64{110.5, 107.8, 107.5, 82.99, 82.78, 81.43, 102.2, 408.8}},
		{500, [8]float64{66.45, 65.45, 65.36, 49.88, 49.80, 49.31, 61.39, 245.6}},
		{1000, [8]float64{33.28, 33.03, 33.00, 24.97, 24.95, 24.83, 30.74, 122.9}},
	}
	for _, row := range rows {
		for i, c := range columns {
			got, err := c.p.FrameTime(row.n)
			if err != nil {
				t.Fatal(err)
			}
			// Half a unit in the fourth digit.
			half := 0.5 * math.Pow(10, math.Floor(math.Log10(row.want[i]))-3)
			near(t, c.name, 1/got, row.want[i], half*(1+1e-9))
		}
	}
}

func TestMostPixels(t *testing.T) {
	const sheets = "n bits 1.25 µs + 280 µs, WS2812B (later edition) and SK6812 RGBW datasheets"
	tests := []struct {
		name   string
		p      Protocol
		rate   float64
		want   int
		source string
	}{
		{"RGB at 60", wire(24, 280e-6), 60, 546, sheets},
		{"RGB at 40", wire(24, 280e-6), 40, 824, sheets},
		{"RGB at 30", wire(24, 280e-6), 30, 1101, sheets},
		{"RGBW at 60", wire(32, 280e-6), 60, 409, sheets},
		{"RGBW at 40", wire(32, 280e-6), 40, 618, sheets},
		{"RGBW at 30", wire(32, 280e-6), 30, 826, sheets},
		{"a whole number of pixels exactly", wire(24, 300e-6), 1 / 3300e-6, 100, "arithmetic: 100 × 30 µs + 300 µs"},
		{"faster than the latch", wire(24, 300e-6), 5000, 0, "arithmetic: 200 µs is less than the latch"},
		{"a frame a month", wire(24, 300e-6), 4e-7, MaxPixels, "the limit of this package"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			got, err := tt.p.MostPixels(tt.rate)
			if err != nil {
				t.Fatal(err)
			}
			if got != tt.want {
				t.Errorf("got %d, want %d", got, tt.want)
			}
		})
	}
}

func TestPorts(t *testing.T) {
	tests := []struct {
		name   string
		frames []float64
		lanes  int
		want   float64
	}{
		{"no ports", nil, 4, 0},
		{"one", []float64{0.01}, 8, 0.01},
		{"all at once", []float64{0.01, 0.03, 0.02}, 8, 0.03},
		{"one after the other", []float64{0.01, 0.03, 0.02}, 1, 0.06},
		{"in pairs, the last alone", []float64{0.01, 0.03, 0.02}, 2, 0.05},
		{"in pairs", []float64{0.01, 0.03, 0.02, 0.04}, 2, 0.07},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Ports(tt.frames, tt.lanes)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "time", got, tt.want, 1e-15)
		})
	}
}

func TestRefused(t *testing.T) {
	good := wire(24, 300e-6)
	tests := []struct {
		name string
		do   func() error
		want string
	}{
		{"no bits", func() error { _, err := wire(0, 0).FrameTime(1); return err }, "0 bits per pixel"},
		{"no rate", func() error { _, err := Protocol{24, 0, 0, false}.FrameTime(1); return err }, "bit rate 0 bit/s"},
		{"rate no number", func() error { _, err := Protocol{24, math.NaN(), 0, false}.MostPixels(1); return err }, "bit rate NaN"},
		{"negative latch", func() error { _, err := wire(24, -1).FrameTime(1); return err }, "latch time -1 s"},
		{"negative pixels", func() error { _, err := good.FrameTime(-1); return err }, "-1 pixels on one data line"},
		{"too many pixels", func() error { _, err := good.FrameTime(1e12); return err }, "at most 1000000"},
		{"no frames", func() error { _, err := good.MostPixels(0); return err }, "rate 0 Hz"},
		{"no lanes", func() error { _, err := Ports(nil, 0); return err }, "0 ports"},
		{"frame no number", func() error { _, err := Ports([]float64{0, math.NaN()}, 1); return err }, "of port 2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if err := tt.do(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}
