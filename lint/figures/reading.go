package figures

import (
	"cmp"
	"math"
	"slices"

	"ohmstead/calc/meter"
	"ohmstead/schema"
)

// How far the values of a plan may lie from the wall that it describes.
const (
	// setPoint is the share by which a supply's output may lie off its nominal
	// value where nobody wrote its trim: common practice, no source.
	setPoint = 0.01
	// dropSpread is the same of a voltage lost on the way: copper of strips and the
	// current of pixels lie within some 10 % each, lengths and contacts add to it:
	// common practice, no source.
	dropSpread = 0.15
	// currentSpread is the same of the current of pixels.
	currentSpread = 0.05
)

// Reading is a meter reading beside what should have been read.
type Reading struct {
	*schema.Reading
	Case  *Case
	Got   float64         // V, or A where the reading has amps
	Want  float64         // the same as worked out
	Leave float64         // how far a healthy meter and a plan that is right may differ
	From  *schema.Reading // the one nearer to the supply that Want is reckoned from; nil where there is none
	Flows float64         // A, that a joint before the place passes on

	worked float64
	still  float64 // what the meter leaves open where it shows 0
	is     *Island // what the place hangs on; nil where nothing is wired to it
}

// network is one in a case.
type network struct {
	island *Island
	in     *Case
}

// Differs tells whether what was read is not what should have been read.
func (r *Reading) Differs() bool { return math.Abs(r.Got-r.Want) > r.Leave }

// Readings compares the plan's readings with what was worked out, each in its
// case; those for which nothing was worked out are left out. Where the same
// network was read nearer to its supply too, only the voltage lost from there
// counts. The nearest such reading does, so that a fault shows at the first place
// behind it; where nothing differs up to there, the one that this agrees with least.
func (f *Figures) Readings() []Reading {
	out := make([]Reading, 0, len(f.Plan.Readings))
	for _, r := range f.Plan.Readings {
		if x, ok := f.reckoned(r); ok {
			x.still, x.is = f.meterError(r, 0), f.networkAt(r.Place.V)
			out = append(out, x)
		}
	}
	falling := make([]*Reading, len(out))
	for i := range out {
		falling[i] = &out[i]
	}
	slices.SortStableFunc(falling, func(a, b *Reading) int { return cmp.Compare(b.worked, a.worked) })
	read := map[network][]*Reading{} // the nearest last
	for _, r := range falling {
		var before []*Reading
		if at := (network{r.is, r.Case}); !r.Amps.Set && r.is != nil {
			before = read[at]
			read[at] = append(before, r)
			for len(before) > 0 && before[len(before)-1].worked == r.worked {
				before = before[:len(before)-1]
			}
		}
		if len(before) == 0 {
			f.first(r)
			continue
		}
		r.From = before[len(before)-1].Reading
		r.Want, r.Leave = r.behind(before[len(before)-1])
		if !r.Differs() && !slices.ContainsFunc(before, (*Reading).Differs) {
			for _, x := range before {
				want, leave := r.behind(x)
				if math.Abs(r.Got-want)*r.Leave > math.Abs(r.Got-r.Want)*leave {
					r.Want, r.Leave, r.From = want, leave, x.Reading
				}
			}
		}
	}
	return out
}

// first sets what should be read at a place before which nothing was read.
func (f *Figures) first(r *Reading) {
	r.Want, r.Leave = r.worked, f.meterError(r.Reading, r.worked)
	switch {
	case r.Amps.Set:
		r.Leave += currentSpread * math.Abs(r.worked)
	case r.is != nil:
		r.Leave += r.is.leaves(r.worked)
	}
}

// leaves is how far the voltage at a place may lie off what was worked out for a plan that is right, V.
func (is *Island) leaves(volts float64) float64 {
	source, sure := sourceOf(is)
	leave := dropSpread * math.Abs(source-volts)
	if !sure {
		leave += setPoint * source
	}
	return leave
}

// Expected is what a healthy meter shows at a place in a case, and how far it and a plan that is right may lie
// off it: V and A, the meter being a common one (see calc/meter).
//
// Below is what is lost since the supply, of several the one that gives most. Where the voltage read at the supply
// is the one to start from, how the supply is set falls out, so far less is left open and a bad joint shows.
type Expected struct {
	Volts, VoltsLeave float64
	Below, BelowLeave float64
	Amps, AmpsLeave   float64
}

// hundredths is the place of the last digit that a meter for the voltage below the supply has to show, V.
const hundredths = 0.01

// Expect works it out. Of a controller the current is NaN, and at a supply what is below it; ok is false where
// nothing was worked out.
func (f *Figures) Expect(pt *schema.Point, c *Case) (e Expected, ok bool) {
	e.Volts, e.Amps, ok = f.At(pt, c)
	is := f.networkAt(pt)
	if !ok || is == nil {
		return e, false
	}
	e.VoltsLeave = meter.Error(e.Volts, meter.Accuracy, meter.Digits, meter.Range(e.Volts)) + is.leaves(e.Volts)
	e.Below, e.BelowLeave = math.NaN(), math.NaN()
	if source, sure := sourceOf(is); pt.Supply == nil {
		e.Below = source - e.Volts
		// Both are read with one meter, so its share of the reading falls out of the difference.
		e.BelowLeave = 2*meter.Error(0, meter.Accuracy, meter.Digits, hundredths) + (meter.Accuracy+dropSpread)*math.Abs(e.Below)
		if !sure && len(is.Supplies) > 1 {
			e.BelowLeave += setPoint * source // they share the load as they are set
		}
	}
	e.AmpsLeave = meter.Error(e.Amps, meter.CurrentAccuracy, meter.CurrentDigits, math.Max(meter.CurrentStep, meter.Range(e.Amps))) + currentSpread*math.Abs(e.Amps)
	return e, true
}

// At is what was worked out for a place in a case: the voltage between plus and minus, and the current there: of
// a run its own, of a joint what it passes on, of a supply that of the output.
func (f *Figures) At(pt *schema.Point, c *Case) (volts, amps float64, ok bool) {
	switch {
	case pt.Run != nil:
		if run := f.runs[pt.Run]; run != nil && c.Runs[run.place].OK {
			at := &c.Runs[run.place]
			return at.PadVolts(run.Snap(pt).At), at.Amps, true
		}
	case pt.Joint != nil:
		if i, known := f.joints[pt.Joint]; known && c.Joints[i].OK {
			return c.Joints[i].Volts, c.Joints[i].Amps, true
		}
	case pt.Supply != nil:
		if i, known := f.supplies[pt.Supply]; known && c.Supplies[i].OK {
			return c.Supplies[i].Volts, c.Supplies[i].Each[pt.Output-1], true
		}
	case pt.Controller != nil:
		if ctl := f.controllers[pt.Controller]; ctl != nil && c.Controllers[ctl.place].OK {
			return c.Controllers[ctl.place].Volts, math.NaN(), true
		}
	}
	return 0, 0, false
}

// behind is what should be read behind another place, given what was read there.
// It is one meter, so its share of the reading falls out of the difference.
func (r *Reading) behind(x *Reading) (want, leave float64) {
	drop := x.worked - r.worked
	return x.Got - drop, r.still + x.still + (r.Accuracy.V.SI+dropSpread)*drop
}

// meterError is what the meter leaves open of a reading where it should show si.
func (f *Figures) meterError(r *schema.Reading, si float64) float64 {
	read := r.Volts
	if r.Amps.Set {
		read = r.Amps
	}
	text := string(read.At.Bytes())
	if len(text) > 0 && text[0] == '"' {
		text = text[1:]
	}
	accuracy, digits := r.Accuracy.V.SI, r.Digits.V
	if r.Amps.Set {
		if !r.Accuracy.Set {
			accuracy = meter.CurrentAccuracy
		}
		if !r.Digits.Set {
			digits = meter.CurrentDigits
		}
	}
	return meter.Error(si, accuracy, digits, meter.Step(text)*read.V.Unit.Factor)
}

// networkAt is what a place hangs on; nil where nothing is wired to it.
func (f *Figures) networkAt(pt *schema.Point) *Island {
	switch {
	case pt.Run != nil:
		return f.runs[pt.Run].Island
	case pt.Controller != nil:
		return f.controllers[pt.Controller].Island
	}
	return f.wired[pt.Block()]
}

// sourceOf is the highest voltage that a supply gives to a network, and whether
// what each of them gives was measured and written as its trim.
func sourceOf(is *Island) (volts float64, sure bool) {
	sure = true
	for _, s := range is.Supplies {
		volts = max(volts, s.Volts())
		sure = sure && s.Trim.Set
	}
	return volts, sure
}

// reckoned is what was worked out for the place of a reading.
func (f *Figures) reckoned(r *schema.Reading) (out Reading, ok bool) {
	if r.Broken || r.Volts.Bad || r.Amps.Bad || r.Case.Bad || !r.Accuracy.Known() || !r.Digits.Known() || !r.Place.Known() {
		return out, false
	}
	out.Reading = r
	for _, x := range f.Cases {
		// A case of the plan may bear the name of a built-in one.
		if r.Case.V == nil && x.Own == nil && x.Name == schema.Full || r.Case.V != nil && x.Own != nil && x.Name == r.Case.V.Name {
			out.Case = x
		}
	}
	if out.Case == nil {
		return out, false
	}
	out.worked, out.Flows, ok = f.At(r.Place.V, out.Case)
	out.Got = r.Volts.V.SI
	if r.Amps.Set {
		out.Got, out.worked = r.Amps.V.SI, out.Flows
	}
	return out, ok
}
