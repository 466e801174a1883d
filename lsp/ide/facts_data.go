package ide

import (
	"fmt"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

func (v *View) controllerFacts(c *schema.Controller, in *figures.Case) facts {
	var fs facts
	f, ok := v.Figures.Controller(c)
	if !ok {
		return nil
	}
	for _, p := range f.Ports {
		if len(p.Runs) > 0 {
			fs.add("port "+p.Name, "%s", portLine(p))
		}
	}
	if x, ok := v.controllerCase(c, in); ok {
		fs.add("voltage in "+in.Name, "%s", volts(x.Volts))
		if len(f.Runs) > 0 {
			text := amps(x.Estimate)
			if x.Scale < 1 {
				text += ", levels scaled to " + share(x.Scale)
			}
			fs.add("own estimate in "+in.Name, "%s", text)
		}
	}
	if f.Full > 0 {
		fs.add("its pixels at 100 %", "%s as its firmware counts", amps(f.Full))
	}
	return fs
}

func portLine(p *figures.Port) string {
	text := quantity.Count(p.Pixels, "pixel")
	if p.OK {
		text += fmt.Sprintf(", %s a frame, %s", quantity.Show(quantity.Time, p.FrameTime), hertz(p.Rate))
	}
	return text
}

func hertz(x float64) string { return quantity.Number(x, 3) + " Hz" }

// portFacts says what hangs on a port.
func (v *View) portFacts(port *schema.Port) facts {
	var fs facts
	if v.Figures == nil {
		return nil
	}
	for _, p := range v.Figures.Ports {
		if p.Port.Node != port.Node || p.Controller != port.Controller || len(p.Runs) == 0 {
			continue
		}
		fs.add("pixels", "%d", p.Pixels)
		if p.OK {
			fs.add("frame", "%s on the wire", quantity.Show(quantity.Time, p.FrameTime))
			fs.add("rate", "%s with the controller's other ports", hertz(p.Rate))
		}
		var runs []string
		for _, r := range p.Runs {
			runs = append(runs, r.ID())
		}
		fs.add("drives", "%s", listed(runs))
	}
	return fs
}

// listed joins names, the middle of many left out.
func listed(names []string) string {
	if n := len(names); n > 6 {
		return fmt.Sprintf("%s, … %s (%d)", strings.Join(names[:3], ", "), names[n-1], n)
	}
	return strings.Join(names, ", ")
}

func (v *View) signalFacts(s *schema.Signal) facts {
	var fs facts
	if !s.To.Known() || s.To.V.Run == nil {
		return nil
	}
	r, ok := v.Figures.Run(s.To.V.Run)
	if !ok || r.Port == nil {
		return nil
	}
	fs.add("port", "%s", r.Port.ID())
	fs.add("pixels behind it", "%d", r.Port.Pixels-r.First)
	return fs
}

func (v *View) orderFacts(o *schema.Order) facts {
	var fs facts
	for _, f := range v.Figures.Orders {
		if f.Order != o || !f.OK {
			continue
		}
		fs.add("pixels", "%d", f.Pixels)
		for i, s := range f.Spans {
			if i == 12 && len(f.Spans) > 13 {
				fs.add("…", "%d more", len(f.Spans)-i)
				break
			}
			turned := ""
			if s.FromEnd {
				turned = ", from its end"
			}
			fs.add(s.Run.ID(), "%d to %d%s", s.First, s.First+s.Count-1, turned)
		}
	}
	return fs
}

func (v *View) universesFacts(u *schema.Universes) facts {
	var fs facts
	for _, f := range v.Figures.Universes {
		if f.Universes != u {
			continue
		}
		if f.Err != nil {
			fs.add("addresses", "%v", f.Err)
		}
		if !f.OK || len(f.Spans) == 0 {
			continue
		}
		fs.add("pixels", "%d of %s", f.Layout.Pixels, quantity.Count(f.Layout.Channels, "channel"))
		fs.add("addresses", "%s", universeRange(f))
		for i, s := range f.Spans {
			if i == 8 && len(f.Spans) > 9 {
				fs.add("…", "%d more", len(f.Spans)-i)
				break
			}
			if s.Pixels == 0 {
				continue // only the end of a pixel
			}
			fs.add(fmt.Sprintf("universe %d", s.Universe), "pixels %d to %d from slot %d on", s.FirstPixel, s.FirstPixel+s.Pixels-1, s.Slot)
		}
	}
	return fs
}

func universeRange(f *figures.Universes) string {
	first, last := f.Spans[0].Universe, f.Spans[len(f.Spans)-1].Universe
	if first == last {
		return fmt.Sprintf("universe %d", first)
	}
	return fmt.Sprintf("universes %d to %d", first, last)
}
