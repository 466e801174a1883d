// Package locating names what may be wrong on a wall from meter readings: which joint to open first. It lists the causes
// that a plan's network can have, one at a time, and leaves the ranking to calc/diagnosis.
package locating

import (
	"context"
	"maps"
	"math"
	"slices"

	"ohmstead/calc/diagnosis"
	"ohmstead/calc/meter"
	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Located is what the readings of one island say.
type Located struct {
	Readings []figures.Reading
	Classes  [][]Cause // the likeliest first; those of one class cannot be told apart by the readings
	Next     []Next    // what to read next, the reading that tells most first; none where one cause is left
	fig      *figures.Figures
}

// Next is a reading that would tell causes of the first classes apart.
type Next struct {
	figures.Probes
	Case  *figures.Case
	Shown float64 // on a wall that is as planned, V or A
	Bits  float64
}

// Cause is one thing that may be wrong, with the size that fits the readings best.
type Cause struct {
	*suspect
	Share float64 // of the probability
	Value float64
	Amps  float64 // A, through the connection or lead at this size
	Watts float64 // W, of heat in it; 0 where it is not the kind that burns at one place
	Fits  bool    // the readings lie within what meter and plan leave open of it
}

// place is where something is or may be read, in a case.
type place struct {
	figures.Probes
	in *figures.Case
}

// Find ranks what may be wrong by the plan's readings, an island at a time. Where next is set it says what to read next as
// well, which takes half as long again. The only error is that of ctx.
func Find(ctx context.Context, f *figures.Figures, next bool) ([]Located, error) {
	var islands []*figures.Island
	of := map[*figures.Island][]figures.Reading{}
	for _, r := range f.Readings() {
		if of[r.On] == nil {
			islands = append(islands, r.On)
		}
		of[r.On] = append(of[r.On], r)
	}
	var out []Located
	for _, is := range islands {
		l, err := find(ctx, f, is, of[is], next)
		if err != nil {
			return nil, err
		}
		if l != nil {
			out = append(out, *l)
		}
	}
	return out, nil
}

// Quick reports whether Find takes some tenths of a second at most, for who has to answer while a plan is typed.
func Quick(f *figures.Figures) bool {
	for _, is := range f.Islands {
		pixels, solved := leadPixels*len(is.Leads), 30*len(is.Leads)+25*len(is.Runs)
		for _, r := range is.Runs {
			pixels += r.Pixels
		}
		if pixels*solved > 650_000 {
			return false
		}
	}
	return true
}

// leadPixels is how many pixels a lead takes as long as, to be solved.
const leadPixels = 4

func find(ctx context.Context, f *figures.Figures, is *figures.Island, readings []figures.Reading, next bool) (*Located, error) {
	s := &search{f: f, is: is}
	var at []int
	var got []float64
	for i, r := range readings {
		s.places = append(s.places, place{r.Probes, r.Case})
		at, got = append(at, i), append(got, r.Got)
	}
	suspects := s.suspects()
	m, kept, err := s.model(ctx, readings, suspects, true)
	if m == nil {
		return nil, err
	}
	ranked, err := m.Rank(at, got)
	if err != nil {
		return nil, nil // what is shown is no number
	}
	out := &Located{Readings: readings, fig: f}
	for _, r := range ranked {
		c := Cause{suspect: kept[r.Cause], Share: r.Share, Value: r.Value, Fits: r.Off < float64(len(at))+3*math.Sqrt(2*float64(len(at)))}
		s.heat(&c, readings[0].Case)
		if r.Class == len(out.Classes) {
			out.Classes = append(out.Classes, nil)
		}
		out.Classes[r.Class] = append(out.Classes[r.Class], c)
	}
	if next && len(out.Classes[0]) > 1 {
		out.Next, err = s.next(ctx, readings, at, got, ranked, kept)
	}
	return out, err
}

// search is that in one island.
type search struct {
	f      *figures.Figures
	is     *figures.Island
	places []place
}

// model lays the causes out. Where quick is set those that move no reading by much are left out. It is nil where the
// network cannot be solved.
func (s *search) model(ctx context.Context, readings []figures.Reading, suspects []*suspect, quick bool) (*diagnosis.Model, []*suspect, error) {
	m := &diagnosis.Model{}
	moved := map[int][]float64{}                            // of each thing that may vary: by how much, of all places
	for from, to := 0, 0; from < len(s.places); from = to { // a case at a time
		for to < len(s.places) && s.places[to].in == s.places[from].in {
			to++
		}
		shown, part, err := s.f.SpreadOf(s.is, s.places[from].in, s.probes(from, to))
		if err != nil {
			return nil, nil, nil
		}
		m.Shown = append(m.Shown, shown...)
		for i, moves := range part {
			for _, m := range moves {
				if moved[m.Of] == nil {
					moved[m.Of] = make([]float64, len(s.places))
				}
				// Every value is as likely anywhere in its range: its standard deviation is that over the root of 3 (JCGM 100:2008, 4.3.7).
				moved[m.Of][from+i] = m.By / math.Sqrt(3)
			}
		}
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
	}
	for _, of := range slices.Sorted(maps.Keys(moved)) {
		m.Factors = append(m.Factors, moved[of])
	}
	gains := make([][]float64, 3) // of the one meter, by what it is set to
	for i := range gains {
		gains[i] = make([]float64, len(s.places))
	}
	for i, p := range s.places {
		share, still := 0.0, 0.0
		if i < len(readings) {
			share, still = readings[i].Share, readings[i].Still
		} else {
			share, still = common(p.Probes, m.Shown[i])
		}
		m.Own = append(m.Own, max(still, 1e-6)/math.Sqrt(3))
		gains[p.Reads][i] = share * math.Abs(m.Shown[i]) / math.Sqrt(3)
	}
	m.Factors = append(m.Factors, gains...)

	var kept []*suspect
	for _, x := range suspects {
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		sizes, err := s.sizes(x, m, quick)
		if err != nil || sizes == nil {
			continue
		}
		kept = append(kept, x)
		m.Causes = append(m.Causes, diagnosis.Cause{Prior: x.prior, Sizes: sizes, Steps: x.steps})
	}
	return m, kept, nil
}

func (s *search) probes(from, to int) (out []figures.Probes) {
	for _, p := range s.places[from:to] {
		out = append(out, p.Probes)
	}
	return out
}

// common is what a common handheld meter leaves open: a share, and what it leaves at 0.
func common(t figures.Probes, shown float64) (share, still float64) {
	switch {
	case t.Reads == figures.Amps:
		return meter.CurrentAccuracy, meter.Error(0, 0, meter.CurrentDigits, max(meter.CurrentStep, meter.Range(shown)))
	case t.At.Lead != nil:
		return meter.Accuracy, 2 * meter.Error(0, 0, meter.Digits, meter.Range(shown))
	}
	return meter.Accuracy, meter.Error(0, 0, meter.Digits, meter.Range(shown))
}

// sizes works out what a suspect shows at each of its sizes; nil where quick is set and neither end of them moves a reading by
// a fifth of what it leaves open.
func (s *search) sizes(x *suspect, m *diagnosis.Model, quick bool) ([]diagnosis.Size, error) {
	out := make([]diagnosis.Size, len(x.sizes))
	work := func(i int) (err error) {
		if out[i].Value = x.sizes[i]; out[i].Shown == nil {
			out[i].Shown, err = s.shows(x, x.sizes[i])
		}
		return err
	}
	if quick && x.what != sound {
		moves := false
		for _, i := range []int{0, len(out) - 1} {
			if err := work(i); err != nil {
				return nil, err
			}
			for k := range s.places {
				moves = moves || math.Abs(out[i].Shown[k]-m.Shown[k]) > 0.2*m.Own[k]
			}
		}
		if !moves {
			return nil, nil
		}
	}
	for i := range out {
		if err := work(i); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// shows is what all places show with a suspect of one size.
func (s *search) shows(x *suspect, size float64) ([]float64, error) {
	out := make([]float64, len(s.places))
	var w *figures.Wall
	for i, p := range s.places {
		if i == 0 || p.in != s.places[i-1].in {
			var err error
			if w, err = x.wall(s, p.in, size); err != nil {
				return nil, err
			}
		}
		var err error
		if out[i], err = w.Shows(p.Probes); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// heat works out what a cause burns at the size that fits.
func (s *search) heat(c *Cause, in *figures.Case) {
	if c.lead == nil || c.what != contact && c.what != holder {
		return
	}
	w, err := c.wall(s, in, c.Value)
	if err != nil {
		return
	}
	if c.Amps, err = w.Shows(figures.Probes{At: &schema.Point{Kind: schema.LeadPlace, Lead: c.lead.Lead}, Reads: figures.Amps}); err == nil {
		c.Watts = c.Amps * c.Amps * c.Value
	}
}

// mostNext is how many places to read next are told.
const mostNext = 3

// next says which places in the case of the first reading tell most.
func (s *search) next(ctx context.Context, readings []figures.Reading, at []int, got []float64, ranked []diagnosis.Ranked, kept []*suspect) ([]Next, error) {
	var left []*suspect
	for i, r := range ranked {
		if i < 30 && r.Share > ranked[0].Share/500 {
			left = append(left, kept[r.Cause])
		}
	}
	in := s.places[len(s.places)-1].in
	for _, t := range s.candidates(left) {
		s.places = append(s.places, place{t, in})
	}
	m, _, err := s.model(ctx, readings, left, false)
	if m == nil {
		return nil, err
	}
	again, err := m.Rank(at, got)
	if err != nil {
		return nil, nil
	}
	bits, err := m.Tells(at, got, again)
	if err != nil {
		return nil, nil
	}
	var out []Next
	for range mostNext {
		best := -1
		worth := func(i int) float64 { return bits[i] - trouble(s.places[i].Probes) }
		for i := len(readings); i < len(s.places); i++ {
			if bits[i] > 0.05 && (best < 0 || worth(i) > worth(best)) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		out = append(out, Next{s.places[best].Probes, in, m.Shown[best], bits[best]})
		bits[best] = 0
	}
	return out, nil
}

// trouble is what a reading costs, in bits that another must tell less to be preferred: for a current something has to be
// switched off and opened; along a lead two sides are read: common practice, no source.
func trouble(t figures.Probes) float64 {
	switch {
	case t.Reads == figures.Amps:
		return 0.3
	case t.At.Lead != nil:
		return 0.1
	}
	return 0
}
