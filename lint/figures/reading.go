package figures

import (
	"math"

	"ohmstead/calc/meter"
	"ohmstead/schema"
)

// Reading is a meter reading beside what should have been read.
type Reading struct {
	*schema.Reading
	Case   *Case
	Probes Probes
	On     *Island         // what the place hangs on
	Got    float64         // V, A or ohm
	Want   float64         // the same as worked out
	Leave  float64         // how far a healthy meter and a plan that is right may differ
	Share  float64         // of what it shows, that the meter leaves open
	Still  float64         // what it leaves open where it shows 0
	From   *schema.Reading // the one nearer to the supply that Want is reckoned from; nil where there is none
	Flows  float64         // A, that a joint before the place passes on

	worked float64
	moves  []Move // what moves it, where spread
	spread bool   // that has been worked out
}

// Differs tells whether what was read is not what should have been read.
func (r *Reading) Differs() bool { return r.off(r.Want) > r.Leave }

func (r *Reading) off(want float64) float64 { return math.Abs(r.Got - want) }

// Expected is what a healthy meter shows at a place in a case, and how far it and a plan that is right may lie
// off it: V and A, the meter being a common one (see calc/meter).
//
// Below is what is lost since the supply, of several the one that gives most. Where the voltage read at the supply
// is the one to start from, how the supply is set falls out, so far less is left open and a bad joint shows.
type Expected struct {
	OK                bool
	Volts, VoltsLeave float64
	Below, BelowLeave float64
	Amps, AmpsLeave   float64
}

// hundredths is the place of the last digit that a meter for the voltage below the supply has to show, V.
const hundredths = 0.01

// Expect works it out for places in a case, in their order. Of a controller the current is NaN, and at a supply what is
// below it; OK is false where nothing was worked out.
func (f *Figures) Expect(places []*schema.Point, c *Case) []Expected {
	out := make([]Expected, len(places))
	of := map[*Island][]int{}
	for i, pt := range places {
		e := &out[i]
		is := f.networkAt(pt)
		if e.Volts, e.Amps, e.OK = f.At(pt, c); e.OK && is != nil {
			of[is] = append(of[is], i)
		}
	}
	for is, list := range of {
		var probes []Probes
		source, top := 0.0, 0 // of several supplies the one that gives most
		for i, s := range is.Supplies {
			probes = append(probes, Probes{At: &schema.Point{Kind: schema.SupplyOut, Supply: s, Output: 1}})
			if s.Volts() > source {
				source, top = s.Volts(), i
			}
		}
		for _, i := range list {
			probes = append(probes, Probes{At: places[i]}, Probes{At: places[i], Reads: Amps})
		}
		_, s, err := f.SpreadOf(is, c, probes)
		for n, i := range list {
			e, pt, at := &out[i], places[i], len(is.Supplies)+2*n
			if e.OK = err == nil; !e.OK {
				continue
			}
			e.VoltsLeave = meter.Error(e.Volts, meter.Accuracy, meter.Digits, meter.Range(e.Volts)) + s.Leaves(at)
			e.Below, e.BelowLeave = math.NaN(), math.NaN()
			if pt.Supply == nil {
				e.Below = source - e.Volts
				// Both are read with one meter, so its share of the reading falls out of the difference.
				e.BelowLeave = 2*meter.Error(0, meter.Accuracy, meter.Digits, hundredths) + meter.Accuracy*math.Abs(e.Below) + s.Between(at, top)
			}
			e.AmpsLeave = meter.Error(e.Amps, meter.CurrentAccuracy, meter.CurrentDigits, math.Max(meter.CurrentStep, meter.Range(e.Amps))) + s.Leaves(at+1)
		}
	}
	return out
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

// meterError is what the meter leaves open: a share of what it shows, and the same at 0.
func (f *Figures) meterError(r *schema.Reading) (share, still float64) {
	read := r.Read()
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
	} else if r.Place.V.Lead != nil {
		digits *= 2 // along plus, then along minus
	}
	return accuracy, meter.Error(0, accuracy, digits, meter.Step(text)*read.V.Unit.Factor)
}

// networkAt is what a place hangs on; nil where nothing is wired to it.
func (f *Figures) networkAt(pt *schema.Point) *Island {
	switch {
	case pt.Run != nil:
		return f.runs[pt.Run].Island
	case pt.Controller != nil:
		return f.controllers[pt.Controller].Island
	case pt.Lead != nil:
		return f.leads[pt.Lead].Island
	}
	return f.wired[pt.Block()]
}

// reckoned is what was worked out for the place of a reading.
func (f *Figures) reckoned(r *schema.Reading) (out Reading, ok bool) {
	if r.Broken || r.Read().Bad || r.Case.Bad || !r.Accuracy.Known() || !r.Digits.Known() || !r.Place.Known() {
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
	out.Probes, out.Got, out.On = Probes{At: r.Place.V}, r.Read().V.SI, f.networkAt(r.Place.V)
	switch {
	case r.Amps.Set:
		out.Probes.Reads = Amps
	case r.Ohms.Set:
		out.Probes.Reads = Ohms
	}
	if out.On == nil {
		return out, false
	}
	if r.Place.V.Lead == nil {
		if out.worked, out.Flows, ok = f.At(r.Place.V, out.Case); r.Amps.Set {
			out.worked = out.Flows
		}
		return out, ok
	}
	w, err := f.Wall(out.On, out.Case)
	if err != nil {
		return out, false
	}
	out.Flows = w.shows(Probes{At: r.Place.V, Reads: Amps})
	out.worked, err = w.Shows(out.Probes)
	return out, err == nil
}
