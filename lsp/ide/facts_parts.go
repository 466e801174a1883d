package ide

import (
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/schema"
)

func (v *View) stripFacts(s *schema.Strip) facts {
	var fs facts
	law := s.Law()
	if !s.Density.Known() || !s.Group.Known() || s.Density.V.SI <= 0 {
		return nil
	}
	perMetre := s.Density.V.SI / float64(s.Group.V)
	fs.add("pixels", "%s a metre, pitch %s", quantity.Number(perMetre, 3), v.metres(1/perMetre))
	if law == nil {
		return fs
	}
	most := law.Full()
	fs.add("a pixel", "%s dark, %s with all channels at 100 %%", amps(law.Idle), amps(most))
	if s.Voltage.Known() {
		fs.add("a metre", "%s, %s at most", amps(most*perMetre), watts(most*perMetre*s.Voltage.V.SI))
	}
	if s.MinVoltage.Known() {
		fs.add("colours hold", "down to %s", volts(s.MinVoltage.V.SI))
	}
	return fs
}

func (v *View) wireFacts(w *schema.Wire) facts {
	var fs facts
	if !w.Gauge.Known() || !w.Stranded.Known() {
		return nil
	}
	g := wire.Of(w.Gauge.V)
	if g.Check() != nil {
		return nil
	}
	fs.add("cross-section", "%s mm2", quantity.Number(g.Area()*1e6, 3))
	if r, err := wire.Resistance(g, w.Stranded.V, v.Plan.Ambient()); err == nil {
		fs.add("resistance", "%s of each conductor at %s", v.Plan.Habit().Show(quantity.ResistancePerLength, r), v.Plan.Habit().Show(quantity.Temperature, v.Plan.Ambient()))
	}
	if w.Ampacity.Set && !w.Ampacity.Bad {
		fs.add("ampacity", "%s, its own", amps(w.Ampacity.V.SI))
	} else if a, err := v.Figures.TableAmpacity(g, w); err == nil {
		fs.add("ampacity", "%s at %s, from the table", amps(a), v.Plan.Habit().Show(quantity.Temperature, v.Plan.Ambient()))
	}
	return fs
}

func boardFacts(b *schema.Board) facts {
	var fs facts
	pins := map[string][]string{}
	for _, p := range b.Pins {
		if p.Use.Known() {
			pins[p.Use.V] = append(pins[p.Use.V], p.Name)
		}
	}
	for _, use := range []string{"good", "care", "never"} {
		if len(pins[use]) > 0 {
			fs.add(use+" pins", "%s", strings.Join(pins[use], ", "))
		}
	}
	return fs
}
