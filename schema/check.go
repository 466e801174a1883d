package schema

import (
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/supply"
	"ohmstead/schema/source"
)

// What a block must satisfy beyond its single attributes. Each check reports
// where the text is written, and only for values written in the block itself.

func (p *Policy) check(r *resolver, _ *effective) {
	if p.Off.Set && len(p.Off.V) > 0 && strings.TrimSpace(p.Because.V) == "" && !p.Because.Bad {
		r.report(RuleAttrMissing, p.Off.At, "rules are off without a reason; write because = \"…\" beside them")
	}
	seen := map[string]Name{}
	for _, l := range [][]Name{p.Off.V, p.Error.V, p.Warning.V, p.Hint.V} {
		for _, n := range l {
			if first, dup := seen[n.Text]; dup {
				r.report(RuleAttrClash, n.At, "%s is named twice in the policy; it can have one level", n.Text).related(first.At, "the other one")
			}
			seen[n.Text] = n
		}
	}
}

func (s *Strip) check(r *resolver, e *effective) {
	if !s.Cut.Set {
		s.Cut.V, s.Cut.Def = s.Group.V, true
	}
	if !s.Bits.Set {
		s.Bits.V, s.Bits.Def = 8*len(s.Channels.V), true
	}
	if !s.MinVoltage.Set && !s.Forward.Bad && !s.Headroom.Bad && s.Forward.Set {
		s.MinVoltage.V = Quantity{SI: s.needs(), Unit: s.Headroom.V.Unit}
		s.MinVoltage.Def = true
	}
	for _, m := range []struct {
		name string
		v    Value[ByLetter]
	}{{"channel_current", s.ChannelCurrent}, {"forward", s.Forward}} {
		if !m.v.Known() || m.v.V.Letters == nil || s.Channels.Bad {
			continue
		}
		for _, l := range s.Channels.V {
			if _, ok := m.v.V.Letters[string(l)]; !ok {
				s.Broken = true
				r.report(RuleAttrMissing, s.At(m.v.At), "%s says nothing of channel %c, which channels (%q) holds", m.name, l, s.Channels.V)
			}
		}
	}
	if s.Group.Known() && s.Cut.Known() && s.Group.V > 0 && s.Cut.V%s.Group.V != 0 {
		s.Broken = true
		r.report(RuleValueRange, s.At(s.Cut.At), "cut is %d LEDs, which is not a whole number of pixels of %d LEDs", s.Cut.V, s.Group.V)
	}
	if s.MinVoltage.Set && s.Voltage.Set && s.MinVoltage.V.SI > s.Voltage.V.SI && !s.MinVoltage.Bad && !s.Voltage.Bad {
		r.report(RuleValueRange, s.At(s.MinVoltage.At), "min_voltage is %s, above the strip's own voltage of %s", s.MinVoltage.V, s.Voltage.V)
	}
}

// needs is the least voltage at which every colour holds its full current.
func (s *Strip) needs() float64 {
	n, sum := 0.0, 0.0
	for _, l := range s.Channels.V {
		if q, ok := s.Forward.V.For(string(l)); ok {
			n = max(n, q.SI)
			sum += q.SI
		}
	}
	if s.Stack.V == "series" {
		n = sum
	}
	return n*float64(max(s.Series.V, 1)) + s.Headroom.V.SI
}

// check refuses a limit that no supply of this size can hold: with limited =
// true nothing would ask for a fuse behind it.
func (s *Supply) check(r *resolver, _ *effective) {
	if !s.Limited.Known() || !s.Limited.V || !s.Rating.Known() || !s.Output.Known() || s.Trim.Bad {
		return
	}
	limits, err := supply.LimitedPower(s.Volts())
	if err != nil {
		return // above what may be touched: shock-voltage says so
	}
	most := min(limits.Amps, mostLimitedWatts/s.Volts())
	if s.Rating.V.SI <= most*(1+1e-9) {
		return
	}
	s.Limited.V = false // what it drives into a fault is judged as of any other
	r.report(RuleAttrClash, s.At(s.Limited.At), "limited = true, but no limited power source of %s gives more than %s, and %s gives %s; remove limited, and fuse its leads",
		quantity.Show(quantity.Voltage, s.Volts()), quantity.Show(quantity.Current, most), describe(&s.Header), s.Rating.V).
		related(s.At(s.Rating.At), "its rating")
}

// mostLimitedWatts is the most that a limited power source gives at any
// voltage, IEC 60950-1 table 2B (the same in IEC 62368-1 annex Q).
const mostLimitedWatts = 100

func (c *Controller) check(*resolver, *effective) {
	for _, p := range c.Ports {
		p.Controller = c
	}
}

func (b *Board) check(r *resolver, _ *effective) {
	for _, p := range b.Pins {
		if _, ok := p.Number(); !ok && p.Name != "" {
			r.report(RuleValueKind, p.Head(), "pin %q is not a number; pins are numbered as the chip's maker counts", p.Name)
		}
	}
}

func (run *Run) check(r *resolver, e *effective) {
	if !run.Length.Set && !run.Through.Set && run.Path == nil && !run.Pixels.Set {
		run.Broken = true
		if !run.torn() && !orphaned(&run.Header) {
			r.report(RuleAttrMissing, run.Head(), "%s has no geometry; write length = \"…\", through = [[…], …], a path block, or at least pixels = …", describe(&run.Header)).
				fix("Add length", false, InsertAttr(run.Node, "length", `"1 m"`))
		}
	}
	if run.Shift.Set && !run.Shift.Bad {
		run.Shift.V = run.moved(r, e)
		if run.Like == nil && run.Copy == 0 {
			r.report(RuleAttrClash, run.Shift.At, "shift moves a geometry taken over with like, or the copies that times makes; there is neither here")
		}
	}
}

// moved adds up the shifts along like. A block's own counts once; in copies,
// once for each copy before it, and once more where the geometry that it moves
// is taken over.
func (run *Run) moved(r *resolver, e *effective) XY {
	total := XY{}
	for _, a := range e.assigns {
		if a.Name != "shift" {
			continue
		}
		if x, ok := r.convert(mustAttr(runType, "shift"), a.Val, r.scopeOf(a.lib), &run.Header, false); ok {
			total.X += a.steps * x.(XY).X
			total.Y += a.steps * x.(XY).Y
		}
	}
	return total
}

func mustAttr(t *BlockType, name string) *Attr {
	a, ok := t.Attr(name)
	if !ok {
		panic("schema: " + t.Name + " declares no " + name) // a declaration is wrong; its test says so
	}
	return a
}

func (p *Path) check(r *resolver, _ *effective) {
	if len(p.Steps) == 0 {
		p.Broken = true
		if p.torn() {
			return
		}
		r.report(RuleBlockShape, p.Head(), "a path without steps; write line { to = [\"0 cm\", \"140 cm\"] } or arc { … } in it")
	}
}

func (l *Line) check(r *resolver, _ *effective) {
	if !l.To.Set && !l.Length.Set {
		l.Broken = true
		if l.torn() {
			return
		}
		r.report(RuleAttrMissing, l.Head(), "a line needs to = [\"right\", \"up\"] or length = \"…\"").
			fix("Add length", false, InsertAttr(l.Node, "length", `"1 m"`))
	}
}

func (a *Arc) check(r *resolver, _ *effective) {
	if !a.To.Set && !a.Sweep.Set {
		a.Broken = true
		if a.torn() {
			return
		}
		r.report(RuleAttrMissing, a.Head(), "an arc needs to = [\"right\", \"up\"] or sweep = \"90 deg\"").
			fix("Add sweep", false, InsertAttr(a.Node, "sweep", `"90 deg"`))
	}
}

func (l *Lead) check(r *resolver, _ *effective) {
	if l.From.Known() && l.To.Known() && l.From.V != nil && l.From.V.Same(l.To.V) {
		l.Broken = true
		r.report(RuleValueUnknown, l.At(l.To.At), "%s goes from %s to the same place", describe(&l.Header), l.From.V)
	}
	if l.Fuse.Set && !l.Fuse.Bad && l.Carries.V == "minus" {
		r.report(RuleAttrClash, l.At(l.Fuse.At), "a fuse in a lead that carries only minus; a fuse sits in the plus conductor").
			fix("Remove fuse", false, Edit{lineOfAttr(l.Node, "fuse"), ""})
	}
}

func (o *Order) check(r *resolver, _ *effective) {
	seen := map[*Run]RunRef{}
	for _, x := range o.Runs.V {
		if first, dup := seen[x.Run]; dup {
			r.report(RuleNameDuplicate, o.At(x.At), "%s stands twice in %s; a pixel has one place, remove one of them", x.Run.ID(), o.ID()).related(first.At, "the first time")
		}
		seen[x.Run] = x
	}
}

// check refuses the names of the cases that are always there.
func (c *Case) check(r *resolver, _ *effective) {
	if c.Name == "full" || c.Name == "held" || c.Name == "any" {
		c.Broken = true
		r.report(RuleNameDuplicate, c.Node.Labels[0].At, "case %q is always there (full, held and any are); give this one another name", c.Name)
	}
}

func (x *Reading) check(r *resolver, _ *effective) {
	if !x.Volts.Set && !x.Amps.Set {
		x.Broken = true
		if x.torn() {
			return
		}
		r.report(RuleAttrMissing, x.Head(), "%s needs volts = \"…\" or amps = \"…\": what the meter showed", describe(&x.Header)).
			fix("Add volts", false, InsertAttr(x.Node, "volts", `"12 V"`))
	}
}

func (k *Keepout) check(r *resolver, _ *effective) {
	if k.From.Known() && k.To.Known() && (k.From.V.X == k.To.V.X || k.From.V.Y == k.To.V.Y) {
		r.report(RuleValueRange, k.At(k.To.At), "keepout %q has no area; write opposite corners as from and to", k.Name)
	}
}

func lineOfAttr(n *Node, name string) source.Span {
	if a, ok := n.Assign(name); ok {
		return WholeLines(a.Whole)
	}
	return source.Span{Piece: n.Piece(), Start: n.Head.Start, End: n.Head.Start}
}
