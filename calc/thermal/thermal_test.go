package thermal

import (
	"math"
	"strings"
	"testing"
)

func TestFormulas(t *testing.T) {
	const callister = "Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd ed., table B.6"
	tests := []struct {
		name   string
		do     func() (float64, error)
		want   float64
		tol    float64 // of the value
		source string
	}{
		{"3 m of silicone, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(Silicone, 3, 40); return 1000 * v, err },
			32.4, 1e-3, callister},
		{"3 m of aluminium, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(Aluminium, 3, 40); return 1000 * v, err },
			2.83, 5e-3, callister},
		{"3 m of aluminium, 40 K colder, mm", func() (float64, error) { v, err := Expansion(Aluminium, 3, -40); return 1000 * v, err },
			-2.83, 5e-3, callister},
		{"2 m of aluminium, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(Aluminium, 2, 40); return 1000 * v, err },
			1.84, 3e-2, "23e-6 1/K, three expansion tables"},
		{"2 m of polycarbonate, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(Polycarbonate, 2, 40); return 1000 * v, err },
			5.4, 4e-2, "38e-6 to 70e-6 1/K, three expansion tables"},
		{"2 m of acrylic, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(Acrylic, 2, 40); return 1000 * v, err },
			5.6, 1e-2, "34e-6 to 77e-6 1/K, three expansion tables"},
		{"2 m of PVC, 40 K warmer, mm", func() (float64, error) { v, err := Expansion(PVC, 2, 40); return 1000 * v, err },
			5.2, 1e-2, "50e-6 to 80e-6 1/K (from memory)"},
		{"60 LEDs a metre of 0.3 W, W/m", func() (float64, error) { return PerMetre(5*60*0.3, 5) },
			18, 1e-3, "SK6812 seller's sheet, 0.3 W a package"},
		{"60 LEDs a metre, 60 mA at 5 V, W/m", func() (float64, error) { return PerMetre(60*0.060*5, 1) },
			18, 1e-3, "WS2812B datasheet, 20 mA a channel"},
		{"60 LEDs a metre, 80 mA at 5 V, W/m", func() (float64, error) { return PerMetre(60*0.080*5, 1) },
			24, 1e-3, "SK6812 RGBW datasheet, 20 mA a channel"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source == "" {
				t.Fatal("no source")
			}
			got, err := tt.do()
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got-tt.want) > tt.tol*math.Abs(tt.want) {
				t.Errorf("got %g, want %g", got, tt.want)
			}
		})
	}
}

func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		name string
		do   func() (float64, error)
		want string
	}{
		{"negative power", func() (float64, error) { return PerMetre(-1, 1) }, "power -1 W"},
		{"power no number", func() (float64, error) { return PerMetre(nan, 1) }, "power NaN W"},
		{"no length", func() (float64, error) { return PerMetre(1, 0) }, "length 0 m"},
		{"coefficient no number", func() (float64, error) { return Expansion(nan, 1, 1) }, "expansion coefficient NaN"},
		{"length without end", func() (float64, error) { return Expansion(Silicone, inf, 1) }, "length +Inf m"},
		{"too hot", func() (float64, error) { return Expansion(Silicone, 1, 1e4) }, "10000 K"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := tt.do(); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}
