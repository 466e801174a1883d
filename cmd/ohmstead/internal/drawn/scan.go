package drawn

import (
	"math"
	"strconv"
	"strings"
)

// scanner reads the small languages of SVG's attributes.
type scanner struct {
	text string
	at   int
}

// gap goes on behind blanks and commas.
func (s *scanner) gap() {
	for s.at < len(s.text) && strings.IndexByte(" \t\r\n\f,", s.text[s.at]) >= 0 {
		s.at++
	}
}

func (s *scanner) done() bool { s.gap(); return s.at == len(s.text) }

func (s *scanner) digits() bool {
	from := s.at
	for s.at < len(s.text) && '0' <= s.text[s.at] && s.text[s.at] <= '9' {
		s.at++
	}
	return s.at > from
}

func (s *scanner) one(of string) bool {
	if s.at < len(s.text) && strings.IndexByte(of, s.text[s.at]) >= 0 {
		s.at++
		return true
	}
	return false
}

// number reads one number. It ends where it can, so that "1.5.5-3" are three.
func (s *scanner) number() (float64, bool) {
	s.gap()
	from := s.at
	s.one("+-")
	whole := s.digits()
	if dot := s.at; s.one(".") && !s.digits() && !whole {
		s.at = dot
	}
	if s.at == from || !strings.ContainsAny(s.text[from:s.at], "0123456789") {
		s.at = from
		return 0, false
	}
	end := s.at
	if s.one("eE") {
		s.one("+-")
		if !s.digits() {
			s.at = end // the unit em
		}
	}
	x, err := strconv.ParseFloat(s.text[from:s.at], 64)
	if err != nil {
		s.at = from
		return 0, false
	}
	return x, true
}

// numbers reads as many numbers as there is room for.
func (s *scanner) numbers(into []float64) (ok bool) {
	for i := range into {
		if into[i], ok = s.number(); !ok {
			return false
		}
	}
	return true
}

// flag reads one digit; what follows need not be apart from it.
func (s *scanner) flag() (set, ok bool) {
	s.gap()
	if !s.one("01") {
		return false, false
	}
	return s.text[s.at-1] == '1', true
}

// word reads letters, and a percent sign.
func (s *scanner) word() string {
	from := s.at
	for s.at < len(s.text) {
		c := s.text[s.at] | 0x20
		if !('a' <= c && c <= 'z') && s.text[s.at] != '%' {
			break
		}
		s.at++
	}
	return s.text[from:s.at]
}

// Lengths of CSS: 96 px are an inch. Source: W3C, CSS Values and Units 3, 6.2.
const inch = 0.0254 // m

var pixels = map[string]float64{"": 1, "px": 1, "in": 96, "cm": 96 / 2.54, "mm": 96 / 25.4, "q": 96 / 101.6, "pt": 96.0 / 72, "pc": 16}

// length reads a length with its unit, in px; a share of whole with "%". unit
// is in lower case.
func length(text string, whole float64) (px float64, unit string, ok bool) {
	s := scanner{text: text}
	x, ok := s.number()
	if !ok {
		return 0, "", false
	}
	unit = strings.ToLower(s.word())
	if !s.done() {
		return 0, "", false
	}
	if unit == "%" {
		return x / 100 * whole, unit, true
	}
	k, known := pixels[unit]
	return x * k, unit, known
}

var radians = map[string]float64{"": math.Pi / 180, "deg": math.Pi / 180, "rad": 1, "grad": math.Pi / 200, "turn": 2 * math.Pi}
