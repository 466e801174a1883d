package figures

import (
	"math"

	"ohmstead/schema"
)

// SignalLength is how long a signal's conductor is, m: as written, else as the
// lead whose cable it shares, else the distance of its two places with the
// policy's slack and tails. ok is false where none of them is known.
func (f *Figures) SignalLength(s *schema.Signal) (length float64, estimated, ok bool) {
	if s.Length.Set {
		return s.Length.V.SI, false, !s.Length.Bad
	}
	if s.Within.Known() {
		l, ok := f.leads[s.Within.V]
		return lengthOf(l, ok)
	}
	d, ok := f.Apart(s.From, s.To)
	return f.estimate(d), true, ok
}

func lengthOf(l *Lead, ok bool) (float64, bool, bool) {
	if !ok || !l.OK {
		return 0, false, false
	}
	return l.Length, l.Estimated, true
}

// LiveVolts is the most that the pixels of a run can see, V: the voltage of the
// supplies that its plus is joined to, for with little lit nothing is lost on
// the way. 0 where none is known.
func (f *Figures) LiveVolts(r *Run) float64 {
	volts := 0.0
	for _, o := range f.Connectivity().Plus(r) {
		if s := o.Supply; s.Output.Known() && !s.Trim.Bad && s.Outputs.Known() {
			volts = math.Max(volts, s.Volts())
		}
	}
	return volts
}

// DataShift is how far the minus of a run at its data input lies above that of the controller that drives it, V, in
// a case, and the voltage that the run has there: what its return loses takes from the level of a data one. ok is
// false where the two minuses are not joined by leads.
func (f *Figures) DataShift(c *Case, ctl *Controller, r *Run) (shift, volts float64, ok bool) {
	is := r.Island
	if is == nil || is.split == nil || ctl.Island != is {
		return 0, 0, false
	}
	input := is.nodes[padPlace(r, r.dataIn)]
	for k := range f.Cases {
		if f.Cases[k] != c || f.withheld(c) {
			continue
		}
		if volts, ok = is.between(input, k); ok {
			shift, ok = is.between([2]int{input[1], is.nodes[blockPlace(ctl.Controller)][1]}, k)
		}
		return shift, volts, ok
	}
	return 0, 0, false
}
