package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// sparkWidth is how many characters a profile takes as text.
const sparkWidth = 40

var levels = []rune("▁▂▃▄▅▆▇█")

// spark draws a profile as text, before and after on one scale.
func (p Profile) spark() string {
	low, high := p.bounds()
	var b strings.Builder
	fmt.Fprintf(&b, "%s (%s)", p.ID, p.Case)
	if p.Need != nil {
		fmt.Fprintf(&b, ", its colours need %s", volts(*p.Need))
	}
	b.WriteByte('\n')
	longest := math.Max(p.Length[0], p.Length[1])
	for _, s := range []struct {
		name   string
		volts  []float64
		length float64
	}{{"before", p.Was, p.Length[0]}, {"after", p.Is, p.Length[1]}} {
		if len(s.volts) == 0 {
			continue
		}
		width := max(1, int(math.Round(sparkWidth*s.length/longest)))
		fmt.Fprintf(&b, "  %-6s %s  %s … %s, least %s\n", s.name, pad(bars(s.volts, width, low, high)),
			volts(s.volts[0]), volts(s.volts[len(s.volts)-1]), volts(slices.Min(s.volts)))
	}
	return b.String()
}

func pad(s string) string {
	return s + strings.Repeat(" ", max(0, sparkWidth-len([]rune(s))))
}

// bars draws values as columns of a width in characters, the least of each stretch.
func bars(vs []float64, width int, low, high float64) string {
	var b strings.Builder
	for i := range width {
		from := i * len(vs) / width
		to := max(from+1, (i+1)*len(vs)/width)
		v := slices.Min(vs[from:min(to, len(vs))])
		at := len(levels) - 1
		if high > low {
			at = int(math.Round((v - low) / (high - low) * float64(len(levels)-1)))
		}
		b.WriteRune(levels[min(max(at, 0), len(levels)-1)])
	}
	return b.String()
}

// drawn are the profiles to draw, at most n: of the copies that times makes,
// the one that falls lowest.
func (p *Plan) drawn(n int) (out []Profile, left int) {
	at := map[string]int{}
	for _, x := range p.Profiles {
		key := x.Family + "\x00" + x.Case
		i, seen := at[key]
		switch {
		case !seen:
			at[key] = len(out)
			out = append(out, x)
		case slices.Min(x.Is) < slices.Min(out[i].Is):
			out[i] = x
		}
	}
	if len(out) > n {
		return out[:n], len(out) - n
	}
	return out, 0
}
