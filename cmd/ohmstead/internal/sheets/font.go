package sheets

import (
	"regexp"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/sfnt"

	"ohmstead/lint/drawing"
)

// missing stands where the font has no sign, which is the same in all its faces, for a character.
const missing = '\uFFFD'

var outlines = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(drawing.Regular.Data())
	if err != nil {
		panic(err) // it is compiled in
	}
	return f
})

// printable is a text in signs that the font has. What it lacks, and what would
// turn the direction of the text around, is shown as missing; a line break is a space.
func printable(s string) string {
	s = typeset(s)
	ok := true
	for _, r := range s {
		ok = ok && r >= ' ' && r <= '~'
	}
	if ok {
		return s
	}
	var buf sfnt.Buffer
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			if r == '\u00a0' {
				return r
			}
			return ' '
		}
		if r < ' ' || unicode.Is(unicode.Cf, r) {
			return missing
		}
		if g, err := outlines().GlyphIndex(&buf, r); err != nil || g == 0 {
			return missing
		}
		return r
	}, s)
}

// short cuts a text to n characters.
func short(s string, n int) string {
	for i := range s {
		if n--; n < 0 {
			return strings.TrimRight(s[:i], " ") + "…"
		}
	}
	return s
}

// typeset writes units behind numbers as print has them, where plans have letters that every keyboard has.
func typeset(s string) string {
	if !strings.ContainsAny(s, "0123456789") {
		return s
	}
	return units().ReplaceAllStringFunc(s, signs.Replace)
}

var (
	units = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\d (degC|degF|mm2|[mk]?ohm|uF|us)\b`) })
	signs = strings.NewReplacer("degC", "°C", "degF", "°F", "mm2", "mm²", "ohm", "Ω", "uF", "µF", "us", "µs")
)
