package figures

import (
	"math"

	"ohmstead/calc/pixels"
	"ohmstead/calc/thermal"
)

// leastBend is the turn from which a bend is held where it begins and ends,
// degrees (common practice, no source).
const leastBend = 30

// Fixings are the places of what holds the run; nil where the plan does not say
// how far apart they are, as of a tape all along it.
func (run *Run) Fixings() []pixels.Fixing {
	x := run.Fixing.V
	if !run.OK || x == nil || !run.Fixing.Known() || !x.Spacing.Set || x.Spacing.Bad {
		return nil
	}
	at, err := pixels.Fixings(run.Length, x.Spacing.V.SI, run.marks()...)
	if err != nil {
		return nil
	}
	return at
}

// marks are the places of the run that have to be held: its corners, the
// joints of its diffuser's pieces, laid one after the other from the start and
// from each corner, and where its bends begin and end.
func (run *Run) marks() []pixels.Mark {
	ends := []float64{0}
	var marks []pixels.Mark
	if run.Path != nil {
		for _, c := range run.Path.Corners() {
			marks = append(marks, pixels.Mark{At: c.At, Of: pixels.Corner})
			ends = append(ends, c.At)
		}
		for _, b := range run.Path.Bends(leastBend) {
			marks = append(marks, pixels.Mark{At: b.From, Of: pixels.Bend}, pixels.Mark{At: b.To, Of: pixels.Bend})
		}
	}
	d := run.Diffuser.V
	if d == nil || !run.Diffuser.Known() || !d.Piece.Known() || run.Length/d.Piece.V.SI > pixels.MaxPixels {
		return marks
	}
	for i, from := range ends {
		to := run.Length
		if i+1 < len(ends) {
			to = ends[i+1]
		}
		for n := 1.0; from+n*d.Piece.V.SI < to-1e-6; n++ {
			marks = append(marks, pixels.Mark{At: from + n*d.Piece.V.SI, Of: pixels.Joint})
		}
	}
	return marks
}

// FixingLoad is the most loaded of the run's fixings and the mass that it
// carries, kg, of the weight of its diffuser; the strip, some 20 g/m, is not
// counted. ok is false where the plan does not say enough.
func (run *Run) FixingLoad() (most pixels.Fixing, kg float64, ok bool) {
	d := run.Diffuser.V
	if d == nil || !run.Diffuser.Known() || !d.Weight.Known() {
		return most, 0, false
	}
	for _, x := range run.Fixings() {
		if x.Carries > most.Carries*(1+1e-9) {
			most, ok = x, true
		}
	}
	return most, most.Carries * d.Weight.V.SI, ok
}

// TapeLoad is the mass per metre that a tape along the whole run carries, and
// what it holds, kg/m; the strip is not counted. ok is
// false where it is fixed otherwise or the plan does not say enough.
func (run *Run) TapeLoad() (load, holds float64, ok bool) {
	d, x := run.Diffuser.V, run.Fixing.V
	if d == nil || x == nil || !run.Diffuser.Known() || !run.Fixing.Known() || x.Kind.V != "adhesive" || x.Spacing.Set || !d.Weight.Known() || !x.Width.Known() {
		return 0, 0, false
	}
	return d.Weight.V.SI, pixels.TapeHolds(x.Width.V.SI), true
}

// Warm is the share of what one of the run's fixings holds at room temperature
// that it holds at the warmest, and how warm that is, degC.
func (f *Figures) Warm(run *Run) (share, degC float64) {
	x := run.Fixing.V
	degC = f.Hottest(run)
	switch {
	case x == nil || !run.Fixing.Known():
		return 1, degC
	case x.Kind.V == "magnet":
		return pixels.WarmMagnet(degC), degC
	case x.Kind.V == "adhesive" && x.Material.V != "silicone":
		return pixels.WarmAcrylic(degC), degC
	}
	return 1, degC
}

// FixingSpacing is the distance between fixings at which each carries no more
// than so much, kg: m, rounded down to a centimetre; 0 where the weight is not
// known.
func (run *Run) FixingSpacing(holds float64) float64 {
	d := run.Diffuser.V
	if d == nil || !d.Weight.Known() {
		return 0
	}
	return pixels.FixingSpacing(d.Weight.V.SI, holds)
}

// Hottest is the temperature that a run's diffuser and what holds it reach,
// degC: the warmest air, and as much more as its light warms it in the worst
// case but full, where the plan says what the diffuser carries away.
func (f *Figures) Hottest(run *Run) float64 {
	hot := f.Plan.Ambient()
	if d := run.Diffuser.V; d != nil && run.OK && run.Diffuser.Known() && d.HeatLimit.Known() {
		_, watts := f.Warmest(run)
		hot += thermal.HeatLimitRise * math.Min(1, watts/run.Length/d.HeatLimit.V.SI)
	}
	return hot
}
