package sizing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// split makes several runs of one, each with a feed of its own: what its copper
// and the fuses before it cannot carry together they carry apart. The data goes
// on from piece to piece, and orders have the pieces where they had the run. It
// is done where the run has a mere length and nothing else of the plan counts on it.
func split(s *state, o Obstacle) bool {
	r := s.run(o.Subject)
	if r == nil || !r.OK || !r.Strip.V.RailCurrent.Known() || s.added(r.ID()) != nil {
		return s.run(o.Subject) != nil && repaired(s, o)
	}
	if s.halved[r.ID()] {
		return repaired(s, o)
	}
	if !s.pieces(r) {
		return false
	}
	s.halved[r.ID()] = true
	return true
}

// apart splits a run of the plan that is not split yet.
func (s *state) apart(o Obstacle) bool {
	return !s.halved[o.Subject] && s.run(o.Subject) != nil && s.added(o.Subject) == nil && split(s, o)
}

// heavy reports whether more flows into a run than two feeds may bring, each
// through a fuse that protects its copper.
func heavy(f *figures.Figures, r *figures.Run) bool {
	if !r.OK || !r.Strip.V.RailCurrent.Known() || !r.Strip.V.RailCurrent.Set {
		return false
	}
	total := 0.0
	for _, l := range f.Ends(r.Run) {
		if l.OK && l.Plus() {
			total += f.WorstLead(l).Value
		}
		if fuse, ok := l.Device.LargestFor(r.Strip.V.RailCurrent.V.SI); ok && math.Min(total, float64(r.Pixels)*r.PixelMax) > 2*l.Device.Share*fuse {
			return true
		}
	}
	return false
}

// pieces writes the pieces of a run.
func (s *state) pieces(r *figures.Run) bool {
	_, ok := r.Node.Assign("length")
	if !ok || r.Copy > 0 || r.Path != nil || r.Run.Pixels.Set || r.DataEnters.V == "end" || r.Run.Capacitor.Set {
		return false
	}
	var leads []*figures.Lead
	for _, l := range s.fig.Ends(r.Run) {
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt.Run == r.Run && pt.Where != schema.AtStart && pt.Where != schema.AtEnd || l.Copy > 0 || !l.Plus() || !l.Lead.Length.Set {
				return false
			}
		}
		leads = append(leads, l)
	}
	paths := s.fig.Feeds(r)
	if len(leads) == 0 || len(paths) == 0 || s.countedOn(r) {
		return false
	}
	by := paths[0][0]
	if s.added(by.ID()) != nil {
		return false
	}
	fuse, ok := by.Device.LargestFor(r.Strip.V.RailCurrent.V.SI)
	if !ok {
		return false
	}
	each := math.Min(2*by.Device.Share*fuse, 1.3*r.Strip.V.RailCurrent.V.SI) // fed at both ends, and at one if the minus of the other is loose
	n := int(math.Ceil(float64(r.Pixels)*r.PixelMax/each - 1e-9))
	group := max(1, r.Strip.V.Cut.V)
	count := (r.Pixels/n + group - 1) / group * group
	if n < 2 {
		n, count = 2, (r.Pixels/2+group-1)/group*group
	}
	if n > 12 || count*(n-1) >= r.Pixels {
		return false
	}
	// What comes from the end of the run comes from the end of its last piece.
	name := func(k int) string { return fmt.Sprintf("%s-part-%d", r.Name, k) }
	last := "run." + name(n) + ".end"
	if _, taken := s.fig.Plan.Find("run." + name(2)); taken {
		return false
	}
	for _, x := range s.fig.Plan.Signals {
		if x.From.V != nil && x.From.V.Run == r.Run && x.Copy == 0 && x.MadeBy() == nil {
			if !s.set(x.ID(), "from", last) {
				return false
			}
		}
	}
	for _, l := range leads {
		end := ""
		if l.From.V.Run == r.Run && l.From.V.Where == schema.AtEnd {
			end = "from"
		} else if l.To.V.Run == r.Run && l.To.V.Where == schema.AtEnd {
			end = "to"
		}
		if end != "" && !s.set(l.ID(), end, last) {
			return false
		}
	}
	size := func(pixels int) string {
		return quantity.Of(quantity.Length, math.Ceil(float64(pixels)*r.Pitch*1000-1e-6)/1000).Exact()
	}
	if !s.set(r.ID(), "length", strconv.Quote(size(count))) {
		return false
	}
	far, near := by.Toward(r.Run)
	feed := func(place string, pixels int) bool {
		lead := &addition{kind: "lead", name: s.free("lead", by.Name+"-more"), feeds: place + " from " + near.String()}
		lead.says = [][2]string{{"like", by.ID()}, {far, place}, {"length", strconv.Quote(lengthLike(by.Lead.Length.V, by.Length+float64(pixels)*r.Pitch))}}
		return s.add(lead, by.ID())
	}
	both := float64(count)*r.PixelMax > by.Device.Share*fuse
	if both && !feed(r.ID()+".end", count) {
		return false
	}
	data := s.dataWire(r)
	runs := []string{r.ID()}
	for k := 2; k <= n; k++ {
		pixels := count
		if k == n {
			pixels = r.Pixels - count*(n-1)
		}
		piece := &addition{kind: "run", name: name(k), says: [][2]string{{"like", r.ID()}}}
		if k == 2 {
			piece.why = fmt.Sprintf("? %s of %s is cut into %d pieces, each with leads of its own: one feed is too\n# little for it.", r.ID(), r.Run.Length.V, n)
		}
		if pixels != count {
			piece.set("length", strconv.Quote(size(pixels)))
		}
		if !s.add(piece, r.ID()) {
			return false
		}
		runs = append(runs, piece.id())
		if !feed(piece.id()+".start", count*(k-1)) || (k < n || !s.fedAtEnd(r)) && both && !feed(piece.id()+".end", min(count*k, r.Pixels)) {
			return false
		}
		if data != "" {
			signal := &addition{kind: "signal", name: s.free("signal", name(k)), says: [][2]string{{"from", runs[k-2] + ".end"}, {"to", piece.id() + ".start"}, {"wire", data}, {"length", `"5 cm"`}}}
			if !s.add(signal, r.ID()) {
				return false
			}
		}
	}
	s.parts = append(s.parts, fmt.Sprintf("split %s into %d runs of %s", r.ID(), n, size(count)))
	return s.ordered(r, runs)
}

// fedAtEnd reports whether a lead goes to the end of a run.
func (s *state) fedAtEnd(r *figures.Run) bool {
	for _, l := range s.fig.Ends(r.Run) {
		for _, pt := range []*schema.Point{l.From.V, l.To.V} {
			if pt.Run == r.Run && pt.Where == schema.AtEnd {
				return true
			}
		}
	}
	return false
}

// countedOn reports whether something beside leads, signals and orders names a run or takes over what it says.
func (s *state) countedOn(r *figures.Run) bool {
	for _, x := range s.fig.Plan.Runs {
		if x.Like != nil && schema.HeaderOf(x.Like) == &r.Run.Header {
			return true
		}
	}
	for _, x := range s.fig.Plan.Readings {
		if x.Place.V != nil && x.Place.V.Run == r.Run {
			return true
		}
	}
	return false
}

// dataWire is the wire of the signal that reaches a run, "" for none; a chain
// takes the data through the pieces by itself.
func (s *state) dataWire(r *figures.Run) string {
	for _, x := range s.fig.Plan.Signals {
		if x.MadeBy() == nil && x.To.V != nil && x.To.V.Run == r.Run && x.Wire.V != nil {
			return x.Wire.V.ID()
		}
	}
	return ""
}

// ordered puts the pieces of a run in its place in orders and chains. It fails where one is
// not a mere list of runs, or has a length for each.
func (s *state) ordered(r *figures.Run, runs []string) bool {
	in := func(id string, list []schema.RunRef, each bool) bool {
		var items []string
		has := false
		for _, ref := range list {
			ids := []string{ref.Run.ID()}
			if ref.Run == r.Run {
				ids, has = slices.Clone(runs), true
			}
			if ref.FromEnd {
				slices.Reverse(ids)
				for i := range ids {
					ids[i] = "from_end(" + ids[i] + ")"
				}
			}
			items = append(items, ids...)
		}
		return !has || !each && s.set(id, "runs", "["+strings.Join(items, ", ")+"]")
	}
	for _, b := range s.fig.Plan.Blocks {
		switch x := b.(type) {
		case *schema.Order:
			if x.MadeBy() == nil && !in(x.ID(), x.Runs.V, false) {
				return false
			}
		case *schema.Chain:
			if !in(x.ID(), x.Runs.V, len(x.Length.V) > 1) {
				return false
			}
		}
	}
	return true
}
