package compare

import (
	"math"
	"slices"

	"ohmstead/lint/figures"
	"ohmstead/schema"
)

// Profile is the voltage along a run before and after.
type Profile struct {
	ID     string     `json:"id"`
	Family string     `json:"family"`
	Case   string     `json:"case"`
	Length [2]float64 `json:"length"` // m, before and after
	Was    []float64  `json:"was"`    // V, evenly along the run, the least of each stretch; empty where it was not there
	Is     []float64  `json:"is"`
	Need   *float64   `json:"need"` // V that its colours need, in head
}

// mostPoints is how many voltages a profile keeps.
const mostPoints = 120

// profiles draws every run whose least voltage moved, in the case full where
// it moved there, else in the first case where it did.
func (m *matching) profiles(moves []Move) []Profile {
	out := []Profile{}
	seen := map[string]bool{}
	for _, mv := range moves {
		if mv.Figure != LeastVoltage || mv.Case == schema.Any || seen[mv.ID] {
			continue
		}
		seen[mv.ID] = true
		if p, ok := m.profile(mv); ok {
			out = append(out, p)
		}
	}
	return out
}

func (m *matching) profile(mv Move) (Profile, bool) {
	p := Profile{ID: mv.ID, Family: mv.Family, Case: mv.Case, Was: []float64{}, Is: []float64{}, Need: mv.Limit}
	k, ok := m.head.Figures.Case(mv.Case)
	i := slices.IndexFunc(m.head.Figures.Runs, func(r *figures.Run) bool { return r.ID() == mv.ID })
	if !ok || i < 0 || !k.Runs[i].OK {
		return p, false
	}
	p.Is = thinned(k.Runs[i].Volts())
	p.Length[1] = m.head.Figures.Runs[i].StripLength()
	name := mv.Case
	if k.Own != nil {
		if b, ok := m.base.byID[m.renameBack(k.Own.ID())]; ok {
			name = b.head.Name
		}
	}
	if was, ok := m.base.Figures.Case(name); ok {
		run := m.head.Figures.Runs[i]
		volts := m.before(run, was)
		p.Was = thinned(volts)
		p.Length[0] = m.metres(run)
	}
	return p, true
}

// thinned keeps the least voltage of each stretch, rounded to a millivolt.
func thinned(volts []float64) []float64 {
	n := min(len(volts), mostPoints)
	out := make([]float64, n)
	for i := range n {
		from, to := i*len(volts)/n, (i+1)*len(volts)/n
		out[i] = math.Round(slices.Min(volts[from:to])*1000) / 1000
	}
	return out
}

// bounds are the least and greatest voltage of a profile, and of what is needed
// where that lies near.
func (p Profile) bounds() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, vs := range [][]float64{p.Was, p.Is} {
		for _, v := range vs {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return low, high
}
