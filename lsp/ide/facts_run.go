package ide

import (
	"encoding/base64"
	"math"
	"slices"

	"ohmstead/lint/drawing"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

func (v *View) runFacts(r *schema.Run, c *figures.Case) facts {
	var fs facts
	f, ok := v.Figures.Run(r)
	if !ok {
		return nil
	}
	if f.Why != "" {
		fs.add("geometry", "%s", f.Why)
	}
	if !f.OK {
		return fs
	}
	fs.add("pixels", "%d, pitch %s", f.Pixels, v.metres(f.Pitch))
	length := v.metres(f.Length)
	if rest := f.Length - f.StripLength(); rest > 0.0005 {
		length += ", of which strip " + v.metres(f.StripLength())
	}
	if f.Path != nil && !math.IsInf(f.Least, 1) {
		length += ", tightest bend " + v.metres(f.Least)
	}
	fs.add("length", "%s", length)
	if x, ok := v.runCase(r, c); ok {
		fs.add("voltage in "+c.Name, "%s at the start, %s at the end, least %s at pixel %d", volts(x.StartVolts), volts(x.EndVolts), volts(x.MinVolts), x.MinPixel)
		least := f.Volts * (1 - v.Plan.Limits().Drop)
		if image := v.pictureAlong(f); image != "" {
			fs = append(fs, fact{image: image})
		} else if line := profile(x.Volts(), least, f.Volts); line != "" {
			fs.add("along the run", "`%s` █ is %s, ▁ the least allowed, %s", line, volts(f.Volts), volts(least))
		}
		fs.add("power in "+c.Name, "%s, %s", amps(x.Amps), watts(x.Watts))
	}
	if x, ok := v.anyRun(r); ok {
		fs.add("any pattern", "at least %s (pixel %d)", volts(x.MinVolts), x.MinPixel)
	}
	if p := f.Port; p != nil {
		fs.add("data", "%s, from its pixel %d", p.ID(), f.First)
		if p.OK {
			fs.add("frame rate", "%s", hertz(p.Rate))
		}
	}
	return fs
}

// mostPicture is how many bytes the Markdown of a picture may have: editors cut
// long hovers off, and a picture that is cut is none.
const mostPicture = 18_000

// pictureAlong is the picture of the voltage along a run in every case, as
// Markdown; "" where the editor shows no pictures.
func (v *View) pictureAlong(run *figures.Run) string {
	if !v.Pictures {
		return ""
	}
	svg := drawing.Profile(v.Figures, run, drawing.Small).OnPaper().SVG()
	picture := "![voltage along the run in each case](data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(svg) + ")"
	if len(picture) > mostPicture {
		return ""
	}
	return picture
}

// profileWidth is how many characters a profile line has at most.
const profileWidth = 32

// profile draws the voltage along a run, from a low block for the least that is
// allowed to a full one for its nominal voltage; x is below what is allowed.
func profile(volts []float64, least, nominal float64) string {
	if len(volts) < 2 || !(least < nominal) {
		return ""
	}
	bars := []rune("▁▂▃▄▅▆▇█")
	n := min(profileWidth, len(volts))
	out := make([]rune, n)
	for i := range n {
		part := slices.Min(volts[i*len(volts)/n : (i+1)*len(volts)/n])
		level := int(math.Round((part - least) / (nominal - least) * float64(len(bars)-1)))
		if out[i] = bars[max(0, min(level, len(bars)-1))]; part < least {
			out[i] = 'x'
		}
	}
	return string(out)
}
