package figures

import "ohmstead/calc/address"

// LastFirst is the highest universe that the layout could begin at and still
// end within the standard's range; ok is false where it cannot be laid out at
// all.
func (u *Universes) LastFirst() (universe int, ok bool) {
	l := u.Layout
	l.Universe = address.MinUniverse
	spans, err := l.Spans()
	if err != nil {
		return 0, false
	}
	return address.MaxUniverse - len(spans) + 1, true
}

// Split counts the pixels that begin in one universe and end in the next, and
// gives the first of them.
func (u *Universes) Split() (n, first int) {
	if u.Layout.WholePixels {
		return 0, 0
	}
	for k := range u.Layout.Pixels {
		if slot := (u.Layout.Slot - 1 + u.Layout.Channels*k) % address.MaxSlot; slot+u.Layout.Channels > address.MaxSlot {
			if n == 0 {
				first = k
			}
			n++
		}
	}
	return n, first
}
