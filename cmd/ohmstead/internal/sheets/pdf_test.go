package sheets

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// paperOf is what lies on the pages of a PDF, read from its bytes by rules of
// ISO 32000-1 alone: nothing of what wrote it is used.
type printed struct {
	width, height float64 // mm
	lines         []stroke
}

// stroke is a straight piece or a curve that is stroked, mm from the upper left corner.
type stroke struct {
	x1, y1, x2, y2 float64
	curve          []float64 // its control points
	width          float64
}

const point = 25.4 / 72 // mm

var (
	streams = regexp.MustCompile(`(?s)<<([^>]*)>>\s*stream\n`)
	boxes   = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
)

// readPDF reads the pages in their order.
func readPDF(t *testing.T, file []byte) []printed {
	t.Helper()
	var size []float64 // of all pages alike
	if m := boxes.FindSubmatch(file); m != nil {
		size = []float64{float(t, string(m[1])), float(t, string(m[2]))}
	}
	var out []printed
	pages := regexp.MustCompile(`(?s)/Type /Page\n.*?/Contents (\d+) 0 R>>`).FindAllSubmatch(file, -1)
	for _, p := range pages {
		own := size
		if m := boxes.FindSubmatch(p[0]); m != nil {
			own = []float64{float(t, string(m[1])), float(t, string(m[2]))}
		}
		content := object(t, file, string(p[1]))
		out = append(out, page1(t, content, own))
	}
	return out
}

// object is an object's stream, unpacked.
func object(t *testing.T, file []byte, number string) []byte {
	t.Helper()
	i := bytes.Index(file, []byte("\n"+number+" 0 obj\n"))
	if i < 0 {
		t.Fatalf("no object %s", number)
	}
	m := streams.FindIndex(file[i:])
	z, err := zlib.NewReader(bytes.NewReader(file[i+m[1]:]))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func page1(t *testing.T, content []byte, size []float64) printed {
	out := printed{width: size[0] * point, height: size[1] * point}
	y := func(v float64) float64 { return (size[1] - v) * point }
	var stack []float64
	var path []stroke
	var cx, cy, width float64
	for _, token := range strings.Fields(string(content)) {
		if v, err := strconv.ParseFloat(token, 64); err == nil {
			stack = append(stack, v)
			continue
		}
		arg := func(i int) float64 { return stack[len(stack)+i] }
		switch token {
		case "w":
			width = arg(-1) * point
		case "m":
			cx, cy = arg(-2), arg(-1)
		case "l":
			path = append(path, stroke{x1: cx * point, y1: y(cy), x2: arg(-2) * point, y2: y(arg(-1)), width: width})
			cx, cy = arg(-2), arg(-1)
		case "c":
			path = append(path, stroke{x1: cx * point, y1: y(cy), x2: arg(-2) * point, y2: y(arg(-1)), width: width,
				curve: []float64{arg(-6) * point, y(arg(-5)), arg(-4) * point, y(arg(-3))}})
			cx, cy = arg(-2), arg(-1)
		case "S", "s", "B", "b":
			out.lines = append(out.lines, path...)
			path = nil
		case "f", "n", "W":
			path = nil
		}
		stack = stack[:0]
	}
	return out
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// bars counts lines of 100 mm, by direction.
func (p printed) bars() (across, upright int) {
	for _, l := range p.lines {
		dx, dy := math.Abs(l.x2-l.x1), math.Abs(l.y2-l.y1)
		if math.Abs(dx-100) <= 0.1 && dy <= 0.01 {
			across++
		}
		if math.Abs(dy-100) <= 0.1 && dx <= 0.01 {
			upright++
		}
	}
	return across, upright
}
