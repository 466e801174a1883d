package locating

import (
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// kind is a kind of cause.
type kind int

const (
	sound   kind = iota // nothing
	contact             // a connection of a lead with too much resistance
	holder              // its fuse or the holder of it
	gauge
	length
	missing // it carries nothing
	rail
	dark
	lit
	trim
)

// suspect is a cause with the sizes that it may have.
type suspect struct {
	what   kind
	lead   *figures.Lead
	where  schema.Where // of a contact: which end
	run    *figures.Run
	supply *schema.Supply
	gauges []wire.Gauge // of gauge: of each size
	sizes  []float64    // ohm more, times the resistance or current, share of the pixels, or times the voltage
	steps  bool
	prior  float64
}

// The sizes that are tried. Between them each is as likely as its logarithm.
var (
	ohmsMore = []float64{0.005, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32, 0.64, 1.28, 2.56}
	longer   = []float64{0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5}
	thinner  = []float64{1.1, 1.25, 1.45, 1.7, 2, 2.5, 3.2}
	unlit    = []float64{0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1}
	brighter = []float64{0, 0.25, 0.5, 0.7, 0.85, 1, 1.15, 1.35, 1.6, 2}
	volts    = []float64{0.85, 0.9, 0.95, 0.98, 1, 1.02, 1.05, 1.1}
)

// How often each is found, one against another: common practice, no source. A connection counts by how its joint joins.
const (
	priorSound   = 4
	priorHolder  = 2
	priorGauge   = 1
	priorLength  = 1
	priorMissing = 2
	priorRail    = 1
	priorDark    = 2
	priorLit     = 2
	priorTrim    = 2
	priorTrimmed = 0.5 // of a supply whose trim is written
)

var priorContact = map[string]float64{"plug": 4, "crimp": 3, "screw": 3, "lever": 2, "busbar": 2, "solder": 1, "": 2}

// suspects lists what may be wrong in the island, nothing included.
func (s *search) suspects() []*suspect {
	out := []*suspect{{what: sound, sizes: []float64{0}, prior: priorSound}}
	for _, l := range s.is.Leads {
		for i, pt := range []*schema.Point{l.From.V, l.To.V} {
			where, how := []schema.Where{schema.AtStart, schema.AtEnd}[i], ""
			if pt.Joint != nil {
				how = pt.Joint.Kind.V
			}
			out = append(out, &suspect{what: contact, lead: l, where: where, sizes: ohmsMore, prior: priorContact[how]})
		}
		if l.Fused() {
			out = append(out, &suspect{what: holder, lead: l, where: schema.AtFuse, sizes: ohmsMore, prior: priorHolder})
		}
		if x := otherGauges(s.f, l); x != nil {
			out = append(out, x)
		}
		out = append(out,
			&suspect{what: length, lead: l, sizes: longer, prior: priorLength},
			&suspect{what: missing, lead: l, sizes: []float64{0}, prior: priorMissing})
	}
	for _, r := range s.is.Runs {
		out = append(out,
			&suspect{what: rail, run: r, sizes: thinner, prior: priorRail},
			&suspect{what: dark, run: r, sizes: unlit, prior: priorDark},
			&suspect{what: lit, run: r, sizes: brighter, prior: priorLit})
	}
	for _, u := range s.is.Supplies {
		prior := float64(priorTrim)
		if u.Trim.Set {
			prior = priorTrimmed
		}
		out = append(out, &suspect{what: trim, supply: u, sizes: volts, prior: prior})
	}
	return out
}

// otherGauges are the sizes that a lead may have been made of, other than its own: up to some seven times the resistance.
func otherGauges(f *figures.Figures, l *figures.Lead) *suspect {
	own, err := wire.Resistance(l.Gauge, l.Wire.V.Stranded.V, f.Plan.Ambient())
	if err != nil {
		return nil
	}
	x := &suspect{what: gauge, lead: l, steps: true, prior: priorGauge}
	for _, g := range wire.Standard(l.Gauge.AWG) {
		ohms, err := wire.Resistance(g, l.Wire.V.Stranded.V, f.Plan.Ambient())
		if times := ohms / own; err == nil && times > 0.24 && times < 7 && (times < 0.9 || times > 1.1) {
			x.gauges, x.sizes = append(x.gauges, g), append(x.sizes, times)
		}
	}
	if x.sizes == nil {
		return nil
	}
	return x
}

// wall is the island with the suspect of one size.
func (x *suspect) wall(s *search, in *figures.Case, size float64) (*figures.Wall, error) {
	if x.what == sound {
		return s.f.Wall(s.is, in)
	}
	return s.f.Wall(s.is, in, x.change(size))
}

// changes is what each kind but none changes.
var changes = map[kind]figures.What{
	contact: figures.Added, holder: figures.Added, gauge: figures.Stretched, length: figures.Stretched, missing: figures.Opened,
	rail: figures.Railed, dark: figures.Darkened, lit: figures.Drawn, trim: figures.Trimmed,
}

func (x *suspect) change(size float64) figures.Change {
	return figures.Change{What: changes[x.what], Lead: x.lead, Where: x.where, Run: x.run, Supply: x.supply, By: size}
}

// candidates are places that a meter reaches where what is left may be told apart: those of the leads and runs that are
// suspected, and all joints and ends of runs.
func (s *search) candidates(left []*suspect) (out []figures.Probes) {
	have := map[figures.Reads]map[string]bool{figures.Volts: {}, figures.Amps: {}, figures.Ohms: {}}
	for _, p := range s.places {
		have[p.Reads][p.At.String()] = true
	}
	add := func(reads figures.Reads, pt *schema.Point) {
		if id := pt.String(); !have[reads][id] {
			have[reads][id] = true
			out = append(out, figures.Probes{At: pt, Reads: reads})
		}
	}
	for _, u := range s.is.Supplies {
		for k := range u.Outputs.V {
			pt := &schema.Point{Kind: schema.SupplyOut, Supply: u, Output: k + 1}
			add(figures.Volts, pt)
			add(figures.Amps, pt)
		}
	}
	for _, j := range s.is.Joints {
		add(figures.Volts, &schema.Point{Kind: schema.JointPlace, Joint: j})
	}
	for _, r := range s.is.Runs {
		add(figures.Volts, &schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtStart})
		add(figures.Volts, &schema.Point{Kind: schema.RunPlace, Run: r.Run, Where: schema.AtEnd})
	}
	for _, x := range left {
		if x.lead == nil {
			continue
		}
		for _, where := range schema.LeadPlaces {
			if where != schema.AtFuse && where != schema.ToFuse || x.lead.Fused() {
				add(figures.Volts, &schema.Point{Kind: schema.LeadPlace, Lead: x.lead.Lead, Where: where})
			}
		}
		add(figures.Amps, &schema.Point{Kind: schema.LeadPlace, Lead: x.lead.Lead})
	}
	return out
}
