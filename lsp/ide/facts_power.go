package ide

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

func (v *View) supplyFacts(s *schema.Supply) facts {
	var fs facts
	for _, c := range v.Figures.Cases {
		x, ok := v.supplyCase(s, c)
		if !ok {
			continue
		}
		text := fmt.Sprintf("%s, %s, %s", amps(x.Amps), watts(x.Amps*x.Volts), ofRating(x.Load))
		if len(x.Each) > 1 {
			var each []string
			for _, a := range x.Each {
				each = append(each, amps(a))
			}
			text += " (fullest output; outputs: " + strings.Join(each, ", ") + ")"
		}
		fs.add("load in "+c.Name, "%s", text)
	}
	if any, ok := v.anySupply(s); ok {
		fs.add("load of any pattern", "at most %s of one output", amps(any.Amps))
	}
	return fs
}

func (v *View) jointFacts(j *schema.Joint) facts {
	var fs facts
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		x, ok := v.jointCase(j, c)
		return volts(x.Volts), ok
	}); s != "" {
		fs.add("voltage", "%s", s)
	}
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		x, ok := v.jointCase(j, c)
		return amps(x.Amps), ok
	}); s != "" {
		fs.add("current", "%s", s)
	}
	return fs
}

func (v *View) leadFacts(l *schema.Lead, c *figures.Case) facts {
	var fs facts
	f, ok := v.Figures.Lead(l)
	if !ok {
		return nil
	}
	if f.Why != "" {
		fs.add("length", "%s", f.Why)
	}
	if !f.OK {
		return fs
	}
	length := v.metres(f.Length)
	if f.Estimated {
		limits := v.Plan.Limits()
		length += fmt.Sprintf(", estimated from the places of its ends plus %s, %s at the least", share(limits.Slack), v.metres(2*limits.Tail))
	}
	fs.add("length", "%s", length)
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		x, ok := v.leadCase(l, c)
		return amps(x.Amps), ok
	}); s != "" {
		if x, ok := v.anyLead(l); ok {
			s += ", any pattern " + amps(x.Amps)
		}
		fs.add("current", "%s", s)
	}
	if x, ok := v.leadCase(l, c); ok {
		fs.add("loses in "+c.Name, "%s, %s", volts(x.Drop), watts(x.Watts))
	}
	fs.add("wire", "%s, %s each side, carries %s", f.Gauge, quantity.Show(quantity.Resistance, f.Ohms), amps(f.Ampacity))
	fs = append(fs, v.fuseFacts(f, c)...)
	return fs
}

// fuseFacts says which fuse a lead has, and which standard sizes suit it.
func (v *View) fuseFacts(f *figures.Lead, c *figures.Case) facts {
	var fs facts
	if f.Carries.V == "minus" {
		return nil
	}
	if f.Fuse.Set && !f.Fuse.Bad {
		k := f.Device
		text := fmt.Sprintf("%s, %s", f.Fuse.V, k.Doc)
		if k.Standard != "" {
			text += " (" + k.Standard + ")"
		}
		text += fmt.Sprintf("; surely opens at %s, within %s", amps(k.Opens*f.Fuse.V.SI), k.Within)
		if x, ok := v.leadCase(f.Lead, c); ok {
			text += fmt.Sprintf("; loses %s in %s", volts(math.Abs(x.Amps)*f.FuseOhms), c.Name)
		}
		fs.add("fuse", "%s", text)
	}
	if load, ok := v.load(f.Lead); ok {
		if w := f.Device.Window(load, f.Ampacity); len(w) > 0 {
			fs.add("fuses that suit", "%s (carry %s, protect the wire)", window(w), amps(load))
		} else {
			fs.add("fuses that suit", "no standard size carries %s and protects a wire of %s", amps(load), amps(f.Ampacity))
		}
	}
	return fs
}

// fuseOf says of a lead's fuse what its kind comes in, and what it does there.
func (v *View) fuseOf(b schema.Block) facts {
	l, ok := b.(*schema.Lead)
	if !ok || v.Figures == nil {
		return nil
	}
	f, ok := v.Figures.Lead(l)
	if !ok || !f.OK {
		return nil
	}
	fs := v.fuseFacts(f, v.loadCase(""))
	fs.add("ratings of its kind", "%s", window(f.Device.Ratings))
	return fs
}

// load is the current that a lead carries for long: the most of every case
// that the ceilings hold, and of any pattern that they allow.
func (v *View) load(l *schema.Lead) (float64, bool) {
	load, known := 0.0, false
	for _, c := range v.Figures.Cases {
		if x, ok := v.leadCase(l, c); ok && c.Held {
			load, known = math.Max(load, math.Max(math.Abs(x.Amps), math.Abs(x.Back))), true
		}
	}
	if x, ok := v.anyLead(l); ok {
		load, known = math.Max(load, x.Amps), true
	}
	return load, known
}

func window(ratings []float64) string {
	var out []string
	for _, r := range ratings {
		out = append(out, amps(r))
	}
	return strings.Join(out, ", ")
}
