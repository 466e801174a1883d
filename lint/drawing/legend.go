package drawing

import "math"

// entry is one line of a legend: a sample, drawn in a box 8 mm wide, and what it means.
type entry struct {
	sample func(at Pt) []Mark // around the middle of the sample
	text   string
	bold   bool
	tall   float64 // mm, of a sample that is higher than a line
	height float64 // mm, of a sample that stands across the column above its text
}

// columnWidth of legends, mm.
const (
	columnWidth = 46.0
	sampleWidth = 9.0
	leading     = 3.6 // from line to line
)

// legend lays entries into columns of at most a height, and tells the size that they take.
type legend struct{ entries []entry }

func (l *legend) add(text string, sample func(at Pt) []Mark) {
	l.entries = append(l.entries, entry{text: text, sample: sample})
}

func (e entry) lines() []string {
	width := columnWidth
	face := Regular
	if e.sample != nil && e.height == 0 {
		width -= sampleWidth
	}
	if e.bold {
		face = Bold
	}
	return wrapped(face, small, width, e.text)
}

func (e entry) size() float64 {
	return e.height + math.Max(leading*float64(len(e.lines())), e.tall) + 1.2
}

// height is what the entries take in a number of columns.
func (l *legend) columns(height float64) int {
	n, y := 1, 0.0
	for _, e := range l.entries {
		if y > 0 && y+e.size() > height {
			n, y = n+1, 0
		}
		y += e.size()
	}
	return n
}

// heightFor is the least height at which the entries take no more than n columns.
func (l *legend) heightFor(n int) float64 {
	h := 0.0
	for _, e := range l.entries {
		h = math.Max(h, e.size())
	}
	for l.columns(h) > n {
		h += leading / 2
	}
	return h
}

// draw writes the entries into columns of a height from a corner on.
func (l *legend) draw(at Pt, height float64) []Mark {
	var out []Mark
	x, y := at.X, at.Y
	for _, e := range l.entries {
		if y > at.Y && y+e.size() > at.Y+height+1e-9 {
			x, y = x+columnWidth+6, at.Y
		}
		left, down := x, math.Max(0, (e.tall-leading)/2)
		switch {
		case e.sample != nil && e.height > 0:
			out = append(out, e.sample(Pt{x, y})...)
		case e.sample != nil:
			out = append(out, e.sample(Pt{x + 3.5, y + down + leading/2})...)
			left += sampleWidth
		}
		for i, s := range e.lines() {
			t := word(Pt{left, y + e.height + down + leading*float64(i) + 2.8}, Start, Line, s)
			if e.bold {
				t.Face = Bold
			}
			out = append(out, t)
		}
		y += e.size()
	}
	return out
}
