package sheets

import (
	"bytes"
	"cmp"
	"compress/zlib"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"ohmstead/lint/drawing"
)

// printed is what lies on the pages of a PDF, read from its bytes by rules of
// ISO 32000-1 alone: nothing of what wrote it is used.
type printed struct {
	width, height float64 // mm
	lines         []stroke
	clipped       []stroke // what was drawn in a clip
	clip          [4]float64
}

// stroke is a straight piece or a curve that is stroked, mm from the upper left corner.
type stroke struct {
	x1, y1, x2, y2 float64
	curve          []float64 // its control points
	width          float64
}

const point = 25.4 / 72 // mm

var (
	streams     = regexp.MustCompile(`(?s)<<([^>]*)>>\s*stream\n`)
	pageObjects = regexp.MustCompile(`(?s)/Type /Page\n.*?/Contents (\d+) 0 R>>`)
	boxes       = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
)

// readPDF reads the pages in their order.
func readPDF(t *testing.T, file []byte) []printed {
	t.Helper()
	var size []float64 // of all pages alike
	if m := boxes.FindSubmatch(file); m != nil {
		size = []float64{float(t, string(m[1])), float(t, string(m[2]))}
	}
	var out []printed
	for _, p := range pageObjects.FindAllSubmatch(file, -1) {
		own := size
		if m := boxes.FindSubmatch(p[0]); m != nil {
			own = []float64{float(t, string(m[1])), float(t, string(m[2]))}
		}
		content := object(t, file, string(p[1]))
		out = append(out, strokes(content, own))
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

func strokes(content []byte, size []float64) printed {
	out := printed{width: size[0] * point, height: size[1] * point}
	y := func(v float64) float64 { return (size[1] - v) * point }
	var stack []float64
	var path []stroke
	var cx, cy, width float64
	var rect [4]float64
	clipping := false
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
		case "re":
			if x, w, h := arg(-4)*point, arg(-2)*point, -arg(-1)*point; h > 0 {
				rect = [4]float64{x, y(arg(-3)), x + w, y(arg(-3)) + h}
			}
		case "W":
			clipping, out.clip = true, rect
		case "Q":
			clipping = false
		case "S", "s", "B", "b":
			out.lines = append(out.lines, path...)
			if clipping {
				out.clipped = append(out.clipped, path...)
			}
			path = nil
		case "f", "n":
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

var tileName = regexp.MustCompile(`(?:^| )([A-Z])([0-9]) `)

// cross is a registration mark: two lines of 8 mm that halve each other. It is the
// rightmost one, or the lowest, or else the one to the left and above.
func (p printed) cross(right, below bool) [2]float64 {
	var all [][2]float64
	for _, a := range p.lines {
		for _, b := range p.lines {
			across := math.Abs(a.x2-a.x1-8) < 0.02 && math.Abs(a.y1-a.y2) < 0.001
			upright := math.Abs(b.y2-b.y1-8) < 0.02 && math.Abs(b.x1-b.x2) < 0.001
			if across && upright && math.Abs((a.x1+a.x2)/2-b.x1) < 0.02 && math.Abs((b.y1+b.y2)/2-a.y1) < 0.02 {
				all = append(all, [2]float64{b.x1, a.y1})
			}
		}
	}
	slices.SortFunc(all, func(a, b [2]float64) int {
		sum := func(p [2]float64) float64 {
			switch {
			case right:
				return -p[0]*1000 + p[1]
			case below:
				return -p[1]*1000 + p[0]
			}
			return p[0] + p[1]
		}
		return cmp.Compare(sum(a), sum(b))
	})
	return all[0]
}

// thick samples the strong lines and curves within the clip.
func (p printed) thick() [][2]float64 {
	var out [][2]float64
	for _, s := range p.clipped {
		if s.curve == nil {
			continue
		}
		for i := 0.0; i <= 1; i += 0.002 {
			a, b, c, d := (1-i)*(1-i)*(1-i), 3*(1-i)*(1-i)*i, 3*(1-i)*i*i, i*i*i
			x, y := a*s.x1+b*s.curve[0]+c*s.curve[2]+d*s.x2, a*s.y1+b*s.curve[1]+c*s.curve[3]+d*s.y2
			if x >= p.clip[0] && x <= p.clip[2] && y >= p.clip[1] && y <= p.clip[3] {
				out = append(out, [2]float64{x, y})
			}
		}
	}
	return out
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

var (
	shown   = regexp.MustCompile(`(?s)\(((?:[^()\\]|\\.)*)\) ?Tj`)
	escapes = strings.NewReplacer(`\(`, "(", `\)`, ")", `\\`, `\`, `\r`, "\r")
)

// said is the text of a page: its strings are UTF-16BE, as the fonts' maps to Unicode say.
func said(t *testing.T, content []byte) string {
	t.Helper()
	var out []uint16
	for _, m := range shown.FindAllSubmatch(content, -1) {
		raw := escapes.Replace(string(m[1]))
		for i := 0; i+1 < len(raw); i += 2 {
			out = append(out, uint16(raw[i])<<8|uint16(raw[i+1]))
		}
		out = append(out, ' ')
	}
	return string(utf16.Decode(out))
}

func contents(t *testing.T, file []byte) [][]byte {
	t.Helper()
	var out [][]byte
	for _, p := range pageObjects.FindAllSubmatch(file, -1) {
		out = append(out, object(t, file, string(p[1])))
	}
	return out
}

// Every page says what it is in text that can be searched, in fonts that are in
// the file, and the file asks to be printed as large as it is. Made twice, it is
// the same to the byte.
func TestPDF(t *testing.T) {
	make := func() []byte {
		d := made(t, demo(t, "bookcase"), func(j *Job) { j.Stamp = Stamp{By: "A. Weaver", Revision: "C", Date: "2026-05-01"} })
		file, err := d.PDF(t.Context(), papers[0], 10)
		if err != nil {
			t.Fatal(err)
		}
		return file
	}
	font := bytes.Clone(drawing.Regular.Data())
	file := make()
	if !bytes.Equal(font, drawing.Regular.Data()) {
		t.Error("the font is no longer what it was")
	}
	if !bytes.Equal(file, make()) {
		t.Error("made twice it differs")
	}
	pages := contents(t, file)
	if len(pages) < 8 {
		t.Fatalf("%d pages", len(pages))
	}
	for i, c := range pages {
		text := said(t, c)
		for _, want := range []string{"2026-05-01", strconv.Itoa(i+1) + " of " + strconv.Itoa(len(pages))} {
			if !strings.Contains(text, want) {
				t.Errorf("page %d does not say %q: %s", i+1, want, text)
			}
		}
	}
	if d, f := bytes.Count(file, []byte("/Type /FontDescriptor")), bytes.Count(file, []byte("/FontFile2 ")); d == 0 || d != f {
		t.Errorf("%d fonts, %d of them embedded", d, f)
	}
	if n := bytes.Count(file, []byte("/ToUnicode ")); n == 0 {
		t.Error("no font says which characters it has")
	}
	if !bytes.Contains(file, []byte("/Type /Catalog\n/ViewerPreferences << /PrintScaling /None")) {
		t.Error("viewers may scale it")
	}
	at := regexp.MustCompile(`startxref\n(\d+)\n`).FindSubmatch(file)
	if n, err := strconv.Atoi(string(at[1])); err != nil || !bytes.HasPrefix(file[n:], []byte("xref\n")) {
		t.Errorf("the table of objects is not at %s, %v", at[1], err)
	}
}
