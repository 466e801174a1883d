package figures

import (
	"slices"

	"ohmstead/schema"
)

// Guards are the leads whose fuses stand between a lead without one and what can
// feed a fault in it. bare says that something feeds it past all of them: a supply
// whose own limit alone is there.
func (f *Figures) Guards(l *Lead) (fuses []*Lead, bare bool) {
	if !brings(l) {
		return nil, false
	}
	zone := f.connectedTo(nil, func(x *Lead) bool { return x.Fused() }, l.From.V.Block(), l.To.V.Block())
	for b := range zone.blocks {
		for _, x := range f.Ends(b) {
			if !brings(x) || !x.Fused() {
				continue
			}
			if there := far(x, schema.HeaderOf(b)); f.connectedTo(func(b schema.Block) bool { return zone.blocks[b] }, nil, there).fed {
				fuses = append(fuses, x)
			}
		}
	}
	slices.SortFunc(fuses, func(a, b *Lead) int { return a.place - b.place })
	return slices.Compact(fuses), zone.fed
}

// Backed tells whether both ends of a lead keep their voltage when its fuse is
// out, since other leads bring it.
func (f *Figures) Backed(l *Lead) bool {
	if !brings(l) || !l.Fused() {
		return false
	}
	without := func(x *Lead) bool { return x == l }
	return f.connectedTo(nil, without, l.From.V.Block()).fed && f.connectedTo(nil, without, l.To.V.Block()).fed
}

// Behind is the least that the joints at a lead's ends, and what its fuse alone guards behind them, may carry, A: the
// wires of leads without a fuse, the copper of strips. It is infinite where nothing says it.
func (f *Figures) Behind(l *Lead) float64 {
	most := l.RailLimit()
	if !brings(l) {
		return most
	}
	least := func(b schema.Block) {
		if j, ok := b.(*schema.Joint); ok && j.Rating.Set && !j.Rating.Bad {
			most = min(most, j.Rating.V.SI)
		}
	}
	least(l.From.V.Block())
	load := l.To.V.Block()
	if f.Backwards(l) {
		load = l.From.V.Block()
	}
	for b := range f.connectedTo(nil, func(x *Lead) bool { return x == l || x.Fused() }, load).blocks {
		least(b)
		for _, x := range f.Ends(b) {
			if x != l && brings(x) && !x.Fused() && x.OK {
				most = min(most, x.Ampacity, x.RailLimit())
			}
		}
	}
	return most
}

// Backwards tells whether a lead is written from its load: a supply reaches it at its to end alone.
func (f *Figures) Backwards(l *Lead) bool {
	return brings(l) && f.SuppliedAt(l.To.V, l.Lead) && !f.SuppliedAt(l.From.V, l.Lead)
}

// SuppliedAt tells whether a supply reaches a place by joints and other leads than one: a lead that has one at either
// end is protected at neither by a fuse at the other.
func (f *Figures) SuppliedAt(at *schema.Point, without *schema.Lead) bool {
	closed := func(b schema.Block) bool { _, joint := b.(*schema.Joint); return !joint }
	return f.connectedTo(closed, func(x *Lead) bool { return x.Lead == without }, at.Block()).fed
}

// Bringing lists the leads that bring plus to a joint: a supply is reached from their other end without passing the
// joint, through runs too.
func (f *Figures) Bringing(j *schema.Joint) (out []*Lead) {
	itself := func(b schema.Block) bool { return b == schema.Block(j) }
	for _, l := range f.Ends(j) {
		if brings(l) && f.connectedTo(itself, func(x *Lead) bool { return x == l }, far(l, schema.HeaderOf(j))).fed {
			out = append(out, l)
		}
	}
	return out
}

// brings tells whether a lead with a plus side has both of its ends.
func brings(l *Lead) bool { return l.Plus() && l.From.V != nil && l.To.V != nil }

// connected is what plus reaches from some blocks, and whether a supply is among it.
// A supply passes nothing on.
type connected struct {
	blocks map[schema.Block]bool // but supplies
	fed    bool
}

func (f *Figures) connectedTo(closed func(schema.Block) bool, open func(*Lead) bool, from ...schema.Block) connected {
	out := connected{blocks: map[schema.Block]bool{}}
	for len(from) > 0 {
		b := from[0]
		from = from[1:]
		if _, ok := b.(*schema.Supply); ok {
			out.fed = true
			continue
		}
		if out.blocks[b] || closed != nil && closed(b) {
			continue
		}
		out.blocks[b] = true
		for _, x := range f.Ends(b) {
			if brings(x) && (open == nil || !open(x)) {
				from = append(from, far(x, schema.HeaderOf(b)))
			}
		}
	}
	return out
}

// Cores are the conductors of a signal: "data", with the clock of strips that
// have one, and the second data line between strips that pass it on.
func Cores(s *schema.Signal) []string {
	out := []string{"data"}
	if r := s.To.V.Run; r != nil && r.Strip.Known() && r.Strip.V.Clocked.V {
		out = append(out, "clock")
	}
	if backed(s.From.V) && backed(s.To.V) {
		out = append(out, "backup")
	}
	return out
}

// backed reports whether the strip at a point has a second data line.
func backed(pt *schema.Point) bool {
	return pt.Run != nil && pt.Run.Strip.Known() && pt.Run.Strip.V.BackupData.V
}
