package ide

import (
	"fmt"
	"math"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/lint/sizing"
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
	if fit, load, ok := fuseFor(v.Figures, f); ok {
		fs.add("fuses that suit", "%s", v.suiting(f, fit, load))
	}
	return fs
}

// fuseFor is what findings say of a lead's fuse too, with the load in A that it is for: that of all leads that share its
// text. It is false where the load is not known.
func fuseFor(f *figures.Figures, l *figures.Lead) (fit sizing.Fusing, load float64, ok bool) {
	for _, o := range sizing.OfText(f, l) {
		f.Need(o.Lead)
	}
	if !f.WorstLead(l).OK {
		return fit, 0, false
	}
	load = sizing.Loads{}.Of(f, l)
	return sizing.FuseFor(f, l, load), load, true
}

// suiting lists the fuses that suit a lead, with what they protect; where none does, what has to change for one.
func (v *View) suiting(l *figures.Lead, fit sizing.Fusing, load float64) string {
	if len(fit.Ratings) == 0 {
		may := "the wire may carry " + amps(l.Ampacity)
		if rail := l.RailLimit(); rail < l.Ampacity {
			may = "the copper joined to it may carry " + amps(rail)
		}
		return fmt.Sprintf("none (%s flow, %s): %s", amps(load), may, fit.Do)
	}
	text := window(fit.Ratings)
	if fit.Kind.Name != l.Device.Name {
		text = fit.Kind.Name + " fuses of " + text
	}
	protects := "the wire"
	switch most := v.Figures.Behind(l); {
	case most >= l.Ampacity:
	case fit.Kind.Protects(fit.Ratings[0], most):
		protects += " and what is joined to it, which may carry " + amps(most)
	default:
		protects += ", not all that is joined to it, which may carry " + amps(most)
	}
	text += fmt.Sprintf(" (carry %s, protect %s)", amps(load), protects)
	if v.Figures.Backwards(l) {
		text += fmt.Sprintf("; make %s its from, as a fuse protects nothing at its other end", l.To.V)
	}
	return text
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

func window(ratings []float64) string {
	var out []string
	for _, r := range ratings {
		out = append(out, amps(r))
	}
	return strings.Join(out, ", ")
}
