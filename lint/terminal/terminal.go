// Package terminal fits texts of plans into the columns of a terminal, where nothing
// of them may steer it.
package terminal

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Steers reports whether a sign does something where it is read instead of
// being seen: control characters, what turns the direction of writing or has no
// width (general category Cf of the Unicode Standard, but for the marks of
// Arabic and Syriac script and the soft hyphen), line separators, and bytes that
// are no text.
func Steers(r rune) bool {
	if ' ' <= r && r <= '~' {
		return false
	}
	return unicode.IsControl(r) || r == utf8.RuneError || r == 0x2028 || r == 0x2029 ||
		unicode.Is(unicode.Cf, r) && (r == 0x61c || r == 0x180e || r >= 0x2000)
}

// Printable is a text in one line as a terminal may be sent it: what would steer
// it is replaced, line breaks and tabs by a blank.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case Steers(r):
			return utf8.RuneError
		}
		return r
	}, s)
}

// Width is how many columns a text takes: marks on letters none, wide letters
// (Unicode Standard Annex 11, the main blocks) two.
func Width(s string) int {
	n := 0
	for _, r := range s {
		n += columns(r)
	}
	return n
}

func columns(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case r >= 0x1100 && r <= 0x115f, r >= 0x2e80 && r <= 0xa4cf, r >= 0xac00 && r <= 0xd7a3, r >= 0xf900 && r <= 0xfaff,
		r >= 0xfe30 && r <= 0xfe6f, r >= 0xff00 && r <= 0xff60, r >= 0xffe0 && r <= 0xffe6, r >= 0x1f300 && r <= 0x1f64f,
		r >= 0x1f900 && r <= 0x1f9ff, r >= 0x20000 && r <= 0x3fffd:
		return 2
	}
	return 1
}

// Cut drops the first n columns.
func Cut(s string, n int) string { return s[split(s, n):] }

// Keep keeps them.
func Keep(s string, n int) string { return s[:split(s, n)] }

func split(s string, n int) int {
	for i, r := range s {
		if n <= 0 {
			return i
		}
		n -= columns(r)
	}
	return len(s)
}
