package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
)

// The drawing of a profile, in the units of its view box.
const (
	drawWidth, drawHeight = 460.0, 190.0
	drawLeft, drawRight   = 46.0, 58.0 // margins; what is needed stands in the right one
	drawTop, drawBottom   = 14.0, 30.0
)

// profileDrawing is a profile laid out: what the page's template draws.
type profileDrawing struct {
	Title, Case   string
	Width, Height float64
	Was, Is       string // points of the two lines
	NeedY         float64
	Need          string // "" where it lies far below the picture
	Lines         []mark // across, at round voltages
	Feet          []mark // along, in metres
	Text          string // for those who do not see the picture
	Left, Right   float64
	Top, Bottom   float64
	Foot          float64 // the lower end of the marks along
}

// mark is a labelled place on an axis.
type mark struct {
	At   float64
	Text string
}

func draw(p Profile) profileDrawing {
	d := profileDrawing{Title: p.ID, Case: p.Case, Width: drawWidth, Height: drawHeight,
		Left: drawLeft, Right: drawWidth - drawRight, Top: drawTop, Bottom: drawHeight - drawBottom}
	d.Foot = d.Bottom + 4
	bottom, top := p.bounds()
	if span := math.Max(top-bottom, 0.01); p.Need != nil && *p.Need < bottom && bottom-*p.Need < 2*span {
		bottom = *p.Need
	}
	room := math.Max((top-bottom)*0.08, 0.01)
	bottom, top = bottom-room, top+room
	y := func(v float64) float64 { return d.Bottom - (v-bottom)/(top-bottom)*(d.Bottom-d.Top) }
	long := math.Max(p.Length[0], p.Length[1])
	x := func(m float64) float64 { return d.Left + m/long*(d.Right-d.Left) }
	line := func(volts []float64, length float64) string {
		var b strings.Builder
		for i, v := range volts {
			fmt.Fprintf(&b, "%.1f,%.1f ", x((float64(i)+0.5)/float64(len(volts))*length), y(v))
		}
		return strings.TrimSpace(b.String())
	}
	d.Was, d.Is = line(p.Was, p.Length[0]), line(p.Is, p.Length[1])
	if p.Need != nil && *p.Need >= bottom && *p.Need <= top {
		d.Need, d.NeedY = "needs "+volts(*p.Need), y(*p.Need)
	}
	step := roundStep(top-bottom, 5)
	for v := math.Ceil(bottom/step) * step; v <= top; v += step {
		d.Lines = append(d.Lines, mark{y(v), quantity.Number(math.Round(v/step)*step, 4) + " V"})
	}
	step = roundStep(long, 6)
	for m := 0.0; m <= long+step/1e6; m += step {
		d.Feet = append(d.Feet, mark{x(m), quantity.Number(math.Round(m/step)*step, 4) + " m"})
	}
	d.Text = fmt.Sprintf("Voltage along %s in case %s: least %s after the change", p.ID, p.Case, volts(slices.Min(p.Is)))
	if len(p.Was) > 0 {
		d.Text += ", " + volts(slices.Min(p.Was)) + " before"
	}
	return d
}

// roundStep is a step of 1, 2 or 5 times a power of ten that cuts a span into
// at most so many parts.
func roundStep(span float64, most float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(span/most)))
	for _, k := range []float64{1, 2, 5, 10} {
		if span/(k*step) <= most {
			return k * step
		}
	}
	return 10 * step
}
