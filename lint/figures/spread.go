package figures

import (
	"context"
	"math"
	"slices"
	"sync"

	"ohmstead/calc/circuit"

	"ohmstead/schema"
)

// How far the values of a plan may lie from a wall that is as it says, as a share of each: common practice, no source.
const (
	setPoint     = 0.01 // of a supply's output, where nobody wrote its trim
	railSpread   = 0.10 // of the copper of a strip: its foil is thinner or thicker
	lightSpread  = 0.10 // of the current of its light
	idleSpread   = 0.30 // of that of its chips
	lengthSpread = 0.05 // of a lead's length as written
	guessSpread  = 0.20 // of one that was estimated from positions
	// contactSpread is what the connections of one side of a lead may have beyond what is written, ohm: a healthy
	// contact has some milliohms.
	contactSpread = 0.004
)

// Unsure lists what may vary on an island that is as planned, each at the end of its range.
func (is *Island) Unsure() (out [][]Change) {
	is.unsure(is.Supplies, is.Runs, is.Leads, func(of int, ch Change) {
		for len(out) <= of {
			out = append(out, nil)
		}
		out[of] = append(out[of], ch)
	})
	return out
}

// unsure visits the changes of each thing that may vary, among some supplies, runs and leads of the island: of is its place in
// what Unsure lists.
func (is *Island) unsure(supplies []*schema.Supply, runs []*Run, leads []*Lead, visit func(of int, ch Change)) {
	of := 0
	for _, s := range is.Supplies {
		if s.Trim.Set {
			continue
		}
		if slices.Contains(supplies, s) {
			visit(of, Change{What: Trimmed, Supply: s, By: 1 + setPoint})
		}
		of++
	}
	var strips []*schema.Strip // in the order of the plan
	for _, r := range is.Runs {
		if !slices.Contains(strips, r.Strip.V) {
			strips = append(strips, r.Strip.V)
		}
	}
	for _, s := range strips {
		for _, x := range [3]Change{{What: Railed, By: 1 + railSpread}, {What: Drawn, By: 1 + lightSpread}, {What: Idled, By: 1 + idleSpread}} {
			for _, x.Run = range runs {
				if x.Run.Strip.V == s {
					visit(of, x)
				}
			}
			of++
		}
	}
	for _, l := range leads {
		i, _ := slices.BinarySearchFunc(is.Leads, l, byPlace)
		open := lengthSpread
		if l.Estimated {
			open = guessSpread
		}
		visit(of+i, Change{What: Stretched, Lead: l, By: 1 + open + contactSpread/float64(l.Parallel.V)/l.copper()})
	}
}

func byPlace(a, b *Lead) int { return a.place - b.place }

// Spread is, of some places, what moves that which a meter shows there. Each thing that may vary is so little that what
// it moves is in proportion.
type Spread [][]Move

// Move is by how much one thing that may vary moves it, at the end of its range.
type Move struct {
	Of int // which of what Unsure lists; a place has them in that order
	By float64
}

// SpreadOf works it out, and what is shown where nothing varies. Where the meter does not look nothing that varies moves
// what it shows, so that is not solved for.
func (f *Figures) SpreadOf(is *Island, c *Case, probes []Probes) (shown []float64, s Spread, err error) {
	planned, err := f.Wall(is, c)
	if err != nil {
		return nil, nil, err
	}
	shown, s = make([]float64, len(probes)), make(Spread, len(probes))
	var vary []*variety
	for i, t := range probes {
		planned.read = planned.read[:0]
		if shown[i], err = planned.Shows(t); err != nil {
			return nil, nil, err
		}
		slices.Sort(planned.read)
		parts := slices.Compact(planned.read)
		k := slices.IndexFunc(vary, func(v *variety) bool { return slices.Equal(v.parts, parts) })
		if k < 0 {
			k = len(vary)
			vary = append(vary, planned.variety(slices.Clone(parts)))
		}
		vary[k].probes = append(vary[k].probes, i)
	}
	for _, v := range vary {
		for _, i := range v.probes {
			s[i] = make([]Move, len(v.of))
		}
	}
	todo := planned.alike(vary)
	err = together(context.Background(), len(todo), func(k int) error { // a keystroke waits for this longest of all
		job := &todo[k]
		for _, v := range job.of {
			for _, i := range v.probes {
				moved, err := planned.moved(probes[i], shown[i], v, job.from, job.to)
				if err != nil {
					return err
				}
				for k, by := range moved {
					s[i][job.from+k] = Move{v.of[job.from+k], by}
				}
			}
		}
		return nil
	})
	if err != nil {
		return nil, nil, err
	}
	return shown, s, nil
}

// varying is some of the things that vary in varieties that share what is worked out: one thing to do, as of two that wait for
// one another only one works.
type varying struct {
	of       []*variety
	from, to int // which of their changes
}

// atOnce is how many changes are one thing to do: what varies in a large part is shared out.
const atOnce = 8

// alike gathers varieties that share what is worked out, those that take longest first.
func (w *Wall) alike(all []*variety) (todo []varying) {
	at := make(map[content]int, len(all))
	var alike [][]*variety
	for _, v := range all {
		w.gather(v)
		k, known := at[v.content]
		if !v.like || !known {
			k = len(alike)
			alike = append(alike, nil)
		}
		if v.like {
			at[v.content] = k
		}
		alike[k] = append(alike[k], v)
	}
	longest := func(vs []*variety) int { return len(vs[0].changes) * len(vs[0].probes) }
	slices.SortFunc(alike, func(a, b []*variety) int { return longest(b) - longest(a) })
	for _, vs := range alike {
		for n, from := len(vs[0].changes), 0; from < n; from += atOnce {
			todo = append(todo, varying{vs, from, min(from+atOnce, n)})
		}
	}
	return todo
}

// variety is what varies in some parts, for all places whose meters read these.
type variety struct {
	parts   []int
	probes  []int      // which places those are
	of      []int      // which of what Unsure lists
	changes [][]Change // of each of these
	walls   []*Wall    // with these; nil until one is asked for
	content content    // that it shares with those that are alike
	like    bool       // it has one
}

// variety is what varies in some parts.
func (w *Wall) variety(parts []int) *variety {
	v := &variety{parts: parts}
	var supplies []*schema.Supply
	for _, s := range w.is.Supplies {
		moves := slices.Contains(parts, apart)
		w.is.outputs(s, func(source int) {
			moves = moves || slices.ContainsFunc(w.split.Sources[source], func(at circuit.Place) bool { return slices.Contains(parts, at.Part) })
		})
		if moves {
			supplies = append(supplies, s)
		}
	}
	var runs []*Run
	var leads []*Lead
	for _, i := range parts {
		if i == apart {
			continue
		}
		for _, strip := range w.split.Parts[i].Strips {
			runs = append(runs, w.is.Runs[strip])
		}
		for _, wire := range w.split.Parts[i].Wires {
			leads = append(leads, w.is.wires[wire])
		}
	}
	slices.SortFunc(runs, func(a, b *Run) int { return a.place - b.place })
	slices.SortFunc(leads, byPlace)
	w.is.unsure(supplies, runs, slices.Compact(leads), func(of int, ch Change) {
		if len(v.of) == 0 || of != v.of[len(v.of)-1] {
			v.changes, v.of = append(v.changes, nil), append(v.of, of)
		}
		last := &v.changes[len(v.changes)-1]
		*last = append(*last, ch)
	})
	v.walls = make([]*Wall, len(v.of))
	return v
}

// wall is the wall with the changes of one thing.
func (v *variety) wall(k int, planned *Wall) (*Wall, error) {
	if v.walls[k] == nil {
		w, err := planned.f.Wall(planned.is, planned.f.Cases[planned.in], v.changes[k]...)
		if err != nil {
			return nil, err
		}
		w.little = true
		if ch := &v.changes[k][0]; ch.What == Trimmed { // to cut the island takes longer than all else
			cut, _ := planned.trims.LoadOrStore(ch.Supply, sync.OnceValues(w.trimmed))
			w.cut = cut.(func() (*circuit.Split, error))
		}
		v.walls[k] = w
	}
	return v.walls[k], nil
}

// moved is by how much some of the things that vary move what a meter shows, from what is shown as planned. It depends on what
// the meter reads and is kept with that.
func (w *Wall) moved(t Probes, shown float64, v *variety, from, to int) ([]float64, error) {
	work := func() (out []float64, err error) {
		out = make([]float64, to-from)
		for i := 0; i < len(out) && err == nil; i++ {
			var x *Wall
			if x, err = v.wall(from+i, w); err == nil {
				out[i], err = x.Shows(t)
				out[i] -= shown
			}
		}
		return out, err
	}
	key, ok := w.content(t, v, from)
	if !ok {
		return work()
	}
	k := w.is.memo.spreads.entry(key)
	_ = k.get(context.Background(), work) // that does not end
	return k.value, k.err
}

// gather sets the content of a variety: of its parts and of the changes to them. There is none where the voltage between
// two parts is read.
func (w *Wall) gather(v *variety) {
	if slices.Contains(v.parts, apart) {
		return
	}
	var d digest
	for _, i := range v.parts {
		if w.is.parts[i].Live {
			d.of(w.is.parts[i].contents[w.in])
		} else {
			d.of(w.is.cut.contents[i])
		}
	}
	d.count(len(v.parts), len(v.changes))
	for _, list := range v.changes {
		d.count(len(list))
		for _, ch := range list {
			d.count(int(ch.What))
			d.num(ch.By)
			switch {
			case ch.Lead != nil:
				w.sides(&d, ch.Lead, v)
			case ch.Run != nil:
				v.place(&d, w.split.Strips[ch.Run.strip])
			case ch.Supply != nil:
				w.is.outputs(ch.Supply, func(source int) {
					for _, at := range w.split.Sources[source] {
						v.place(&d, at)
					}
				})
			}
		}
	}
	v.content, v.like = d.content(), true
}

func (v *variety) place(d *digest, at circuit.Place) {
	d.count(slices.Index(v.parts, at.Part), at.Index)
}

func (w *Wall) sides(d *digest, l *Lead, v *variety) {
	for _, i := range []int{l.plus, l.minus} {
		if i >= 0 {
			v.place(d, w.split.Wires[i])
		}
	}
	parallel := float64(l.Parallel.V)
	d.num(l.copper(), contact(l.From.V)/parallel, contact(l.To.V)/parallel, l.FuseOhms)
}

// content is that of a variety's changes from one on and of where a meter is held. It is false where the variety has none, or
// another place may lie in several parts.
func (w *Wall) content(t Probes, v *variety, from int) (content, bool) {
	if !v.like {
		return content{}, false
	}
	var d digest
	d.of(v.content)
	d.count(int(t.Reads), from)
	switch pt := t.At; {
	case pt.Run != nil:
		r := w.f.runs[pt.Run]
		v.place(&d, w.split.Strips[r.strip])
		d.num(r.Snap(pt).At)
	case pt.Lead != nil:
		d.count(int(pt.Where))
		w.sides(&d, w.f.leads[pt.Lead], v)
	default:
		return content{}, false
	}
	return d.content(), true
}

// Leaves is how far what is shown at a place may lie off on a wall that is as planned: what each thing that may vary moves
// at the end of its range, added as squares (JCGM 100:2008, 5.1.2), so that a lone one leaves its range.
func (s Spread) Leaves(place int) float64 { return leaves(s[place], nil) }

// Between is the same of how far a place lies above another.
func (s Spread) Between(place, other int) float64 { return leaves(s[place], s[other]) }

func leaves(a, b []Move) float64 {
	squares := 0.0
	for len(a) > 0 || len(b) > 0 {
		moved := 0.0
		of := math.MaxInt
		for _, m := range [][]Move{a, b} {
			if len(m) > 0 {
				of = min(of, m[0].Of)
			}
		}
		if len(a) > 0 && a[0].Of == of {
			moved, a = a[0].By, a[1:]
		}
		if len(b) > 0 && b[0].Of == of {
			moved, b = moved-b[0].By, b[1:]
		}
		squares += moved * moved
	}
	return math.Sqrt(squares)
}
