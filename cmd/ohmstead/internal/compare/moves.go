package compare

import (
	"math"
	"slices"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Move is a figure that is another now. A nil value means that there is none
// on that side.
type Move struct {
	Figure  Figure   `json:"figure"`
	ID      string   `json:"id"`
	Family  string   `json:"family"`         // the block as written, for one of the copies that times makes
	Case    string   `json:"case,omitempty"` // "any" for the bound over every pattern; empty where no case matters
	Was     *float64 `json:"was"`
	Is      *float64 `json:"is"`
	Unit    string   `json:"unit"`                // SI; "1" for a share
	Pixel   *int     `json:"pixel,omitempty"`     // of a least voltage: where, in head
	WasAt   *int     `json:"was_pixel,omitempty"` // where, in base, as head counts
	Limit   *float64 `json:"limit,omitempty"`     // that holds in head
	LimitOf string   `json:"limit_of,omitempty"`  // whose limit it is: "wire", "fuse", "colours", "policy", "diffuser", "rate wanted"
	// Estimated says of a length before and after that it comes from places.
	Estimated [2]bool `json:"estimated,omitzero"`
	scale     float64 // what a move is measured against
	moved     bool    // it moved in place, if not in size
}

// Figure says what a Move is about.
type Figure string

// The figures that are compared.
const (
	LeastVoltage Figure = "least voltage"    // of a run, V
	Heat         Figure = "power per length" // of a run, W/m
	Current      Figure = "current"          // of a lead, A
	Load         Figure = "load"             // of a supply, share of its rating
	Brightness   Figure = "brightness"       // what a ceiling leaves of a case, share
	FrameRate    Figure = "frame rate"       // of a port, Hz
	Length       Figure = "length"           // of a run, of a lead's or signal's wire, m
)

// moves lists the figures that moved by more than the threshold: those of
// what is new too, but not of what is gone.
func (m *matching) moves(threshold float64) []Move {
	c := &comparer{matching: m, threshold: threshold}
	for i, k := range m.head.Figures.Cases {
		name := k.Name
		if k.Own != nil {
			name = schema.HeaderOf(k.Own).ID()
		}
		was := c.caseNamed(m.renameBack(name), k.Own != nil)
		c.inCase(m.head.Figures.Cases[i], was)
	}
	c.any()
	c.rates()
	c.lengths()
	if half := unsolved(c.base.Side, c.head.Side); half != "" { // what is not known may feed or load whatever is
		c.out = slices.DeleteFunc(c.out, func(m Move) bool {
			shared := slices.Contains([]Figure{Brightness, Load, FrameRate}, m.Figure)
			return m.Figure != Length && (shared || half != "base" || m.Was != nil)
		})
	}
	return c.out
}

type comparer struct {
	*matching
	threshold float64
	out       []Move
}

// caseNamed finds a case of base: a built-in one, or one of the plan's own by
// its address.
func (c *comparer) caseNamed(name string, own bool) *figures.Case {
	for _, k := range c.base.Figures.Cases {
		if own && k.Own != nil && k.Own.ID() == name || !own && k.Own == nil && k.Name == name {
			return k
		}
	}
	return nil
}

// note keeps a move when it is over the threshold.
func (c *comparer) note(mv Move) {
	switch {
	case mv.Is == nil:
		return
	case mv.Was != nil:
		scale := mv.scale
		if scale == 0 {
			scale = math.Max(math.Abs(*mv.Was), math.Abs(*mv.Is))
		}
		if d := math.Abs(*mv.Is - *mv.Was); (d <= c.threshold*scale || d < 1e-9) && !mv.moved {
			return
		}
	}
	mv.Family, _ = c.head.group(mv.ID)
	c.out = append(c.out, mv)
}

// ref gives the index in base of what a block of head was there; -1 for none.
func ref[T any](c *comparer, id string, xs []T, of func(T) string) int {
	was, ok := c.was[id]
	if !ok {
		return -1
	}
	return slices.IndexFunc(xs, func(x T) bool { return of(x) == was })
}

func some(ok bool, v float64) *float64 {
	if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func (c *comparer) inCase(is, was *figures.Case) {
	base := c.base.Figures
	for i, r := range c.head.Figures.Runs {
		now := is.Runs[i]
		v := Move{Figure: LeastVoltage, ID: r.ID(), Case: is.Name, Is: some(now.OK, now.MinVolts), Unit: "V", scale: r.Volts}
		h := Move{Figure: Heat, ID: r.ID(), Case: is.Name, Is: some(now.OK && r.StripLength() > 0, now.Watts/r.StripLength()), Unit: "W/m"}
		if old := c.before(r, was); len(old) > 0 {
			least, at := lowest(old)
			v.Was, v.WasAt = &least, &at
			v.moved = now.OK && len(old) == r.Pixels && !c.respaced(r) && farther(old, now.Volts(), c.threshold*r.Volts) && 10*max(at-now.MinPixel, now.MinPixel-at) > r.Pixels
		}
		if k := ref(c, r.ID(), base.Runs, func(x *figures.Run) string { return x.ID() }); was != nil && k >= 0 {
			old, run := was.Runs[k], base.Runs[k]
			h.Was = some(old.OK && run.StripLength() > 0, old.Watts/run.StripLength())
		}
		c.limitRun(&v, &h, r)
		v.Pixel = new(now.MinPixel)
		c.note(v)
		c.note(h)
	}
	for i, l := range c.head.Figures.Leads {
		mv := Move{Figure: Current, ID: l.ID(), Case: is.Name, Is: some(is.Leads[i].OK, leadAmps(is.Leads[i])), Unit: "A"}
		if was != nil {
			if k := ref(c, l.ID(), base.Leads, func(x *figures.Lead) string { return x.ID() }); k >= 0 {
				mv.Was = some(was.Leads[k].OK, leadAmps(was.Leads[k]))
			}
		}
		limitLead(&mv, l)
		c.note(mv)
	}
	for _, s := range is.Supplies {
		mv := Move{Figure: Load, ID: s.Supply.ID(), Case: is.Name, Is: some(s.OK, s.Load), Unit: "1", scale: 1}
		if was != nil {
			if k := ref(c, s.Supply.ID(), was.Supplies, func(x figures.SupplyCase) string { return x.Supply.ID() }); k >= 0 {
				mv.Was = some(was.Supplies[k].OK, was.Supplies[k].Load)
			}
		}
		limit := c.head.Plan.Limits().Load
		mv.Limit, mv.LimitOf = &limit, "policy"
		c.note(mv)
	}
	for i, ctl := range c.head.Figures.Controllers {
		if !is.Held || len(ctl.Runs) == 0 {
			continue
		}
		mv := Move{Figure: Brightness, ID: ctl.ID(), Case: is.Name, Is: some(true, is.Controllers[i].Scale), Unit: "1", scale: 1}
		if was != nil {
			if k := ref(c, ctl.ID(), base.Controllers, func(x *figures.Controller) string { return x.ID() }); k >= 0 {
				mv.Was = some(len(base.Controllers[k].Runs) > 0, was.Controllers[k].Scale)
			}
		}
		if mv.Was == nil && *mv.Is == 1 {
			continue // a new controller that holds nothing back
		}
		c.note(mv)
	}
}

// before gives the voltages that the pixels of a run of head had in a case of
// base: those of the run that it was or, where it was cut, of the pixels that
// are in it now. It is empty where they are not known.
func (m *matching) before(r *figures.Run, was *figures.Case) []float64 {
	if was == nil {
		return nil
	}
	var out []float64
	for _, s := range m.into[r] {
		k := was.Runs[m.index[s.base]]
		switch {
		case !k.OK:
			return nil
		case !s.cut: // longer or shorter now: all that it was
			all := slices.Clone(k.Volts())
			if s.turned {
				slices.Reverse(all)
			}
			return all
		}
		part := slices.Clone(k.Volts()[s.from : s.from+s.n])
		if s.turned {
			slices.Reverse(part)
		}
		out = append(out, part...)
	}
	return out
}

// respaced reports whether the pixels of a run stand otherwise than they did, so
// that none of them can be followed.
func (m *matching) respaced(r *figures.Run) bool {
	return slices.ContainsFunc(m.into[r], func(s stretch) bool { return s.other })
}

// metres is how long a run's strip was of which before gives the voltages.
func (m *matching) metres(r *figures.Run) float64 {
	sum := 0.0
	for _, s := range m.into[r] {
		if !s.cut {
			return s.base.StripLength()
		}
		sum += float64(s.n) * s.base.Pitch
	}
	return sum
}

func lowest(volts []float64) (least float64, at int) {
	for i, v := range volts {
		if i == 0 || v < least {
			least, at = v, i
		}
	}
	return least, at
}

// farther reports whether any of two lists of voltages lie apart by more than d.
func farther(a, b []float64, d float64) bool {
	for i := range min(len(a), len(b)) {
		if math.Abs(a[i]-b[i]) > d {
			return true
		}
	}
	return false
}

func leadAmps(l figures.LeadCase) float64 { return math.Max(math.Abs(l.Amps), math.Abs(l.Back)) }

func (c *comparer) limitRun(v, h *Move, r *figures.Run) {
	if s := r.Strip.V; s != nil && s.MinVoltage.Known() {
		v.Limit, v.LimitOf = new(s.MinVoltage.V.SI), "colours"
	}
	if d := r.Diffuser.V; d != nil && d.HeatLimit.Known() {
		h.Limit, h.LimitOf = new(d.HeatLimit.V.SI), "diffuser"
	}
}

func limitLead(mv *Move, l *figures.Lead) {
	if !l.OK {
		return
	}
	limit := l.Ampacity
	mv.Limit, mv.LimitOf = &limit, "wire"
	if l.Fuse.Set && !l.Fuse.Bad && l.Fuse.V.SI < limit {
		mv.Limit, mv.LimitOf = new(l.Fuse.V.SI), "fuse"
	}
}

// any compares the bounds over every pattern.
func (c *comparer) any() {
	base, head := c.base.Figures, c.head.Figures
	for i, r := range head.Runs {
		now := head.Any.Runs[i]
		mv := Move{Figure: LeastVoltage, ID: r.ID(), Case: schema.Any, Is: some(now.OK, now.MinVolts), Unit: "V", Pixel: new(now.MinPixel), scale: r.Volts}
		for _, s := range c.into[r] { // of the runs that it was joined from the lowest
			if old := base.Any.Runs[c.index[s.base]]; old.OK && (mv.Was == nil || old.MinVolts < *mv.Was) {
				mv.Was = some(true, old.MinVolts)
			}
		}
		c.limitRun(&mv, &Move{}, r)
		c.note(mv)
	}
	for i, l := range head.Leads {
		mv := Move{Figure: Current, ID: l.ID(), Case: schema.Any, Is: some(head.Any.Leads[i].OK, head.Any.Leads[i].Amps), Unit: "A"}
		if k := ref(c, l.ID(), base.Leads, func(x *figures.Lead) string { return x.ID() }); k >= 0 {
			mv.Was = some(base.Any.Leads[k].OK, base.Any.Leads[k].Amps)
		}
		limitLead(&mv, l)
		c.note(mv)
	}
	for i, s := range head.Plan.Supplies {
		load := func(f *figures.Figures, s *schema.Supply, a figures.AnySupply) *float64 {
			return some(a.OK && s.Rating.Known(), a.Amps/(s.Rating.V.SI*f.Derated(s)))
		}
		mv := Move{Figure: Load, ID: s.ID(), Case: schema.Any, Is: load(head, s, head.Any.Supplies[i]), Unit: "1", scale: 1}
		if k := ref(c, s.ID(), base.Plan.Supplies, func(x *schema.Supply) string { return x.ID() }); k >= 0 {
			mv.Was = load(base, base.Plan.Supplies[k], base.Any.Supplies[k])
		}
		limit := head.Plan.Limits().Load
		mv.Limit, mv.LimitOf = &limit, "policy"
		c.note(mv)
	}
}

// rates compares how many frames a second each port can show.
func (c *comparer) rates() {
	for _, p := range c.head.Figures.Ports {
		if len(p.Runs) == 0 {
			continue
		}
		mv := Move{Figure: FrameRate, ID: p.ID(), Is: some(p.OK && p.Rate > 0, p.Rate), Unit: "Hz"}
		was := c.portBefore(p)
		if was != nil {
			mv.Was = some(was.OK && len(was.Runs) > 0, was.Rate)
		}
		if h := c.head.Plan.Head; h != nil && h.Rate.Known() {
			mv.Limit, mv.LimitOf = new(h.Rate.V.SI), "rate wanted"
		}
		c.note(mv)
	}
}

// portBefore finds a port of head in base.
func (m *matching) portBefore(p *figures.Port) *figures.Port {
	ctl := m.renameBack(p.Controller.ID())
	for _, x := range m.base.Figures.Ports {
		if x.Controller.ID() == ctl && x.Name == p.Name {
			return x
		}
	}
	return nil
}
