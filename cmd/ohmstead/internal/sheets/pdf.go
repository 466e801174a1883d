package sheets

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"ohmstead/lint/drawing"
)

// PDF writes the sheets for a printer: pages of exactly the paper's size, what
// is said in them as text, with its type, and the wish that a viewer prints
// them without scaling. Equal documents give equal bytes.
func (d *Document) PDF(ctx context.Context, paper Paper, margin float64) ([]byte, error) {
	p := &pdf{Fpdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})}
	p.SetCatalogSort(true)
	p.SetCreationDate(noTime)
	p.SetModificationDate(noTime)
	p.SetAutoPageBreak(false, 0)
	p.SetMargins(0, 0, 0)
	p.SetCellMargin(0)
	p.SetLineCapStyle("round")
	p.SetLineJoinStyle("round")
	p.SetLang("en")
	p.SetDisplayMode("fullpage", "SinglePage")
	p.SetTitle(printable(short(d.Title, 200)), true)
	p.SetAuthor(printable(short(d.Stamp.By, 200)), true)
	p.SetCreator("Ohmstead", false)
	p.SetProducer("Ohmstead", false)
	for face, style := range styles {
		p.AddUTF8FontFromBytes(drawing.Family, style, bytes.Clone(drawing.Face(face).Data())) // the library writes into it
	}
	var sheet *Sheet
	for _, l := range layOut(d, page{paper, margin}) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p.AddPageFormat("P", fpdf.SizeType{Wd: l.Width, Ht: l.Height})
		if l.sheet != sheet {
			sheet = l.sheet
			p.Bookmark(sheet.Title, 0, 0)
		}
		for _, in := range l.put {
			p.scene(in)
		}
		p.marks(l.marks, 0, 0)
	}
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		return nil, err
	}
	return unscaled(b.Bytes())
}

// noTime stands for the moment at which a document was made, which is not looked at.
var noTime = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// styles are the faces' names in the library.
var styles = [...]string{drawing.Regular: "", drawing.Bold: "B", drawing.Mono: "I"}

var (
	catalogue = []byte("/Type /Catalog\n")
	startxref = []byte("\nstartxref\n")
)

// unscaled asks viewers to print at real size (ISO 32000-1, table 150), which the library
// cannot. The catalogue is the last object, so that only the table of objects moves.
func unscaled(file []byte) ([]byte, error) {
	at, end := bytes.LastIndex(file, catalogue), bytes.LastIndex(file, startxref)
	if at < 0 || end < at || bytes.Contains(file[at:end], []byte(" 0 obj\n")) {
		return nil, errors.New("the PDF's last object is not its catalogue")
	}
	number, tail, _ := bytes.Cut(file[end+len(startxref):], []byte("\n"))
	const version = "%PDF-1.6" // the first that knows the wish; the library writes an older one
	const wish = "/ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >>\n"
	table, err := strconv.Atoi(string(number))
	if err != nil {
		return nil, err
	}
	at += len(catalogue)
	var out bytes.Buffer
	out.WriteString(version)
	out.Write(file[len(version):at])
	out.WriteString(wish)
	out.Write(file[at : end+len(startxref)])
	fmt.Fprintf(&out, "%d\n", table+len(wish))
	out.Write(tail)
	return out.Bytes(), nil
}

// pdf draws scenes.
type pdf struct {
	*fpdf.Fpdf
	dx, dy float64
}

func (p *pdf) scene(in inset) {
	for _, l := range in.scene.Layers {
		if c := l.Clip; c != nil {
			p.ClipRect(in.x+c.X, in.y+c.Y, c.W, c.H, false)
		}
		p.marks(l.Marks, in.x, in.y)
		if l.Clip != nil {
			p.ClipEnd()
		}
	}
}

func (p *pdf) marks(marks []drawing.Mark, dx, dy float64) {
	p.dx, p.dy = dx, dy
	for _, m := range marks {
		p.mark(m)
	}
}

func (p *pdf) mark(m drawing.Mark) {
	at := func(q drawing.Pt) (x, y float64) { return q.X + p.dx, q.Y + p.dy }
	switch m := m.(type) {
	case *drawing.Path:
		style := p.style(m.Style)
		if style == "" {
			return
		}
		p.MoveTo(at(m.From))
		for _, s := range m.Steps {
			x, y := at(s.To)
			if s.Curved {
				x1, y1 := at(s.C1)
				x2, y2 := at(s.C2)
				p.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
			} else {
				p.LineTo(x, y)
			}
		}
		if m.Closed {
			p.ClosePath()
		}
		p.DrawPath(style)
	case *drawing.Circle:
		if style := p.style(m.Style); style != "" {
			x, y := at(m.At)
			p.Circle(x, y, m.R, style)
		}
	case *drawing.Rect:
		style := p.style(m.Style)
		x, y := at(drawing.Pt{X: m.X, Y: m.Y})
		switch {
		case style == "":
		case m.Round > 0:
			p.RoundedRect(x, y, m.W, m.H, m.Round, "1234", style)
		default:
			p.Rect(x, y, m.W, m.H, style)
		}
	case *drawing.Text:
		p.text(m)
	case *drawing.Group:
		for _, x := range m.Marks {
			p.mark(x)
		}
	}
}

// style sets pens and brushes; "" draws nothing.
func (p *pdf) style(s drawing.Style) string {
	out := ""
	if s.Fill != drawing.None {
		p.SetFillColor(rgb(s.Fill))
		out += "F"
	}
	if s.Stroke != drawing.None && s.Width > 0 {
		p.SetDrawColor(rgb(s.Stroke))
		p.SetLineWidth(s.Width)
		p.SetDashPattern(s.Dash, 0)
		out += "D"
	}
	return out
}

func rgb(i drawing.Ink) (r, g, b int) {
	x, y, z := i.RGB()
	return int(x), int(y), int(z)
}

func (p *pdf) text(t *drawing.Text) {
	s := printable(t.S)
	if s == "" || t.Ink == drawing.None {
		return
	}
	x, y := t.At.X+p.dx, t.At.Y+p.dy
	p.SetFont(drawing.Family, styles[t.Face], 0)
	p.SetFontUnitSize(t.Size)
	p.SetTextColor(rgb(t.Ink))
	if t.Turn != 0 {
		p.TransformBegin()
		p.TransformRotate(-t.Turn, x, y)
		defer p.TransformEnd()
	}
	p.Text(x-drawing.TextWidth(t.Face, t.Size, s)*float64(t.Anchor)/2, y, s)
}
