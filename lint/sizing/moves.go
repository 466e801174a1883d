package sizing

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/calc/wire"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Obstacle is what stands in the way of a change: a finding of a rule about a
// block, or, without a rule, a margin of the block that rises.
type Obstacle struct {
	Rule    string
	Subject string
	Hazard  figures.Hazard
}

// state is a change on its way.
type state struct {
	*Draft
	fig    *figures.Figures // of the plan as the draft changes it
	tried  map[*schema.Node][]size
	done   map[any]bool    // what was moved in this round already
	turns  int             // of a way that takes turns
	halved map[string]bool // runs that are split
}

// once reports whether something was not moved in this round yet.
func (s *state) once(what any) bool {
	was := s.done[what]
	s.done[what] = true
	return !was
}

func (s *state) lead(id string) *figures.Lead {
	l, _ := s.fig.LeadNamed(id)
	return l
}

func (s *state) run(id string) *figures.Run {
	r, _ := s.fig.RunNamed(id)
	return r
}

// way is one way to go about an obstacle: it moves the draft a step on, and
// says false where it cannot.
type way func(s *state, o Obstacle) bool

// waysFor lists the ways to clear a finding, by what it is about.
func waysFor(f *figures.Figures, o Obstacle) []way {
	kind, _, _ := strings.Cut(o.Subject, ".")
	switch kind {
	case "lead":
		return []way{fitted, alone, eased, splitBehind, dimmed}
	case "run":
		r, ok := f.RunNamed(o.Subject)
		heavy := ok && heavy(f, r)
		switch {
		case o.volts() && heavy:
			return []way{thickened, split, dimmed}
		case o.volts():
			return []way{thickened, fed, inTurn(fed, thickened, thickened), split, dimmed}
		case heavy:
			return []way{split, dimmed}
		}
		return []way{narrowed, fed, split, dimmed}
	case "joint":
		return []way{rated, dimmed, guarded}
	case "supply":
		return []way{supplied, divided, dimmed}
	}
	return nil
}

func (o Obstacle) volts() bool { return o.Rule == "voltage-low" || o.Rule == "drop-excess" }

// protects reports whether an obstacle is about what a fault can drive.
func (o Obstacle) protects() bool {
	return o.Hazard == figures.Fault || strings.HasPrefix(o.Rule, "fuse-") || o.Rule == "wire-unprotected" || o.Rule == "joint-unprotected"
}

// repaired is what is done about an obstacle that a change brings up.
func repaired(s *state, o Obstacle) bool {
	kind, _, _ := strings.Cut(o.Subject, ".")
	switch kind {
	case "lead":
		return fitted(s, o)
	case "run":
		r := s.run(o.Subject)
		if r == nil || !r.OK {
			return false
		}
		split := func() bool { return !o.volts() && heavy(s.fig, r) && s.apart(o) }
		switch {
		case split():
			return true
		case o.volts():
			return thickened(s, o) || fed(s, o)
		case o.protects() || o.Hazard == figures.Loose:
			return narrowed(s, o) || s.apart(o)
		}
		return fed(s, o) || s.apart(o)
	case "joint":
		return rated(s, o)
	case "supply":
		return supplied(s, o)
	}
	return false
}

// inTurn takes several ways in turn, each step the next one that can.
func inTurn(ways ...way) way {
	return func(s *state, o Obstacle) bool {
		for range ways {
			w := ways[s.turns%len(ways)]
			s.turns++
			if w(s, o) {
				return true
			}
		}
		return false
	}
}

// fitted gives a lead the next size and fuse that carry its load.
func fitted(s *state, o Obstacle) bool {
	l := s.lead(o.Subject)
	if l == nil || !l.OK {
		return false
	}
	if !s.once(l.Node) {
		return true
	}
	load := LoadOf(s.fig, l)
	least := load
	if x := s.fig.LooseReturn(l); x.Board == nil && x.Joint == nil && (o.Hazard == figures.Loose || o.Rule == "connection-loose") {
		least = max(least, x.Amps)
	}
	if o.protects() && l.Fused() && l.Device.Protects(l.Fuse.V.SI, l.Ampacity) {
		least = max(least, s.fig.Faults().Lead(l).Amps) // what others drive into it from its far end
	}
	for _, x := range fits(s.fig, l, load, least, l.Fuse.Set || o.protects()) {
		same := math.Abs(x.gauge.Area()-l.Gauge.Area()) <= 1e-6*l.Gauge.Area() && (x.fuse == 0 || l.Fuse.Set && x.fuse == l.Fuse.V.SI)
		if same || slices.ContainsFunc(s.tried[l.Node], func(y size) bool { return y.gauge == x.gauge && y.fuse == x.fuse }) {
			continue
		}
		s.tried[l.Node] = append(s.tried[l.Node], x)
		return s.apply(l, x)
	}
	return false
}

// alone fits a lead whose text others take over, and writes for them what they
// had from it.
func alone(s *state, o Obstacle) bool {
	l := s.lead(o.Subject)
	if l == nil || s.added(l.ID()) != nil {
		return false
	}
	was := s.Draft.clone()
	if !fitted(s, o) {
		return false
	}
	kept := false
	for _, x := range s.fig.Plan.Leads {
		if x.Like == nil || x.Node == l.Node || schema.HeaderOf(x.Like).Node != l.Node || s.added(x.ID()) != nil {
			continue
		}
		for _, name := range []string{"wire", "fuse"} {
			old, ok := l.Node.Assign(name)
			if _, own := x.Node.Assign(name); ok && !own && s.said(l.Node, name) && !was.said(l.Node, name) {
				kept = s.set(x.ID(), name, string(old.Val.At.Bytes())) || kept
			}
		}
	}
	return kept || s.turns > 0
}

// eased feeds the runs behind a lead from elsewhere too, so that less flows through it.
func eased(s *state, o Obstacle) bool {
	l := s.lead(o.Subject)
	if l == nil {
		return false
	}
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt != nil && pt.Run != nil {
			return fed(s, Obstacle{Subject: pt.Run.ID()})
		}
	}
	return false
}

// splitBehind splits the run that a lead feeds.
func splitBehind(s *state, o Obstacle) bool {
	l := s.lead(o.Subject)
	if l == nil {
		return false
	}
	for _, pt := range []*schema.Point{l.From.V, l.To.V} {
		if pt != nil && pt.Run != nil && !s.halved[pt.Run.ID()] {
			return split(s, Obstacle{Subject: pt.Run.ID()})
		}
	}
	return fitted(s, o)
}

// narrowed gives the leads of a run the smallest fuses that carry their load,
// and feeds it once more where none of those protects its copper.
func narrowed(s *state, o Obstacle) bool {
	r := s.run(o.Subject)
	if r == nil || !r.OK {
		return false
	}
	moved := false
	for _, l := range s.fig.Ends(r.Run) {
		if !l.OK || !l.Plus() {
			continue
		}
		window := l.Device.Window(LoadOf(s.fig, l), l.RailLimit())
		if len(window) == 0 {
			return fed(s, o)
		}
		if l.Fuse.Set && l.Fuse.V.SI == window[0] || !s.once(l.Node) {
			continue
		}
		for _, x := range fits(s.fig, l, LoadOf(s.fig, l), 0, true) {
			if x.fuse == window[0] {
				moved = s.apply(l, x) || moved
				break
			}
		}
	}
	return moved || fed(s, o)
}

// tap is a place where a run is fed, or may be.
type tap struct {
	at    float64 // m from the start
	point schema.Point
}

// mostFeeds bounds how many feeds a run gets: what more of them drive into a
// fault in its copper together is more than that stands.
const mostFeeds = 5

// nextTap is where one more feed of a run helps most: the middle of the longest
// stretch between two, where a stretch that ends loose counts twice and is fed
// at its end.
func nextTap(f *figures.Figures, r *figures.Run) (tap, bool) {
	at := f.FedAt(r)
	if len(at) == 0 || len(at) >= mostFeeds {
		return tap{}, false
	}
	end := r.StripLength()
	best, where := 2*at[0], 0.0
	if gap := 2 * (end - at[len(at)-1]); gap >= best {
		best, where = gap, end
	}
	for i := range at[1:] {
		if gap := at[i+1] - at[i]; gap > best {
			best, where = gap, (at[i]+at[i+1])/2
		}
	}
	if best < 2*r.Pitch {
		return tap{}, false
	}
	pt := schema.Point{Kind: schema.RunPlace, Run: r.Run}
	switch where {
	case 0:
		pt.Where = schema.AtStart
	case end:
		pt.Where = schema.AtEnd
	default:
		pt.Where = schema.AtPixel
		pt.Pixel = int(math.Round(where / r.Pitch))
	}
	x := tap{point: pt}
	x.at = r.Snap(&pt).At
	return x, !slices.Contains(at, x.at)
}

// fed feeds a run at one more place, with a lead like one that feeds it.
func fed(s *state, o Obstacle) bool {
	r := s.run(o.Subject)
	if r == nil || !r.OK {
		return false
	}
	paths := s.fig.Feeds(r)
	t, ok := nextTap(s.fig, r)
	if !ok || len(paths) == 0 {
		return false
	}
	by := paths[0][0]
	x := by.Another(r)
	a := &addition{kind: "lead", in: x.In}
	like, to := x.Like, x.Run+strings.TrimPrefix(t.point.String(), r.ID())
	if x.Times > 0 {
		a.set("times", strconv.Itoa(x.Times))
	}
	var what any = r.ID()
	if x.Alike {
		what = r.Node
	}
	if !s.once(what) {
		return true
	}
	if o := s.added(by.ID()); o != nil { // like what that is like
		like = o.value("like")
	}
	far, near := by.Toward(r.Run)
	a.name = strings.TrimPrefix(s.free("lead", a.in+strings.TrimSuffix(x.Name, "-more")+"-more"), a.in)
	a.set("like", like)
	a.set(far, to)
	a.feeds = to + " from " + near.String()
	a.measured = !by.Lead.Length.Set
	if by.Lead.Length.Set {
		here := 0.0
		for _, pt := range []*schema.Point{by.From.V, by.To.V} {
			if pt.Run == r.Run {
				here = r.Snap(pt).At
			}
		}
		a.set("length", strconv.Quote(lengthLike(by.Lead.Length.V, by.Length+r.Apart(here, t.at))))
	}
	return s.add(a, by.ID())
}

// lengthLike writes a length that nobody has measured, rounded up to 10 cm or
// 4 in, in the unit of another.
func lengthLike(q schema.Quantity, m float64) string {
	switch q.Unit.Symbol {
	case "in", "inch", "inches", "ft", "feet", "foot", "yd":
		inches := math.Ceil(m/0.0254/4-1e-6) * 4
		return strconv.FormatFloat(inches, 'g', -1, 64) + " in"
	}
	return quantity.Of(quantity.Length, math.Ceil(m*10-1e-6)/10).Exact()
}

// thickened makes the lead that loses most on the way to a run of the size that
// brings what is missing, or a few sizes thicker.
func thickened(s *state, o Obstacle) bool {
	r := s.run(o.Subject)
	if r == nil || !r.OK {
		return false
	}
	var leads []*figures.Lead
	for _, path := range s.fig.Feeds(r) {
		leads = append(leads, path...)
	}
	slices.SortStableFunc(leads, func(a, b *figures.Lead) int { return -cmp.Compare(s.fig.Drop(a), s.fig.Drop(b)) })
	missing := 0.0
	if need := r.Strip.V.MinVoltage; need.Known() {
		missing = need.V.SI - s.fig.WorstVolts(r, need.V.SI).Value
	}
	for _, l := range leads {
		drop := s.fig.Drop(l)
		if drop < 0.01 {
			break
		}
		if s.done[l.Node] {
			return true
		}
		times := 1.0
		if missing > 0 {
			times = math.Min(3, drop/math.Max(drop-missing, drop/3))
		}
		for _, x := range gauges(s.fig, l, false)[1:] {
			if x.gauge.Area() >= l.Gauge.Area()*times*0.98 && x.gauge.Area() <= mostArea {
				s.once(l.Node)
				return s.apply(l, x)
			}
		}
	}
	return false
}

// mostArea is the thickest conductor that a lead is made of here, m2: beyond 6 AWG
// few joints take it.
var mostArea = wire.AWG(6).Area() * (1 + 1e-6)

// dimmed lowers the ceiling of the controller that drives what an obstacle is about.
func dimmed(s *state, o Obstacle) bool {
	var c *figures.Controller
	for _, x := range s.fig.Controllers {
		if len(x.Runs) == 0 {
			continue
		}
		r := s.run(o.Subject)
		if r != nil && !slices.Contains(x.Runs, r) {
			continue
		}
		if c != nil {
			return false // whose share it is would be a guess
		}
		c = x
	}
	if c == nil || c.Ceiling.Bad {
		return false
	}
	if !s.once(c.Node) {
		return true
	}
	now := c.Full
	if c.Ceiling.Set {
		now = math.Min(now, c.Ceiling.V.SI)
	}
	most := math.Floor(10*(c.Idle+(now-c.Idle)*math.Min(0.97, math.Max(0.5, s.share(o))))) / 10
	if most < math.Max(0.1*c.Full, 1.5*c.Idle) {
		return false // hardly any light is left
	}
	return s.set(c.ID(), "ceiling", strconv.Quote(amps(most)))
}

// share is which part of what flows is allowed where an obstacle is, as far as
// it is a current.
func (s *state) share(o Obstacle) float64 {
	if l := s.lead(o.Subject); l != nil && l.OK {
		may := l.Ampacity
		if l.Fused() && o.Rule != "lead-overcurrent" {
			may = math.Min(may, l.Device.Share*l.Fuse.V.SI)
		}
		return may / LoadOf(s.fig, l)
	}
	if r := s.run(o.Subject); r != nil && r.OK && !o.volts() && r.Strip.V.RailCurrent.Known() {
		w, _ := s.fig.WorstRail(r)
		return r.Strip.V.RailCurrent.V.SI / w.Value
	}
	return 0.7
}

// ratings are those that joints are sold for, A (those of the catalogue's
// entries).
func ratings() []float64 {
	var out []float64
	for _, j := range joints() {
		out = append(out, j.Rating.V.SI)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func joints() []*schema.Joint {
	var out []*schema.Joint
	for _, b := range schema.Catalogue().Entries("joint") {
		if j, ok := b.(*schema.Joint); ok && j.Rating.Known() && j.Rating.Set && j.Ways.Set {
			out = append(out, j)
		}
	}
	return out
}

// rated takes a joint that is rated for what flows and can be driven through
// it, with ways for all that ends in it.
func rated(s *state, o Obstacle) bool {
	i := slices.IndexFunc(s.fig.Plan.Joints, func(j *schema.Joint) bool { return j.ID() == o.Subject })
	if i < 0 {
		return false
	}
	j := s.fig.Plan.Joints[i]
	if !s.once(j.Node) {
		return true
	}
	load, _ := s.fig.WorstJoint(i)
	need := math.Max(load, s.fig.JointFault(j).Amps)
	ends := len(s.fig.Ends(j))
	if _, own := j.Node.Assign("rating"); !own && j.Like != nil && schema.HeaderOf(j.Like).Home == schema.InCatalogue {
		var best *schema.Joint
		for _, x := range joints() {
			if x.Kind.V == j.Kind.V && x.Rating.V.SI >= need*(1-1e-9) && x.Ways.V >= ends && (best == nil || x.Rating.V.SI < best.Rating.V.SI || x.Rating.V.SI == best.Rating.V.SI && x.Ways.V < best.Ways.V) && all(s.fig.Ends(j), func(l *figures.Lead) bool { return figures.Clamps(x, l.Gauge.Area()) }) {
				best = x
			}
		}
		return best != nil && best.ID() != schema.HeaderOf(j.Like).ID() && s.set(j.ID(), "like", best.ID())
	}
	moved := false
	if j.Rating.Set && need > j.Rating.V.SI*(1+1e-9) {
		rating := math.Ceil(need - 1e-9)
		for _, a := range ratings() {
			if a >= need*(1-1e-9) {
				rating = a
				break
			}
		}
		moved = s.set(j.ID(), "rating", strconv.Quote(amps(rating)))
	}
	if j.Ways.Set && ends > j.Ways.V {
		moved = s.set(j.ID(), "ways", strconv.Itoa(ends)) || moved
	}
	return moved
}

func all[T any](list []T, is func(T) bool) bool {
	return !slices.ContainsFunc(list, func(x T) bool { return !is(x) })
}

// guarded gives the leads before a joint the smallest fuses that carry their load.
func guarded(s *state, o Obstacle) bool {
	i := slices.IndexFunc(s.fig.Plan.Joints, func(j *schema.Joint) bool { return j.ID() == o.Subject })
	if i < 0 {
		return false
	}
	moved := false
	for _, l := range s.fig.Ends(s.fig.Plan.Joints[i]) {
		if l.OK && l.Plus() && l.To.V.Joint == s.fig.Plan.Joints[i] {
			moved = fitted(s, Obstacle{Rule: o.Rule, Subject: l.ID(), Hazard: figures.Fault}) || moved
		}
	}
	return moved
}

// supplied takes a supply that is rated for what is drawn from it.
func supplied(s *state, o Obstacle) bool {
	i := slices.IndexFunc(s.fig.Plan.Supplies, func(x *schema.Supply) bool { return x.ID() == o.Subject })
	if i < 0 {
		return false
	}
	sup, w := s.fig.Plan.Supplies[i], s.fig.WorstSupply(i)
	if !w.OK || !sup.Rating.Known() || sup.Home != schema.InPlan {
		return false
	}
	if !s.once(sup.Node) {
		return true
	}
	rating := sup.Rating.V.With(s.fig.RatingFor(sup, w.Value, s.fig.Plan.Limits().Load))
	if rating.SI <= sup.Rating.V.SI*(1+1e-9) {
		return false
	}
	return s.set(sup.ID(), "rating", strconv.Quote(rating.Exact()))
}

// divided shares what hangs on a supply with a second one like it. Their pluses
// stay apart, as whatever hangs together goes to one of them; their minuses are
// tied, as the data needs it.
func divided(s *state, o Obstacle) bool {
	i := slices.IndexFunc(s.fig.Plan.Supplies, func(x *schema.Supply) bool { return x.ID() == o.Subject })
	if i < 0 {
		return false
	}
	sup, w := s.fig.Plan.Supplies[i], s.fig.WorstSupply(i)
	if !w.OK || !sup.Rating.Known() || sup.Outputs.V > 1 || sup.Home != schema.InPlan || len(s.fig.Plan.Supplies) != 1 || s.added(sup.ID()) != nil {
		return false
	}
	type group struct {
		leads []*figures.Lead
		load  float64
	}
	var groups []*group
	of := map[*schema.Header]*group{} // by what hangs together but for the supply
	for _, l := range s.fig.Leads {
		if !l.OK || !l.Plus() {
			return false
		}
	}
	for _, l := range s.fig.Ends(sup) {
		g := &group{}
		var visit func(b schema.Block)
		visit = func(b schema.Block) {
			h := schema.HeaderOf(b)
			if h == &sup.Header {
				return
			}
			if was := of[h]; was == g {
				return
			} else if was != nil { // another lead leads there too
				g.leads, g.load = append(g.leads, was.leads...), g.load+was.load
				was.leads, was.load = nil, 0
				for k, x := range of {
					if x == was {
						of[k] = g
					}
				}
				return
			}
			of[h] = g
			for _, x := range s.fig.Ends(b) {
				visit(x.From.V.Block())
				visit(x.To.V.Block())
			}
		}
		if l.From.V.Supply != sup || l.Copy > 0 {
			return false
		}
		visit(l.To.V.Block())
		g.leads, g.load = append(g.leads, l), g.load+LoadOf(s.fig, l)
		groups = append(groups, g)
	}
	groups = slices.DeleteFunc(groups, func(g *group) bool { return len(g.leads) == 0 })
	slices.SortStableFunc(groups, func(a, b *group) int { return -cmp.Compare(a.load, b.load) })
	if len(groups) < 2 {
		return false
	}
	first, second := 0.0, 0.0
	name := s.free("supply", sup.Name+"-2")
	var to []*figures.Lead
	for _, g := range groups {
		if first <= second {
			first += g.load
			continue
		}
		second += g.load
		to = append(to, g.leads...)
	}
	if len(to) == 0 || !s.add(&addition{kind: "supply", name: name, says: [][2]string{{"like", sup.ID()}}}, sup.ID()) {
		return false
	}
	for _, l := range to {
		if !s.set(l.ID(), "from", "supply."+name+".out") {
			return false
		}
	}
	tie := &addition{kind: "lead", name: s.free("lead", sup.Name+"-minus"), says: [][2]string{
		{"from", sup.ID() + ".out"}, {"to", "supply." + name + ".out"}, {"wire", to[0].Wire.V.ID()}, {"length", `"30 cm"`}, {"carries", `"minus"`},
	}}
	return s.add(tie, sup.ID())
}
