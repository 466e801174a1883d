package ide

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"ohmstead/calc/fuse"
	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// fact is one thing that was worked out about a block. Missing values give no
// facts, never zeros.
type fact struct{ name, text string }

type facts []fact

func (fs *facts) add(name, format string, args ...any) {
	*fs = append(*fs, fact{name, fmt.Sprintf(format, args...)})
}

// loadCase gives the figures of the case of that name, else of the case full.
func (v *View) loadCase(name string) *figures.Case {
	if v.Figures == nil {
		return nil
	}
	if c, ok := v.Figures.Case(name); ok {
		return c
	}
	c, _ := v.Figures.Case("full")
	return c
}

// facts says what was worked out about a block.
func (v *View) facts(b schema.Block, caseName string) facts {
	if v.Figures == nil || b == nil {
		return nil
	}
	c := v.loadCase(caseName)
	switch b := b.(type) {
	case *schema.PlanHead:
		return v.planFacts()
	case *schema.Strip:
		return stripFacts(b)
	case *schema.Wire:
		return v.wireFacts(b)
	case *schema.Board:
		return boardFacts(b)
	case *schema.Supply:
		return v.supplyFacts(b)
	case *schema.Controller:
		return v.controllerFacts(b, c)
	case *schema.Joint:
		return v.jointFacts(b)
	case *schema.Run:
		return v.runFacts(b, c)
	case *schema.Lead:
		return v.leadFacts(b, c)
	case *schema.Signal:
		return v.signalFacts(b)
	case *schema.Order:
		return v.orderFacts(b)
	case *schema.Universes:
		return v.universesFacts(b)
	case *schema.Case:
		return v.caseFacts(b)
	case *schema.Reading:
		return v.readingFacts(b)
	}
	return nil
}

func volts(x float64) string  { return quantity.Show(quantity.Voltage, x) }
func amps(x float64) string   { return quantity.Show(quantity.Current, x) }
func watts(x float64) string  { return quantity.Show(quantity.Power, x) }
func metres(x float64) string { return quantity.Show(quantity.Length, x) }
func share(x float64) string  { return quantity.Number(100*x, 2) + " %" }

// places says where a block stands among the figures, worked out when it is
// first asked for.
type places struct {
	once  sync.Once
	index map[schema.Block]int
}

func (v *View) place(b schema.Block) int {
	v.places.once.Do(func() {
		f := v.Figures
		v.places.index = make(map[schema.Block]int, len(f.Runs)+len(f.Leads)+len(f.Controllers)+len(v.Plan.Supplies)+len(v.Plan.Joints))
		for i, r := range f.Runs {
			v.places.index[r.Run] = i
		}
		for i, l := range f.Leads {
			v.places.index[l.Lead] = i
		}
		for i, c := range f.Controllers {
			v.places.index[c.Controller] = i
		}
		for i, s := range v.Plan.Supplies {
			v.places.index[s] = i
		}
		for i, j := range v.Plan.Joints {
			v.places.index[j] = i
		}
	})
	if i, ok := v.places.index[b]; ok {
		return i
	}
	return -1
}

func (v *View) runIndex(r *schema.Run) int               { return v.place(r) }
func (v *View) leadIndex(l *schema.Lead) int             { return v.place(l) }
func (v *View) controllerIndex(c *schema.Controller) int { return v.place(c) }

// runCase is a run in a case; false where that could not be worked out.
func (v *View) runCase(i int, c *figures.Case) (figures.RunCase, bool) {
	if c == nil || i < 0 || i >= len(c.Runs) || !c.Runs[i].OK {
		return figures.RunCase{}, false
	}
	return c.Runs[i], true
}

func (v *View) leadCase(i int, c *figures.Case) (figures.LeadCase, bool) {
	if c == nil || i < 0 || i >= len(c.Leads) || !c.Leads[i].OK {
		return figures.LeadCase{}, false
	}
	return c.Leads[i], true
}

func (v *View) supplyCase(s *schema.Supply, c *figures.Case) (figures.SupplyCase, bool) {
	if i := v.place(s); c != nil && i >= 0 && i < len(c.Supplies) && c.Supplies[i].OK {
		return c.Supplies[i], true
	}
	return figures.SupplyCase{}, false
}

func (v *View) jointCase(j *schema.Joint, c *figures.Case) (figures.JointCase, bool) {
	if i := v.place(j); c != nil && i >= 0 && i < len(c.Joints) && c.Joints[i].OK {
		return c.Joints[i], true
	}
	return figures.JointCase{}, false
}

func (v *View) controllerCase(i int, c *figures.Case) (figures.ControllerCase, bool) {
	if c == nil || i < 0 || i >= len(c.Controllers) || !c.Controllers[i].OK {
		return figures.ControllerCase{}, false
	}
	return c.Controllers[i], true
}

func (v *View) anyLead(i int) (figures.AnyLead, bool) {
	if i < 0 || i >= len(v.Figures.Any.Leads) || !v.Figures.Any.Leads[i].OK {
		return figures.AnyLead{}, false
	}
	return v.Figures.Any.Leads[i], true
}

func (v *View) anyRun(i int) (figures.AnyRun, bool) {
	if i < 0 || i >= len(v.Figures.Any.Runs) || !v.Figures.Any.Runs[i].OK {
		return figures.AnyRun{}, false
	}
	return v.Figures.Any.Runs[i], true
}

// byCase joins what is said of each case: "full 9.1 A, held 6 A".
func (v *View) byCase(say func(c *figures.Case) (string, bool)) string {
	var out []string
	for _, c := range v.Figures.Cases {
		if s, ok := say(c); ok {
			out = append(out, c.Name+" "+s)
		}
	}
	return strings.Join(out, ", ")
}

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
		fs.add("runs", "%s, %s, %s", quantity.Count(runs, "run"), quantity.Count(pixels, "pixel"), metres(length))
	}
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		w, n := 0.0, 0
		for _, s := range c.Supplies {
			if s.OK {
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

func stripFacts(s *schema.Strip) facts {
	var fs facts
	law := figures.Law(s)
	if !s.Density.Known() || !s.Group.Known() || s.Density.V.SI <= 0 {
		return nil
	}
	perMetre := s.Density.V.SI / float64(s.Group.V)
	fs.add("pixels", "%s a metre, pitch %s", quantity.Number(perMetre, 3), metres(1/perMetre))
	if law == nil {
		return fs
	}
	on := make([]float64, len(law.Channels))
	for i := range on {
		on[i] = 1
	}
	most := law.Nominal(on)
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
	g := figures.GaugeOf(w)
	if g.Check() != nil {
		return nil
	}
	fs.add("cross-section", "%s mm2", quantity.Number(g.Area()*1e6, 3))
	if r, err := wire.Resistance(g, w.Stranded.V, v.Plan.Ambient()); err == nil {
		fs.add("resistance", "%s of each conductor at %s", quantity.Show(quantity.ResistancePerLength, r), quantity.Show(quantity.Temperature, v.Plan.Ambient()))
	}
	if w.Ampacity.Set && !w.Ampacity.Bad {
		fs.add("ampacity", "%s, its own", amps(w.Ampacity.V.SI))
	} else if a, err := v.Figures.TableAmpacity(g, w); err == nil {
		fs.add("ampacity", "%s at %s, from the table", amps(a), quantity.Show(quantity.Temperature, v.Plan.Ambient()))
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

func (v *View) supplyFacts(s *schema.Supply) facts {
	var fs facts
	for _, c := range v.Figures.Cases {
		x, ok := v.supplyCase(s, c)
		if !ok {
			continue
		}
		text := fmt.Sprintf("%s, %s, %s of its rating", amps(x.Amps), watts(x.Amps*x.Volts), share(x.Load))
		if len(x.Each) > 1 {
			var each []string
			for _, a := range x.Each {
				each = append(each, amps(a))
			}
			text += " (fullest output; outputs: " + strings.Join(each, ", ") + ")"
		}
		fs.add("load in "+c.Name, "%s", text)
	}
	if i := v.place(s); i >= 0 && i < len(v.Figures.Any.Supplies) && v.Figures.Any.Supplies[i].OK {
		fs.add("load of any pattern", "at most %s of one output", amps(v.Figures.Any.Supplies[i].Amps))
	}
	return fs
}

func (v *View) controllerFacts(c *schema.Controller, in *figures.Case) facts {
	var fs facts
	i := v.controllerIndex(c)
	if i < 0 {
		return nil
	}
	f := v.Figures.Controllers[i]
	for _, p := range f.Ports {
		if len(p.Runs) > 0 {
			fs.add("port "+p.Name, "%s", portLine(p))
		}
	}
	if x, ok := v.controllerCase(i, in); ok {
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

func (v *View) runFacts(r *schema.Run, c *figures.Case) facts {
	var fs facts
	i := v.runIndex(r)
	if i < 0 {
		return nil
	}
	f := v.Figures.Runs[i]
	if f.Why != "" {
		fs.add("geometry", "%s", f.Why)
	}
	if !f.OK {
		return fs
	}
	fs.add("pixels", "%d, pitch %s", f.Pixels, metres(f.Pitch))
	length := metres(f.Length)
	if rest := f.Length - f.Reach(); rest > 0.0005 {
		length += ", of which strip " + metres(f.Reach())
	}
	if f.Path != nil && !math.IsInf(f.Least, 1) {
		length += ", tightest bend " + metres(f.Least)
	}
	fs.add("length", "%s", length)
	if x, ok := v.runCase(i, c); ok {
		fs.add("voltage in "+c.Name, "%s at the start, %s at the end, least %s at pixel %d", volts(x.StartVolts), volts(x.EndVolts), volts(x.MinVolts), x.MinPixel)
		if line := profile(x.Volts); line != "" {
			fs.add("along the run", "`%s`", line)
		}
		fs.add("power in "+c.Name, "%s, %s", amps(x.Amps), watts(x.Watts))
	}
	if x, ok := v.anyRun(i); ok {
		fs.add("any pattern", "at least %s (pixel %d)", volts(x.MinVolts), x.MinPixel)
	}
	if p := f.Port; p != nil {
		fs.add("data", "%s, from its pixel %d", p.ID(), f.First)
		if p.OK {
			fs.add("frame rate", "%s", hertz(p.Rate))
		}
	}
	return fs
}

// profileWidth is how many characters a profile line has at most.
const profileWidth = 32

// profile draws the voltage along a run: full blocks for its highest, low ones
// for its lowest voltage.
func profile(volts []float64) string {
	if len(volts) < 2 {
		return ""
	}
	bars := []rune("▁▂▃▄▅▆▇█")
	low, high := slices.Min(volts), slices.Max(volts)
	n := min(profileWidth, len(volts))
	out := make([]rune, n)
	for i := range n {
		part := volts[i*len(volts)/n : (i+1)*len(volts)/n]
		level := len(bars) - 1
		if high-low > 1e-3 {
			level = int(math.Round((slices.Min(part) - low) / (high - low) * float64(len(bars)-1)))
		}
		out[i] = bars[level]
	}
	return string(out)
}

func (v *View) leadFacts(l *schema.Lead, c *figures.Case) facts {
	var fs facts
	i := v.leadIndex(l)
	if i < 0 {
		return nil
	}
	f := v.Figures.Leads[i]
	if f.Why != "" {
		fs.add("length", "%s", f.Why)
	}
	if !f.OK {
		return fs
	}
	length := metres(f.Length)
	if f.Estimated {
		length += ", estimated from the places of its ends plus " + share(v.Plan.Limits().Slack)
	}
	fs.add("length", "%s", length)
	if s := v.byCase(func(c *figures.Case) (string, bool) {
		x, ok := v.leadCase(i, c)
		return amps(x.Amps), ok
	}); s != "" {
		if x, ok := v.anyLead(i); ok {
			s += ", any pattern " + amps(x.Amps)
		}
		fs.add("current", "%s", s)
	}
	if x, ok := v.leadCase(i, c); ok {
		fs.add("loses in "+c.Name, "%s, %s", volts(x.Drop), watts(x.Watts))
	}
	fs.add("wire", "%s, %s each side, carries %s", f.Gauge, quantity.Show(quantity.Resistance, f.Ohms), amps(f.Ampacity))
	fs = append(fs, v.fuseFacts(i, f)...)
	return fs
}

// fuseFacts says which fuse a lead has, and which standard sizes suit it.
func (v *View) fuseFacts(i int, f *figures.Lead) facts {
	var fs facts
	if f.Carries.V == "minus" {
		return nil
	}
	if f.Fuse.Set && !f.Fuse.Bad {
		fs.add("fuse", "%s", f.Fuse.V)
	}
	if load, ok := v.load(i); ok {
		if w := fuse.Window(load, f.Ampacity); len(w) > 0 {
			fs.add("fuses that suit", "%s (carry %s, protect the wire)", window(w), amps(load))
		} else {
			fs.add("fuses that suit", "no standard size carries %s and protects a wire of %s", amps(load), amps(f.Ampacity))
		}
	}
	return fs
}

// load is the current that a lead carries for long: the most of every case
// that the ceilings hold, and of any pattern that they allow.
func (v *View) load(i int) (float64, bool) {
	load, known := 0.0, false
	for _, c := range v.Figures.Cases {
		if x, ok := v.leadCase(i, c); ok && c.Held {
			load, known = math.Max(load, math.Max(math.Abs(x.Amps), math.Abs(x.Back))), true
		}
	}
	if x, ok := v.anyLead(i); ok {
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

func (v *View) signalFacts(s *schema.Signal) facts {
	var fs facts
	if !s.To.Known() || s.To.V == nil || s.To.V.Run == nil {
		return nil
	}
	i := v.runIndex(s.To.V.Run)
	if i < 0 || v.Figures.Runs[i].Port == nil {
		return nil
	}
	r := v.Figures.Runs[i]
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

func (v *View) caseFacts(c *schema.Case) facts {
	var fs facts
	in, ok := v.Figures.Case(c.Name)
	if !ok || in.Own != c {
		return nil
	}
	for _, s := range in.Supplies {
		if s.OK {
			fs.add(s.Supply.ID(), "%s, %s of its rating", amps(s.Amps), share(s.Load))
		}
	}
	least, at := math.Inf(1), ""
	for i := range in.Runs {
		if x, ok := v.runCase(i, in); ok && x.MinVolts < least {
			least, at = x.MinVolts, fmt.Sprintf("%s at pixel %d of %s", volts(x.MinVolts), x.MinPixel, v.Figures.Runs[i].ID())
		}
	}
	if at != "" {
		fs.add("least voltage", "%s", at)
	}
	return fs
}

func (v *View) readingFacts(r *schema.Reading) facts {
	var fs facts
	if !r.Place.Known() || r.Place.V == nil {
		return nil
	}
	name := "full"
	if r.Case.Known() && r.Case.V != nil {
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
		x, ok := v.controllerCase(v.controllerIndex(pt.Controller), c)
		return x.Volts, ok
	case pt.Run != nil:
		i := v.runIndex(pt.Run)
		x, ok := v.runCase(i, c)
		if !ok {
			return 0, false
		}
		switch pt.Where {
		case schema.AtStart:
			return x.StartVolts, true
		case schema.AtEnd:
			return x.EndVolts, true
		}
		f := v.Figures.Runs[i]
		pixel := int(f.Snap(pt).At / f.Pitch)
		if pixel < 0 || len(x.Volts) == 0 {
			return 0, false
		}
		return x.Volts[min(pixel, len(x.Volts)-1)], true
	}
	return 0, false
}

// speaks picks the copy that speaks for all: the run or joint with the least
// voltage, the lead with the greatest current, else the first one. why says
// what it was picked for.
func (v *View) speaks(copies []schema.Block, caseName string) (b schema.Block, why string) {
	b = copies[0]
	if len(copies) == 1 || v.Figures == nil {
		return b, ""
	}
	c := v.loadCase(caseName)
	worst := math.Inf(1)
	for _, x := range copies {
		switch x := x.(type) {
		case *schema.Run:
			if f, ok := v.runCase(v.runIndex(x), c); ok && f.MinVolts < worst {
				b, worst, why = x, f.MinVolts, "the lowest voltage of them"
			}
		case *schema.Joint:
			if f, ok := v.jointCase(x, c); ok && f.Volts < worst {
				b, worst, why = x, f.Volts, "the lowest voltage of them"
			}
		case *schema.Lead:
			if f, ok := v.leadCase(v.leadIndex(x), c); ok && -math.Abs(f.Amps) < worst {
				b, worst, why = x, -math.Abs(f.Amps), "the greatest current of them"
			}
		}
	}
	return b, why
}

// brief says the most telling figures of a block in one line: for an outline,
// a lens, a list.
func (v *View) brief(b schema.Block, caseName string) string {
	if v.Figures == nil || b == nil {
		return ""
	}
	c := v.loadCase(caseName)
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	switch b := b.(type) {
	case *schema.Run:
		i := v.runIndex(b)
		if i < 0 || !v.Figures.Runs[i].OK {
			return ""
		}
		f := v.Figures.Runs[i]
		add("%s", quantity.Count(f.Pixels, "pixel"))
		add("%s", metres(f.Length))
		if x, ok := v.runCase(i, c); ok {
			add("least %s in %s", volts(x.MinVolts), c.Name)
		}
	case *schema.Lead:
		i := v.leadIndex(b)
		if x, ok := v.leadCase(i, c); ok {
			add("%s", amps(x.Amps))
			add("loses %s in %s", volts(x.Drop), c.Name)
		}
	case *schema.Supply:
		if x, ok := v.supplyCase(b, c); ok {
			add("%s", amps(x.Amps))
			add("%s of its rating in %s", share(x.Load), c.Name)
		}
	case *schema.Joint:
		if x, ok := v.jointCase(b, c); ok {
			add("%s in %s", volts(x.Volts), c.Name)
		}
	case *schema.Controller:
		i := v.controllerIndex(b)
		if i < 0 {
			return ""
		}
		pixels := 0
		for _, p := range v.Figures.Controllers[i].Ports {
			pixels += p.Pixels
		}
		if pixels > 0 {
			add("%s", quantity.Count(pixels, "pixel"))
			if x, ok := v.controllerCase(i, c); ok {
				add("counts %s in %s", amps(x.Estimate), c.Name)
			}
		}
	case *schema.Order:
		for _, f := range v.Figures.Orders {
			if f.Order == b && f.OK {
				add("%s", quantity.Count(f.Pixels, "pixel"))
			}
		}
	case *schema.Universes:
		for _, f := range v.Figures.Universes {
			if f.Universes == b && f.OK && len(f.Spans) > 0 {
				add("%s", universeRange(f))
			}
		}
	}
	return strings.Join(parts, ", ")
}

// briefOf is brief for a block with its copies.
func (v *View) briefOf(copies []schema.Block, caseName string) string {
	if len(copies) == 0 {
		return ""
	}
	b, _ := v.speaks(copies, caseName)
	text := v.brief(b, caseName)
	if len(copies) > 1 && text != "" {
		return fmt.Sprintf("%d times %s (%s)", len(copies), text, schema.HeaderOf(b).ID())
	}
	return text
}
