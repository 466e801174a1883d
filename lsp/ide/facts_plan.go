package ide

import (
	"context"
	"fmt"
	"math"
	"slices"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/locating"
	"ohmstead/schema"
)

func (v *View) planFacts() facts {
	var fs facts
	pixels, length, runs := 0, 0.0, 0
	for _, r := range v.Figures.Runs {
		if r.OK {
			runs++
			pixels += r.Pixels
			length += r.Length
		}
	}
	if runs > 0 {
		fs.add("runs", "%s, %s, %s", quantity.Count(runs, "run"), quantity.Count(pixels, "pixel"), v.metres(length))
	}
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		w, n := 0.0, 0
		for _, supply := range v.Plan.Supplies {
			if s, ok := v.supplyCase(supply, c); ok {
				w += s.Volts * s.Amps
				n++
			}
		}
		return watts(w), n > 0
	}); s != "" {
		fs.add("power from its supplies", "%s", s)
	}
	return fs
}

func (v *View) caseFacts(c *schema.Case) facts {
	var fs facts
	in, ok := v.Figures.Case(c.Name)
	if !ok || in.Own != c {
		return nil
	}
	for _, supply := range v.Plan.Supplies {
		if s, ok := v.supplyCase(supply, in); ok {
			fs.add(supply.ID(), "%s, %s", amps(s.Amps), ofRating(s.Load))
		}
	}
	least, at := math.Inf(1), ""
	for _, r := range v.Figures.Runs {
		if x, ok := v.runCase(r.Run, in); ok && x.MinVolts < least {
			least, at = x.MinVolts, fmt.Sprintf("%s at pixel %d of %s", volts(x.MinVolts), x.MinPixel, r.ID())
		}
	}
	if at != "" {
		fs.add("least voltage", "%s", at)
	}
	return fs
}

func (v *View) readingFacts(r *schema.Reading) facts {
	var fs facts
	if !r.Place.Known() {
		return nil
	}
	name := schema.Full
	if r.Case.Known() {
		name = r.Case.V.Name
	}
	c, ok := v.Figures.Case(name)
	if !ok {
		return nil
	}
	if r.Volts.Set && !r.Volts.Bad {
		if x, ok := v.voltsAt(r.Place.V, c); ok {
			fs.add("computed in "+name, "%s; the meter showed %s", volts(x), r.Volts.V)
		}
	}
	if r.Amps.Set && !r.Amps.Bad && r.Place.V.Supply != nil {
		if x, ok := v.supplyCase(r.Place.V.Supply, c); ok {
			fs.add("computed in "+name, "%s; the meter showed %s", amps(x.Amps), r.Amps.V)
		}
	}
	if l := r.Place.V.Lead; l != nil && r.Amps.Set && !r.Amps.Bad {
		if x, ok := v.leadCase(l, c); ok {
			fs.add("computed in "+name, "%s; the meter showed %s", amps(math.Abs(x.Amps)), r.Amps.V)
		}
	}
	return append(fs, v.causeFacts(r)...)
}

// mostCauses is how many causes of a reading are told on hover.
const mostCauses = 3

// causeFacts says what the readings of an island point to, where one of them differs and the
// answer is soon worked out: the causes that they cannot tell apart, each with the size that
// fits and its heat.
func (v *View) causeFacts(r *schema.Reading) (fs facts) {
	if !locating.Quick(v.Figures) {
		return nil
	}
	found, err := locating.Find(context.Background(), v.Figures, false)
	if err != nil {
		return nil
	}
	for i := range found {
		l := &found[i]
		at := slices.IndexFunc(l.Readings, func(x figures.Reading) bool { return x.Reading == r })
		if at < 0 || !l.Readings[at].Differs() {
			continue
		}
		class := l.Classes[0]
		if caution := locating.Caution(class); caution != "" {
			fs.add("caution", "%s", caution)
		}
		for _, c := range class[:min(len(class), mostCauses)] {
			fs.add("may be", "%s (%s)", l.Say(c), quantity.Number(100*c.Share, 2)+" %")
		}
		if n := len(class) - mostCauses; n > 0 {
			fs.add("may be", "%s that these readings cannot tell apart; ohmstead locate says what to read next", quantity.Count(n, "more cause"))
		}
	}
	return fs
}

// voltsAt is the voltage between plus and minus at a place.
func (v *View) voltsAt(pt *schema.Point, c *figures.Case) (float64, bool) {
	switch {
	case pt.Supply != nil:
		x, ok := v.supplyCase(pt.Supply, c)
		return x.Volts, ok
	case pt.Joint != nil:
		x, ok := v.jointCase(pt.Joint, c)
		return x.Volts, ok
	case pt.Controller != nil && pt.Port == nil:
		x, ok := v.controllerCase(pt.Controller, c)
		return x.Volts, ok
	case pt.Run != nil:
		x, ok := v.runCase(pt.Run, c)
		if !ok {
			return 0, false
		}
		switch pt.Where {
		case schema.AtStart:
			return x.StartVolts, true
		case schema.AtEnd:
			return x.EndVolts, true
		}
		f, _ := v.Figures.Run(pt.Run)
		pixel := int(f.Snap(pt).At / f.Pitch)
		if pixel < 0 || f.Pixels == 0 {
			return 0, false
		}
		return x.PixelVolts(min(pixel, f.Pixels-1)), true
	}
	return 0, false
}
