package drawing

import (
	"fmt"
	"math"
)

// Ink is a colour by the role that it has. Nothing is drawn in None.
type Ink uint8

// The roles. A drawing never tells by colour alone what it has to tell, and all
// of them can be told apart in grey where they must.
const (
	None   Ink = iota
	Line       // outlines, text
	Soft       // dimensions, second text
	Faint      // grid
	Paper      // the ground, and what is cut out of another mark
	Shade      // areas: keepouts, panels
	Glow       // a run of light
	Plus       // conductors
	Minus      //
	Data       //
	Part       // supplies, joints, controllers: bodies
	Danger     // what can hurt or is below its limit
	Good       // a limit, a supply's voltage
	ramp       // the first of the steps of the ramp
)

// Steps of the ramp.
const Steps = 64

var roles = [...]string{"none", "line", "soft", "faint", "paper", "shade", "glow", "plus", "minus", "data", "part", "danger", "good"}

// Ramp is the colour of a value from 0 (dark) to 1 (light).
func Ramp(t float64) Ink {
	if !(t > 0) {
		t = 0
	}
	return ramp + Ink(math.Round(math.Min(t, 1)*(Steps-1)))
}

// Inks lists all of them but None.
func Inks() []Ink {
	out := make([]Ink, 0, int(ramp)+Steps-1)
	for i := None + 1; i < ramp+Steps; i++ {
		out = append(out, i)
	}
	return out
}

// String is the name of the role.
func (i Ink) String() string {
	if i >= ramp {
		return fmt.Sprintf("ramp%d", i-ramp)
	}
	return roles[i]
}

// RGB is the ink on white paper.
func (i Ink) RGB() (r, g, b uint8) {
	if i >= ramp {
		return rampRGB(float64(i-ramp) / (Steps - 1))
	}
	c := [...]uint32{0xffffff, 0x16202a, 0x5b6670, 0xd9dee2, 0xffffff, 0xeceff1, 0xf0c14b, 0xb3261e, 0x1f2933, 0x1f6f5c, 0xf6f3ea, 0xb3261e, 0x2a5f8f}[i]
	return uint8(c >> 16), uint8(c >> 8), uint8(c)
}

// rampRGB goes from a dark blue to a light yellow in even steps of lightness,
// which eyes that see fewer colours, and paper printed in grey, keep. It is a
// straight line in Oklab (B. Ottosson, A perceptual color space for image
// processing, 2020; matrices from memory, a test takes them there and back).
func rampRGB(t float64) (r, g, b uint8) {
	from, to := [3]float64{0.28, -0.01, -0.11}, [3]float64{0.90, -0.02, 0.15}
	var lab [3]float64
	for i := range lab {
		lab[i] = from[i] + t*(to[i]-from[i])
	}
	l := cube(lab[0] + 0.3963377774*lab[1] + 0.2158037573*lab[2])
	m := cube(lab[0] - 0.1055613458*lab[1] - 0.0638541728*lab[2])
	s := cube(lab[0] - 0.0894841775*lab[1] - 1.2914855480*lab[2])
	return encoded(4.0767416621*l - 3.3077115913*m + 0.2309699292*s),
		encoded(-1.2684380046*l + 2.6097574011*m - 0.3413193965*s),
		encoded(-0.0041960863*l - 0.7034186147*m + 1.7076147010*s)
}

func cube(x float64) float64 { return x * x * x }

// encoded is a linear intensity in the curve of sRGB (IEC 61966-2-1).
func encoded(x float64) uint8 {
	x = math.Min(math.Max(x, 0), 1)
	if x <= 0.0031308 {
		x *= 12.92
	} else {
		x = 1.055*math.Pow(x, 1/2.4) - 0.055
	}
	return uint8(math.Round(x * 255))
}
