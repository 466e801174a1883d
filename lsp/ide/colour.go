package ide

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"sync"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Colour is a colour written in v.File; its channels are shares of one.
type Colour struct {
	Range
	Red, Green, Blue float64
}

var hexColour = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})$`) })

// colourIn reads "#ffb070" or "#fb7".
func colourIn(text string) ([3]float64, bool) {
	m := hexColour().FindStringSubmatch(text)
	if m == nil {
		return [3]float64{}, false
	}
	h := m[1]
	if len(h) == 3 {
		h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
	}
	n, err := strconv.ParseUint(h, 16, 32)
	if err != nil {
		return [3]float64{}, false
	}
	return [3]float64{float64(n>>16&255) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}, true
}

// Colours finds the colours of v.File.
func Colours(v *View) []Colour {
	var out []Colour
	for i, p := range v.File.Pieces {
		s := spot{piece: p, base: v.File.Offset(i)}
		for _, at := range coloursIn(p) {
			if c, ok := colourIn(text(bare(at))); ok {
				out = append(out, Colour{s.file(bare(at)), c[0], c[1], c[2]})
			}
		}
	}
	return out
}

// coloursIn finds the values of attributes that hold a colour.
func coloursIn(p *source.Piece) []source.Span {
	var out []source.Span
	var walk func(n *schema.Node, outer []*schema.BlockType)
	walk = func(n *schema.Node, outer []*schema.BlockType) {
		types := append(outer[:len(outer):len(outer)], innerType(outer, n.Type, n.LabelTexts()...))
		if t := types[len(types)-1]; t != nil {
			for _, a := range n.Assigns {
				if attr, ok := t.Attr(a.Name); ok && attr.Kind == schema.Colour && a.Val.Kind == schema.TextVal {
					out = append(out, a.Val.At)
				}
			}
		}
		for _, c := range n.Blocks {
			walk(c, types)
		}
	}
	for _, n := range schema.NodesIn(p) {
		walk(n, nil)
	}
	return out
}

// ColourTexts lists the ways to write a colour in place of what stands at a range.
func ColourTexts(v *View, at Range, red, green, blue float64) []TextEdit {
	channel := func(x float64) int { return int(math.Round(255 * math.Min(1, math.Max(0, x)))) }
	r, g, b := channel(red), channel(green), channel(blue)
	loc := Location{v.File.Text.Path(), at.Start, at.End}
	out := []TextEdit{{loc, fmt.Sprintf("#%02x%02x%02x", r, g, b)}}
	if r%17 == 0 && g%17 == 0 && b%17 == 0 {
		out = append(out, TextEdit{loc, fmt.Sprintf("#%x%x%x", r/17, g/17, b/17)})
	}
	return out
}
