package compare

import (
	"math"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// cut is a run that is several runs on the other side: split when the whole is
// in base, joined when it is in head.
type cut struct {
	joined bool
	whole  *figures.Run
	pieces []piece // in their order along the whole
}

// piece is one of the runs that a whole was cut into.
type piece struct {
	run   *figures.Run
	from  int // the pixel of the whole that its first pixel is (its last one where it is turned)
	turns bool
}

// mostPieces is the most pieces that a cut is recognised of.
const mostPieces = 8

// cut looks for runs that were split or joined: what is missing of one is as
// long as others that are new, of the same strip.
func (m *matching) cut() {
	split := func(id string) (string, bool) { is, ok := m.is[id]; return is, ok }
	join := func(id string) (string, bool) { was, ok := m.was[id]; return was, ok }
	m.cutSide(m.base.Figures, m.head.Figures, split, join, false)
	m.cutSide(m.head.Figures, m.base.Figures, join, split, true)
}

// cutSide looks for runs of one side that are several on the other. is gives
// an address of the one its name on the other side, was the other way round.
func (m *matching) cutSide(one, other *figures.Figures, is, was func(string) (string, bool), joined bool) {
	byID := map[string]*figures.Run{}
	for _, r := range other.Runs {
		byID[r.ID()] = r
	}
	taken := map[*figures.Run]bool{}
	for _, whole := range one.Runs {
		if !whole.OK {
			continue
		}
		var kept *figures.Run
		if id, ok := is(whole.ID()); ok {
			kept = byID[id]
		}
		if kept != nil && (!kept.OK || kept.Pixels >= whole.Pixels) {
			continue
		}
		var fresh []*figures.Run
		for _, r := range other.Runs {
			if _, known := was(r.ID()); known || taken[r] || !r.OK || !sameStrip(whole, r, is) {
				continue
			}
			fresh = append(fresh, r)
		}
		pieces := fitting(whole, kept, fresh)
		if pieces == nil {
			continue
		}
		c := cut{joined: joined, whole: whole, pieces: laid(whole, pieces)}
		for _, p := range c.pieces {
			taken[p.run] = true
		}
		m.cuts = append(m.cuts, c)
		if kept == nil && !joined {
			m.place(c)
		}
	}
}

func sameStrip(whole, r *figures.Run, is func(string) (string, bool)) bool {
	a, b := whole.Strip.V.ID(), r.Strip.V.ID()
	if id, ok := is(a); ok {
		a = id
	}
	return a == b
}

// fitting picks new runs, one after the other in the text, that together with
// what is kept are as long as the whole. A cut may cost or gain a pixel.
func fitting(whole, kept *figures.Run, fresh []*figures.Run) []*figures.Run {
	var first []*figures.Run
	missing := whole.Pixels
	if kept != nil {
		first = []*figures.Run{kept}
		missing -= kept.Pixels
	}
	var best []*figures.Run
	off := math.MaxInt
	for i := range fresh {
		sum := 0
		for k := i; k < len(fresh) && len(first)+k-i < mostPieces; k++ {
			sum += fresh[k].Pixels
			n := len(first) + k - i + 1
			d := max(sum-missing, missing-sum)
			if n >= 2 && d < n && d < off && d*10 < missing {
				best, off = append(append([]*figures.Run{}, first...), fresh[i:k+1]...), d
			}
		}
	}
	return best
}

// laid finds out where along the whole each piece lies, and which way round:
// from the drawings where both have one, else one after the other.
func laid(whole *figures.Run, runs []*figures.Run) []piece {
	var out []piece
	from := 0
	drawn := true
	for _, r := range runs {
		p := piece{run: r, from: from}
		from += r.Pixels
		a, ok1 := along(whole, r, 0)
		b, ok2 := along(whole, r, r.StripLength())
		if !ok1 || !ok2 {
			drawn = false
		} else {
			p.turns = b < a
			p.from = int(math.Round(math.Min(a, b) / whole.Pitch))
		}
		out = append(out, p)
	}
	if !drawn {
		from = 0
		for i := range out {
			out[i].from, out[i].turns = from, false
			from += out[i].run.Pixels
		}
	}
	for i := 1; i < len(out); i++ { // few pieces: put them in order as they come
		for k := i; k > 0 && out[k].from < out[k-1].from; k-- {
			out[k], out[k-1] = out[k-1], out[k]
		}
	}
	return out
}

// along is where a place on a piece lies on the whole, m from its start.
func along(whole, r *figures.Run, at float64) (float64, bool) {
	if whole.Path == nil || r.Path == nil || !sameSurface(whole.Run, r.Run) {
		return 0, false
	}
	x, y, _ := r.Path.At(at)
	best, where := math.Inf(1), 0.0
	for k := 0; k <= whole.Pixels; k++ {
		s := float64(k) * whole.Pitch
		wx, wy, _ := whole.Path.At(math.Min(s, whole.Length))
		if d := math.Hypot(wx-x, wy-y); d < best {
			best, where = d, s
		}
	}
	return where, best <= 2*whole.Pitch
}

func sameSurface(a, b *schema.Run) bool {
	if a.On.V == nil || b.On.V == nil {
		return a.On.V == nil && b.On.V == nil
	}
	return a.On.V.Name == b.On.V.Name
}

// place says where the ends of a run that is gone are now.
func (m *matching) place(c cut) {
	end := func(p piece, last bool) string {
		if p.turns != last {
			return p.run.ID() + ".end"
		}
		return p.run.ID() + ".start"
	}
	id := c.whole.ID()
	m.is[id+".start"] = end(c.pieces[0], false)
	m.is[id+".end"] = end(c.pieces[len(c.pieces)-1], true)
}
