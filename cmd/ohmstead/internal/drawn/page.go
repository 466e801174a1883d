package drawn

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// unit is one that the plan's lengths are written in.
type unit struct {
	symbol string
	size   float64 // m
	digits int     // behind the point, so that the last is at most 0.01 mm
}

var units = map[string]unit{
	"mm": {"mm", 1e-3, 2}, "cm": {"cm", 1e-2, 3}, "m": {"m", 1, 5},
	"in": {"in", inch, 4}, "ft": {"ft", 12 * inch, 5},
}

// step is the least difference that is written, m.
func (u unit) step() float64 { return u.size / math.Pow(10, float64(u.digits)) }

// snap is a point at a multiple of the unit's last digit.
func (u unit) snap(z complex128) complex128 {
	return complex(u.round(real(z)), u.round(imag(z)))
}

// round keeps what is written and read again the same.
func (u unit) round(x float64) float64 {
	k := math.Pow(10, float64(u.digits))
	return math.Round(x/u.size*k) / k * u.size
}

// number writes a length without its unit.
func (u unit) number(x float64) string {
	k := math.Pow(10, float64(u.digits))
	return strconv.FormatFloat(math.Round(x/u.size*k)/k+0, 'f', -1, 64)
}

// extent is an upright rectangle from lo to hi; the zero extent is empty.
type extent struct{ lo, hi complex128 }

func (e extent) empty() bool { return e == extent{} }

// scales are the forms that a scale has.
var scales = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:1:([0-9.]+)|([0-9.]+)\s*dpi|([0-9.]+)\s*(mm|cm|m|in|ft))$`)
})

// sized is a scale as it was given: one of three.
type sized struct{ ratio, dpi, length float64 }

func parseScale(text string) (s sized, symbol string, ok bool) {
	m := scales().FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return s, "", false
	}
	x, err := strconv.ParseFloat(m[1]+m[2]+m[3], 64)
	if err != nil || !(x >= 1e-6 && x <= 1e6) {
		return s, "", false
	}
	switch {
	case m[1] != "":
		s.ratio = x
	case m[2] != "":
		s.dpi = x
	default:
		s.length, symbol = x*units[m[4]].size, m[4]
	}
	return s, symbol, true
}

// page works out how large the drawing is.
func (w *walker) page(root *node, scale string) (state, *Error) {
	value := func(property string) string { return w.sheet.value(root, property) }
	view, hasView := viewBox(root.attrs["viewBox"])
	if root.attrs["viewBox"] != "" && !hasView {
		return state{}, refuse(root.line, "its viewBox %q is none: left, top, width and height, the last two more than 0", short(root.attrs["viewBox"]))
	}
	width, inW, okW := length(value("width"), 0)
	height, inH, okH := length(value("height"), 0)
	isReal := func(unit string) bool { return unit != "" && unit != "px" && unit != "%" }
	real := okW && isReal(inW) || okH && isReal(inH)
	okW, okH = okW && inW != "%" && width > 0, okH && inH != "%" && height > 0
	said := strings.TrimSpace(value("width") + " " + value("height"))
	var s sized
	w.unit = units["mm"]
	if u, ok := units[inW]; ok {
		w.unit = u
	}
	if scale != "" {
		given, symbol, ok := parseScale(scale)
		switch {
		case !ok:
			return state{}, refuse(0, "the scale %q is none; it is the length of one unit as in \"1 mm\", pixels to an inch as in \"96 dpi\", or a ratio as in \"1:20\"", short(scale))
		case given.ratio > 0 && !real:
			return state{}, refuse(root.line, "its width and height (%q) are no real lengths, so a scale of %s says nothing; say how long one unit is, as in --scale \"1 mm\", or how many are an inch, as in --scale \"96 dpi\"", said, scale)
		}
		if symbol != "" {
			w.unit = units[symbol]
		}
		s = given
	} else if !real {
		if said == "" {
			said = "not given"
		} else {
			said = strconv.Quote(said)
		}
		return state{}, refuse(root.line, "its width and height (%s) are no real lengths; say how long one unit is, as in --scale \"1 mm\", or how many are an inch, as in --scale \"96 dpi\"", said)
	}
	px := s.length // m
	switch {
	case s.length > 0: // then the viewBox alone counts
		switch {
		case hasView:
			width, height = view.w, view.h
		case !okW || !okH:
			width, height = 0, 0
		}
	default:
		px = inch / 96
		if s.dpi > 0 {
			px = inch / s.dpi
		}
		if s.ratio > 0 {
			px *= s.ratio
		}
		switch {
		case !okW && !okH && hasView:
			width, height = view.w, view.h
		case !okW && hasView:
			width = height * view.w / view.h
		case !okH && hasView:
			height = width * view.h / view.w
		case !okW || !okH:
			width, height = 0, 0
		}
	}
	to := matrix(px, 0, 0, -px, 0, height*px)
	if width > 0 {
		w.paper = extent{hi: complex(width*px, height*px)}
	}
	if hasView {
		to = to.times(fit(view, width, height, root.attrs["preserveAspectRatio"]))
		width, height = view.w, view.h
	}
	return state{to: to, w: width, h: height}, nil
}
