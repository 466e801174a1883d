package drawing

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Parts of the em that a line of the family reaches above and below its
// baseline, and the height of its capitals: from the fonts' own tables.
const (
	ascent  = 0.77
	descent = 0.21
	capital = 0.72
)

// Family is the name of the family of type.
const Family = "Go"

// Data is the font file of a face (TrueType), to be embedded.
func (f Face) Data() []byte {
	return [...][]byte{goregular.TTF, gobold.TTF, gomono.TTF}[f]
}

// advances are the widths of the characters of a face, parts of an em.
type advances struct {
	once sync.Once
	font *sfnt.Font
	err  error
	mu   sync.Mutex
	buf  sfnt.Buffer
	of   map[rune]float64
}

var faces [3]advances // a cache of what the fonts say

// TextWidth is the width of a line of text, in the unit of its size.
func TextWidth(face Face, size float64, s string) float64 {
	a := &faces[face]
	a.once.Do(func() {
		a.of = map[rune]float64{}
		a.font, a.err = sfnt.Parse(face.Data())
	})
	a.mu.Lock()
	defer a.mu.Unlock()
	sum := 0.0
	for _, r := range s {
		w, ok := a.of[r]
		if !ok {
			w = a.advance(r)
			a.of[r] = w
		}
		sum += w
	}
	return sum * size
}

// advance reads one character's width. One that the font lacks takes an em, as
// whatever stands in for it does at the most.
func (a *advances) advance(r rune) float64 {
	if a.err != nil {
		return 1
	}
	i, err := a.font.GlyphIndex(&a.buf, r)
	if err != nil || i == 0 {
		return 1
	}
	const em = 2048
	w, err := a.font.GlyphAdvance(&a.buf, i, fixed.I(em), font.HintingNone)
	if err != nil {
		return 1
	}
	return float64(w) / 64 / em
}
