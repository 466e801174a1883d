package drawing

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ohmstead/calc/path"
	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
)

// Voltage shows a place in one case: the voltage at the pixels as colour along
// the runs, and in numbers at their ends and where it is least.
func Voltage(f *figures.Figures, p Place, c *figures.Case, fr Frame) *Scene {
	e := newElevation(f, p.layout(), fr)
	v := voltage{elevation: e, c: c}
	v.lo, v.hi = span(f, c)
	v.jumps()
	v.bands()
	v.devices()
	v.feeds()
	v.volts()
	v.devicesNamed()
	v.runsNamed()
	s := v.scene("voltage-", say("voltage", "name", p.name(f))+", "+say("case", "name", c.Name))
	s.Name += "-" + slug(c.Name)
	return s
}

type voltage struct {
	*elevation
	c      *figures.Case
	lo, hi float64 // V, of the ramp
}

// span is the ramp's range: all voltages of the plan's runs in a case, to whole
// steps of a tenth of a volt, half a volt wide at the least. All places of a plan have one ramp.
func span(f *figures.Figures, c *figures.Case) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range f.Runs {
		if rc := &c.Runs[i]; rc.OK {
			lo = math.Min(lo, rc.MinVolts)
			hi = math.Max(hi, math.Max(rc.StartVolts, rc.EndVolts))
		}
	}
	if hi < lo {
		return 0, 1
	}
	lo, hi = math.Floor(lo*10+1e-6)/10, math.Ceil(hi*10-1e-6)/10
	return math.Min(lo, hi-0.5), hi
}

func (v *voltage) ink(volts float64) Ink { return Ramp((volts - v.lo) / (v.hi - v.lo)) }

func (v *voltage) bands() {
	w := v.band()
	index := indexOf(v.f)
	dark := false
	for i, r := range v.l.Runs {
		p, to := v.l.paths[i], drawnLength(r)
		rc := &v.c.Runs[index[r]]
		g := &Group{Meta: Meta{Of: r.ID(), Part: "run", Tip: v.tip(r)}}
		whole := trace(Style{Stroke: Line, Width: w + 2*thin*v.dense}, v.m, p, 0, to)
		v.room.takePath(whole, w/2+thin*v.dense)
		g.Marks = append(g.Marks, whole)
		if !rc.OK {
			dark = true
			open := *whole
			open.Style = Style{Stroke: Paper, Width: w, Dash: []float64{2, 2}}
			g.Marks = append(g.Marks, &open)
		} else {
			g.Tip += fmt.Sprintf("; %s, %s, %s", showVolts(rc.MinVolts), say("pixel", "n", strconv.Itoa(rc.MinPixel)), v.c.Name)
			g.Marks = append(g.Marks, v.colours(r, rc, p, to, w)...)
		}
		v.runs.Marks = append(v.runs.Marks, g)
	}
	v.lg.entries = append([]entry{{text: say("volts"), height: 9.5, bold: true, sample: v.scaleOfVolts}}, v.lg.entries...)
	v.lg.add(say("bold"), func(at Pt) []Mark {
		t := word(at.plus(0, 0.8), Middle, Line, say("sample")) // no figure: it is not to be taken for a reading
		t.Face = Bold
		return []Mark{t}
	})
	for _, n := range v.needed() {
		v.lg.add(say("least", "volts", showVolts(n)), func(at Pt) []Mark { return []Mark{line(fat(Danger), at.plus(0, -1.8), at.plus(0, 1.8))} })
	}
	if dark {
		v.lg.add(say("no-power"), func(at Pt) []Mark {
			return []Mark{line(Style{Stroke: Line, Width: 2}, at.plus(-3, 0), at.plus(3, 0)), line(Style{Stroke: Paper, Width: 1.6, Dash: []float64{2, 2}}, at.plus(-3, 0), at.plus(3, 0))}
		})
	}
}

// indexOf says where each run stands in the figures of a case.
func indexOf(f *figures.Figures) map[*figures.Run]int {
	out := make(map[*figures.Run]int, len(f.Runs))
	for i, r := range f.Runs {
		out[r] = i
	}
	return out
}

// colours draws stretches of equal colour, none shorter than half a millimetre.
func (v *voltage) colours(r *figures.Run, rc *figures.RunCase, p *path.Path, to, w float64) []Mark {
	n := int(math.Min(math.Max(1, to*v.m.K/0.5), float64(r.Pixels)))
	var out []Mark
	from, ink := 0.0, None
	for k := range n + 1 {
		now := None
		if k < n {
			now = v.ink(rc.PixelVolts(k * r.Pixels / n))
		}
		if now == ink {
			continue
		}
		s := to * float64(k) / float64(n)
		if ink != None {
			out = append(out, trace(Style{Stroke: ink, Width: w}, v.m, p, from, s))
		}
		from, ink = s, now
	}
	return out
}

func showVolts(volts float64) string { return strconv.FormatFloat(volts, 'f', 2, 64) + " V" }

// volts writes the numbers: where it is least first.
func (v *voltage) volts() {
	index := indexOf(v.f)
	for i, r := range v.l.Runs {
		rc := &v.c.Runs[index[r]]
		if !rc.OK || r.Pixels == 0 {
			continue
		}
		w := v.band()
		p, to := v.l.paths[i], drawnLength(r)
		x, y, h := p.At(to * (float64(rc.MinPixel) + 0.5) / float64(r.Pixels))
		at := v.m.At(x, y)
		text := &Text{Meta: Meta{Of: r.ID(), Part: "least"}, Ink: Line, Face: Bold, Size: small, S: showVolts(rc.MinVolts)}
		if need, ok := needs(r); ok && rc.MinVolts < need {
			text.Ink = Danger
			text.S += " < " + showVolts(need)
		}
		first, last := rc.MinPixel == 0, rc.MinPixel == r.Pixels-1
		in, out, inward, outward := v.ends(i)
		if r.DataEnters.V == "end" {
			in, out, inward, outward = out, in, outward, inward
		}
		switch {
		case first:
			v.put(text, beyond(in, inward, w)...)
		case last:
			v.put(text, beyond(out, outward, w)...)
		default:
			v.marks.Marks = append(v.marks.Marks, &Circle{Meta: Meta{Of: r.ID(), Part: "least"}, Style: Style{Stroke: Line, Width: thin, Fill: Paper}, At: at, R: 0.6})
			v.put(text, append(beside(at, -h, w/2, 0), around(at, w/2, w/2)...)...)
		}
		if !first {
			v.put(word(Pt{}, Start, Line, showVolts(rc.StartVolts)), beyond(in, inward, w)...)
		}
		if !last {
			v.put(word(Pt{}, Start, Line, showVolts(rc.EndVolts)), beyond(out, outward, w)...)
		}
	}
}

// needs is the least voltage that a run's colours need, V, where its strip says.
func needs(r *figures.Run) (float64, bool) {
	if s := r.Strip.V; r.OK && s != nil && s.MinVoltage.Known() {
		return s.MinVoltage.V.SI, true
	}
	return 0, false
}

// scaleOfVolts is the ramp with its numbers.
func (v *voltage) scaleOfVolts(at Pt) []Mark {
	const w = columnWidth - 8
	var out []Mark
	for i := range Steps {
		x := at.X + 3 + w*float64(i)/Steps
		out = append(out, &Rect{Style: solid(Ramp(float64(i) / (Steps - 1))), Box: Box{x, at.Y, w/Steps + 0.05, 3}})
	}
	out = append(out, &Rect{Style: hair(Line), Box: Box{at.X + 3, at.Y, w, 3}})
	step := 0.1
	for _, s := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10} {
		if step = s; (v.hi-v.lo)/s <= 4.01 {
			break
		}
	}
	for x := math.Ceil(v.lo/step-1e-6) * step; x <= v.hi+1e-6; x += step {
		p := Pt{at.X + 3 + w*(x-v.lo)/(v.hi-v.lo), at.Y + 3}
		out = append(out, line(hair(Line), p, p.plus(0, 1.2)), word(p.plus(0, 4), Middle, Line, quantity.Number(x, 4)))
	}
	for _, n := range v.needed() { // below it colours fade
		x := at.X + 3 + w*(n-v.lo)/(v.hi-v.lo)
		out = append(out, line(fat(Danger), Pt{x, at.Y - 1}, Pt{x, at.Y + 3.6}))
	}
	return out
}

// needed lists what the runs' colours need, V, as far as the ramp has it.
func (v *voltage) needed() []float64 {
	var out []float64
	for _, r := range v.l.Runs {
		if n, ok := needs(r); ok && n > v.lo && n < v.hi && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}
