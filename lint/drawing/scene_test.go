package drawing

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
)

// The matrices of Oklab, there and back: a grey comes out grey, and the ramp's
// lightness rises by even steps.
func TestRampIsEven(t *testing.T) {
	last, step := 0.0, 0.0
	for i := range Steps {
		r, g, b := Ramp(float64(i) / (Steps - 1)).RGB()
		l := lightness(r, g, b)
		switch {
		case i == 1:
			step = l - last
		case i > 1 && math.Abs(l-last-step) > 0.004: // two steps of a byte
			t.Errorf("step %d is %.4f, the first one %.4f", i, l-last, step)
		}
		last = l
	}
	if l := lightness(119, 119, 119); math.Abs(l-0.5693) > 1e-3 { // #777 has L = 0.5693, by the published conversion
		t.Errorf("#777 has lightness %.4f", l)
	}
}

// lightness is the L of Oklab, from sRGB.
func lightness(r, g, b uint8) float64 {
	lin := func(c uint8) float64 {
		x := float64(c) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	x, y, z := lin(r), lin(g), lin(b)
	l := math.Cbrt(0.4122214708*x + 0.5363325363*y + 0.0514459929*z)
	m := math.Cbrt(0.2119034982*x + 0.6806995451*y + 0.1073969566*z)
	s := math.Cbrt(0.0883024619*x + 0.2817188376*y + 0.6299787005*z)
	return 0.2104542553*l + 0.7936177850*m - 0.0040720468*s
}

// Characters of the mono face are 1229 of 2048 units wide, by its table hmtx.
func TestTextWidth(t *testing.T) {
	if w := TextWidth(Mono, 10, "abcd"); math.Abs(w-4*10*1229.0/2048) > 1e-9 {
		t.Errorf("four characters of the mono face are %.4f mm wide", w)
	}
	if a, b := TextWidth(Regular, 3, "ii"), TextWidth(Bold, 3, "WW"); !(a > 0 && b > 2*a) {
		t.Errorf("ii is %.3f mm wide and WW %.3f mm", a, b)
	}
	x := &Text{At: Pt{10, 10}, Anchor: End, Turn: 90, Size: 4, S: "upright"}
	if b := x.Bounds(); b.H < b.W || math.Abs(b.Y+b.H-10) > 1e-9 {
		t.Errorf("a text that ends at 10, 10 and reads downwards lies in %v", b)
	}
}

// Whatever a title says, the document stays sound and says no more than that.
func TestSVGIsSound(t *testing.T) {
	for _, title := range []string{"plain", `<script>alert("x")</script>`, "]]>&amp;'\"", "\u202eabc", "a\x00\x1b\ufffe\xffb", strings.Repeat("long ", 2000)} {
		s := &Scene{Title: title, Width: 100, Height: 50, Layers: []Layer{{Name: title, Clip: &Box{1, 2, 3, 4}, Marks: []Mark{
			&Text{Meta: Meta{Of: title, Part: title, Tip: title}, Ink: Line, Size: 3, S: title},
			&Group{Marks: []Mark{&Circle{Style: Style{Stroke: Line, Width: 0.2, Dash: []float64{1, 1}}, R: 2}}},
		}}}}
		d := xml.NewDecoder(strings.NewReader(string(s.SVG())))
		names := map[string]bool{}
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%.20q: %v", title, err)
			}
			if e, ok := tok.(xml.StartElement); ok {
				names[e.Name.Local] = true
			}
		}
		if names["script"] || !names["text"] || !names["circle"] {
			t.Errorf("%.20q: elements %v", title, names)
		}
	}
}
