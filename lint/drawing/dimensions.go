package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
)

// dimension is a place that is measured from the lower left corner.
type dimension struct {
	at   float64 // m
	rank int     // what goes first where there is no room: the highest
	of   string  // what lies there
	text float64 // mm on paper, of the middle of its number
}

// Ranks of dimensions. Strips are hung from where runs begin, so their ends give way first.
const (
	outline = iota
	starts
	things
	finishes
)

// numberPitch is from number to number of dimensions: the height of a line of text, mm.
const numberPitch = (ascent+descent)*small + 0.1

// dimensions are running ones from the lower left corner (ISO 129-1) of where
// runs begin and end and things sit, and the overall size. Where places lie
// closer than numbers are high the numbers stand apart, each at the end of a line from its place.
func (e *elevation) dimensions() {
	b := e.l.edge
	xs := []dimension{{at: b.MinX}, {at: b.MaxX}}
	ys := []dimension{{at: b.MinY}, {at: b.MaxY}}
	add := func(x, y float64, rank int, of string) {
		xs, ys = append(xs, dimension{at: x, rank: rank, of: of}), append(ys, dimension{at: y, rank: rank, of: of})
	}
	for i, p := range e.l.paths {
		r := e.l.Runs[i]
		x, y, _ := p.At(0)
		add(x, y, starts, r.Name+" "+say("start"))
		x, y, _ = p.At(r.Length)
		add(x, y, finishes, r.Name+" "+say("end"))
	}
	for _, d := range e.placed() {
		add(d.x, d.y, things, d.name)
	}
	if b.MaxY-b.MinY < 1e-6 {
		ys = nil
	}
	corner, far := e.m.At(b.MinX, b.MinY), e.m.At(b.MaxX, b.MaxY)
	bottom := e.m.At(e.l.bounds.MinX, e.l.bounds.MinY).Y + e.pad
	left := e.m.At(e.l.bounds.MinX, 0).X - e.pad
	row, col := bottom+5, left-5
	const lead, mid = 2.4, (ascent - descent) / 2 * small
	l := &e.dims
	up := Pt{e.area.X - e.pad - roomLeft + 4, row + 3}
	l.Marks = append(l.Marks, line(fat(Line), up.plus(0, 2), up.plus(0, 6)), triangle(solid(Line), up, 3, -90), word(up.plus(0, 9), Middle, Line, say("up")))
	l.Marks = append(l.Marks, line(hair(Soft), Pt{corner.X, row}, Pt{far.X, row}))
	xs, out := e.spread(xs, func(v float64) float64 { return e.m.At(v, 0).X }, corner.X-roomLeft/2, far.X+roomEnd-numberPitch/2)
	for _, d := range xs {
		x := e.m.At(d.at, 0).X
		l.Marks = append(l.Marks, line(hair(Soft), Pt{x, bottom + 1.2}, Pt{x, row}, Pt{d.text, row + lead}), dot(Pt{x, row}),
			&Text{Ink: Line, At: Pt{d.text + mid, row + lead + 0.4}, Anchor: End, Size: small, Turn: -90, S: e.length(d.at - b.MinX)})
	}
	if len(ys) > 0 {
		l.Marks = append(l.Marks, line(hair(Soft), Pt{col, corner.Y}, Pt{col, far.Y}))
	}
	ys, more := e.spread(ys, func(v float64) float64 { return e.m.At(0, v).Y }, headline+numberPitch/2, row)
	for _, d := range ys {
		y := e.m.At(0, d.at).Y
		l.Marks = append(l.Marks, line(hair(Soft), Pt{left - 1.2, y}, Pt{col, y}, Pt{col - lead, d.text}), dot(Pt{col, y}),
			word(Pt{col - lead - 0.4, d.text + mid}, End, Line, e.length(d.at-b.MinY)))
	}
	unit := "mm"
	if e.f.Habit == quantity.Imperial {
		unit = "ft, in"
	}
	e.lg.add(say("dimensions", "unit", unit), func(at Pt) []Mark {
		return []Mark{line(hair(Soft), at.plus(-3, 0), at.plus(3, 0)), dot(at.plus(-3, 0)), dot(at.plus(1, 0)), dot(at.plus(3, 0))}
	})
	for _, k := range []struct {
		axis string
		out  []string
	}{{"x", out}, {"y", more}} {
		if n := len(k.out); n > 0 {
			if n > 6 {
				k.out = append(k.out[:5:5], fmt.Sprintf("+%d", n-5))
			}
			e.lg.add(say("undimensioned", "axis", k.axis, "names", strings.Join(k.out, ", ")), nil)
		}
	}
}

func dot(at Pt) Mark { return &Circle{Style: solid(Line), At: at, R: 0.45} }

// spread gives numbers their places on paper from lo to hi: in their order, apart from each other and
// as near to what they measure as that lets them. Equal numbers are one. What finds
// no room is left out, by rank and from crowded places first, and named; what lies outside of the edge has no dimension.
func (e *elevation) spread(all []dimension, on func(float64) float64, lo, hi float64) (kept []dimension, out []string) {
	if len(all) == 0 {
		return nil, nil
	}
	from, to := all[0].at, all[1].at
	slices.SortStableFunc(all, func(a, b dimension) int { return cmp.Or(cmp.Compare(a.at, b.at), a.rank-b.rank) })
	for _, d := range all {
		if d.at < from-1e-9 || d.at > to+1e-9 {
			continue
		}
		if n := len(kept) - 1; n >= 0 && e.length(kept[n].at-from) == e.length(d.at-from) {
			if d.rank < kept[n].rank {
				kept[n] = d
			}
			continue
		}
		kept = append(kept, d)
	}
	for len(kept) > 2 && float64(len(kept)-1)*numberPitch > hi-lo {
		worst := -1
		room := func(i int) float64 {
			if i == 0 || i == len(kept)-1 {
				return math.Inf(1)
			}
			return kept[i+1].at - kept[i-1].at
		}
		for i, d := range kept {
			if d.rank != outline && (worst < 0 || d.rank > kept[worst].rank || d.rank == kept[worst].rank && room(i) < room(worst)) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		out = append(out, kept[worst].of)
		kept = slices.Delete(kept, worst, worst+1)
	}
	place(kept, on, lo, hi)
	slices.Sort(out)
	return kept, out
}

// place spreads what fits by pooling neighbours that would overlap: each pool stands about the mean of its places.
func place(all []dimension, on func(float64) float64, lo, hi float64) {
	slices.SortStableFunc(all, func(a, b dimension) int { return cmp.Compare(on(a.at), on(b.at)) })
	type pool struct {
		sum float64 // of what its numbers want of its first one
		n   int
	}
	var pools []pool
	for i := range all {
		p := pool{on(all[i].at) - float64(i)*numberPitch, 1}
		for k := len(pools) - 1; k >= 0 && pools[k].sum/float64(pools[k].n) > p.sum/float64(p.n); k-- {
			p = pool{p.sum + pools[k].sum, p.n + pools[k].n}
			pools = pools[:k]
		}
		pools = append(pools, p)
	}
	i := 0
	for _, p := range pools {
		first := math.Max(lo, math.Min(p.sum/float64(p.n), hi-float64(len(all)-1)*numberPitch))
		for range p.n {
			all[i].text = first + float64(i)*numberPitch
			i++
		}
	}
}
