package sheets

import (
	"cmp"
	"fmt"
	"strings"

	"ohmstead/lint/drawing"
)

// Sizes of type and space, mm. Capitals are 2 mm high at the least.
const (
	small   = 2.8
	body    = 3.3
	medium  = 4.2
	large   = 6.4
	leading = 1.36 // of the size, from line to line
	gap     = 2.6  // between blocks
	hair    = 0.13 // lines
	fine    = 0.25
	strong  = 0.5
)

// leaf is a page as it is laid out: its own marks, and pictures put on it.
type leaf struct {
	page
	sheet *Sheet
	scale string
	alarm string // what stands above the title block, if anything
	marks []drawing.Mark
	put   []inset
	pad   float64 // between the margin and what stands on it, mm
	bare  bool    // it is drawn edge to edge: no title block
}

type inset struct {
	scene *drawing.Scene
	x, y  float64
}

// layout sets the sheets of a document on pages.
type layout struct {
	doc   *Document
	paper page
	leafs []*leaf

	pages map[string][]*drawing.Text // where the page of a sheet has to be told
	leaf  *leaf
	y     float64 // where the next block begins
	top   float64 // where the page's first block begins
	fresh bool    // nothing stands on the page yet
}

func layOut(doc *Document, paper page) []*leaf {
	l := &layout{doc: doc, paper: paper, pages: map[string][]*drawing.Text{}}
	for _, s := range doc.Sheets {
		l.sheet(s)
	}
	for i, p := range l.leafs {
		for _, t := range l.pages[p.sheet.Name] {
			t.S = fmt.Sprint(i + 1)
		}
		delete(l.pages, p.sheet.Name) // its first page is told
		p.stamp(doc, i+1, len(l.leafs))
	}
	return l.leafs
}

// begin starts a page of a sheet.
func (l *layout) begin(s *Sheet, wide bool) {
	p := l.paper
	if wide {
		p = p.turned()
	}
	l.leaf = &leaf{page: p, sheet: s, alarm: l.doc.Alarm}
	l.leafs = append(l.leafs, l.leaf)
	l.y, l.top, l.fresh = p.margin, p.margin, true
	if s.Framed {
		l.mark(&drawing.Rect{Style: drawing.Style{Stroke: drawing.Line, Width: hair}, Box: drawing.Box{X: p.margin, Y: p.margin, W: p.Width - 2*p.margin, H: p.Height - 2*p.margin}})
		l.leaf.pad = 4
		l.y += l.leaf.pad
	}
}

// bottom is where the title block begins.
func (p *leaf) bottom() float64 {
	if p.alarm != "" {
		return p.Height - p.margin - stampHeight - alarmHeight - gap
	}
	return p.Height - p.margin - stampHeight - gap
}
func (p *leaf) left() float64  { return p.margin + p.pad }
func (p *leaf) right() float64 { return p.Width - p.margin - p.pad }
func (p *leaf) width() float64 { return p.right() - p.left() }

func (l *layout) sheet(s *Sheet) {
	for i, b := range s.Blocks {
		if t, ok := b.(Tile); ok {
			l.leafs = append(l.leafs, &leaf{page: page{Paper: Paper{Width: t.Scene.Width, Height: t.Scene.Height}, margin: l.paper.margin}, sheet: s, bare: true, put: []inset{{t.Scene, 0, 0}}})
			l.leaf = nil
			continue
		}
		switch b.(type) {
		case Data, Attached:
			continue
		}
		wide := s.Wide
		p, filling := b.(Picture)
		if filling = filling && p.Fill; filling {
			wide = p.Scene.Width > p.Scene.Height
		}
		if l.leaf == nil || l.leaf.sheet != s || (l.leaf.Width > l.leaf.Height) != wide || filling && !l.fresh && !l.joins(p) {
			first := i == 0
			l.begin(s, wide)
			if first && !filling {
				l.head(cmp.Or(s.Head, s.Title))
			}
		}
		l.block(b, l.follows(s.Blocks[i+1:]))
		l.fresh = false
	}
}

// joins tells that a picture has room on the page of another one of its scale.
func (l *layout) joins(p Picture) bool {
	return l.leaf.scale == p.Scale && l.y+2*gap+p.Scene.Height <= l.leaf.bottom()
}

// follows is the room that has to be left for what comes after a heading.
func (l *layout) follows(rest []Block) float64 {
	if len(rest) == 0 {
		return 0
	}
	switch b := rest[0].(type) {
	case Picture:
		return b.Scene.Height
	case Heading:
		return 10 + l.follows(rest[1:])
	case Table:
		return 24
	case Blanks:
		return b.height() + gap
	case Caution:
		return l.cautionHeight(string(b), l.leaf.width()) + gap + l.follows(rest[1:])
	case Step:
		_, _, _, h := l.stepLines(b)
		return h
	}
	return 14
}

func (l *layout) block(b Block, follows float64) {
	switch b := b.(type) {
	case Heading:
		l.room(medium*leading + 2*gap + follows)
		if !l.fresh && l.y > l.top {
			l.y += gap
		}
		l.line(string(b), l.leaf.left(), medium, drawing.Bold, drawing.Line)
		l.y += gap / 2
	case Text:
		l.paragraph(string(b), l.leaf.left(), l.leaf.width(), body, drawing.Regular)
		l.y += gap
	case Contents:
		l.contents(b)
	case Caution:
		l.caution(string(b), l.leaf.left(), l.leaf.width())
		l.y += gap
	case Step:
		l.step(b)
	case Facts:
		l.facts(b)
	case Blanks:
		l.blanks(b)
	case Table:
		l.table(b, follows)
	case Picture:
		l.picture(b)
	}
}

// room goes on to a new page where h mm are no longer free.
func (l *layout) room(h float64) {
	if l.y+h > l.leaf.bottom() && l.y > l.top+1 {
		l.turn()
	}
}

// turn goes on to a new page of the same sheet, which says so.
func (l *layout) turn() {
	l.begin(l.leaf.sheet, l.leaf.Width > l.leaf.Height)
	l.line(say("sheet.continued", "sheet", l.leaf.sheet.Title), l.leaf.left(), body, drawing.Bold, drawing.Soft)
	l.y += gap
	l.top = l.y
}

func (l *layout) mark(m ...drawing.Mark) { l.leaf.marks = append(l.leaf.marks, m...) }

// head is the title of a sheet.
func (l *layout) head(title string) {
	l.line(title, l.leaf.left(), large, drawing.Bold, drawing.Line)
	l.y += gap / 2
	l.mark(rule(l.leaf.left(), l.y, l.leaf.right(), l.y, strong, drawing.Line))
	l.y += gap
}

// line sets one line of text and goes below it.
func (l *layout) line(s string, x, size float64, face drawing.Face, ink drawing.Ink) {
	l.y += size * leading
	l.mark(text(s, x, l.y-size*(leading-1), size, face, ink))
}

// paragraph sets a text in lines of a width.
func (l *layout) paragraph(s string, x, w, size float64, face drawing.Face) {
	for _, line := range wrap(s, w, size, face, 60) {
		l.room(size * leading)
		l.line(line, x, size, face, drawing.Line)
	}
}

// caution is a sentence behind a sign, between two strong lines at its side:
// no colour is needed to see it.
func (l *layout) caution(s string, x, w float64) {
	lines := cautionLines(s, w)
	h := l.cautionHeight(s, w)
	l.room(h)
	l.mark(
		&drawing.Rect{Style: drawing.Style{Fill: drawing.Shade}, Box: drawing.Box{X: x, Y: l.y, W: w, H: h}},
		&drawing.Rect{Style: drawing.Style{Fill: drawing.Line}, Box: drawing.Box{X: x, Y: l.y, W: 1, H: h}},
	)
	l.mark(warning(x+2.2, l.y+1, 6)...)
	y := l.y
	l.y += 1.2
	if free := h - float64(len(lines))*body*leading - 2*1.2; free > 0 {
		l.y += free / 2
	}
	for _, line := range lines {
		l.line(line, x+cautionSign+1, body, drawing.Regular, drawing.Line)
	}
	l.y = y + h
}

// cautionSign is the room of the sign, mm.
const cautionSign = 9

func cautionLines(s string, w float64) []string {
	return wrap(s, w-cautionSign-4, body, drawing.Regular, 30)
}

func (l *layout) cautionHeight(s string, w float64) float64 {
	return max(float64(len(cautionLines(s, w)))*body*leading+2*1.2, 8)
}

// warning is a triangle with an exclamation mark, after the general warning
// sign of ISO 7010 (W001), in our own drawing.
func warning(x, y, h float64) []drawing.Mark {
	w := h * 1.12
	return []drawing.Mark{
		&drawing.Path{
			Style: drawing.Style{Stroke: drawing.Line, Width: 0.5, Fill: drawing.Paper}, Closed: true,
			From: drawing.Pt{X: x + w/2, Y: y + 0.3}, Steps: []drawing.Step{{To: drawing.Pt{X: x + w, Y: y + h}}, {To: drawing.Pt{X: x, Y: y + h}}},
		},
		rule(x+w/2, y+h*0.38, x+w/2, y+h*0.68, 0.7, drawing.Line),
		&drawing.Circle{Style: drawing.Style{Fill: drawing.Line}, At: drawing.Pt{X: x + w/2, Y: y + h*0.85}, R: 0.45},
	}
}

// The room of a step's number and of its box, mm.
const stepIn, stepTick = 9.0, 4.0

// stepLines are the lines of a step, their width and the height of all of it.
func (l *layout) stepLines(s Step) (head, text []string, w, h float64) {
	w = l.leaf.width() - stepIn - stepTick - 4
	head, text = wrap(s.Head, w, body, drawing.Bold, 8), wrap(s.Text, w, body, drawing.Regular, 30)
	h = float64(len(head)+len(text))*body*leading + gap
	for _, c := range s.Cautions {
		h += 1 + l.cautionHeight(c, w)
	}
	return head, text, w, h
}

// step is a number, a box to tick and what to do.
func (l *layout) step(s Step) {
	head, text, w, h := l.stepLines(s)
	l.room(h)
	x := l.leaf.left() + stepIn
	l.mark(
		textAt(fmt.Sprintf("%d", s.Number), x-3, l.y+body, body, drawing.Bold, drawing.Line, drawing.End),
		&drawing.Rect{Style: drawing.Style{Stroke: drawing.Line, Width: fine}, Box: drawing.Box{X: l.leaf.right() - stepTick, Y: l.y + 0.6, W: stepTick, H: stepTick}},
	)
	for _, line := range head {
		l.line(line, x, body, drawing.Bold, drawing.Line)
	}
	for _, line := range text {
		l.line(line, x, body, drawing.Regular, drawing.Line)
	}
	for _, c := range s.Cautions {
		l.y += 1
		l.caution(c, x, w)
	}
	l.y += gap
}

func (l *layout) facts(facts Facts) {
	x, bottom := l.leaf.left(), l.y
	size, apart := body, 0.8
	if facts.Fine {
		size, apart = small, 0.4
	}
	if s := facts.Scene; s != nil {
		l.room(s.Height)
		l.leaf.put = append(l.leaf.put, inset{s, x, l.y + 1})
		x, bottom = x+s.Width+7, l.y+1+s.Height
	}
	names := 0.0
	for _, f := range facts.Lines {
		names = max(names, drawing.TextWidth(drawing.Regular, size, printable(f.Name)))
	}
	names = min(names+5, l.leaf.width()*0.4)
	for _, f := range facts.Lines {
		value, name := wrap(f.Value, l.leaf.right()-x-names, size, drawing.Regular, 12), wrap(f.Name, names-3, size, drawing.Regular, 4)
		l.room(float64(max(len(value), len(name))) * size * leading)
		y := l.y
		for _, line := range name {
			l.line(line, x, size, drawing.Regular, drawing.Soft)
		}
		below := l.y
		l.y = y
		for _, line := range value {
			l.line(line, x+names, size, drawing.Regular, drawing.Line)
		}
		l.y = max(l.y, below) + apart
	}
	l.y = max(l.y, bottom) + gap
}

func (l *layout) contents(c Contents) {
	const page, titles, size = 9, 38, small
	for _, e := range c {
		lines := wrap(e.For, l.leaf.width()-page-titles, size, drawing.Regular, 4)
		l.room(float64(len(lines)) * size * leading)
		number := &drawing.Text{Ink: drawing.Line, At: drawing.Pt{X: l.leaf.left() + page - 4, Y: l.y + size}, Anchor: drawing.End, Size: size}
		l.pages[e.Name] = append(l.pages[e.Name], number)
		l.mark(number, text(e.Title, l.leaf.left()+page, l.y+size, size, drawing.Bold, drawing.Line))
		for _, line := range lines {
			l.line(line, l.leaf.left()+page+titles, size, drawing.Regular, drawing.Line)
		}
		l.y += 0.4
	}
	l.y += gap
}

// blankLine is the height of a line to write on, mm; two of them stand side by side.
const blankLine = 9

func (b Blanks) height() float64 { return blankLine * float64((len(b)+1)/2) }

func (l *layout) blanks(names Blanks) {
	l.room(names.height())
	half := (l.leaf.width() - 6) / 2
	for i, n := range names {
		x := l.leaf.left() + float64(i%2)*(half+6)
		if i%2 == 0 {
			l.y += blankLine
		}
		w := drawing.TextWidth(drawing.Regular, body, printable(n)) + 2
		l.mark(text(n, x, l.y-1, body, drawing.Regular, drawing.Line), rule(x+min(w, half/2), l.y, x+half, l.y, hair, drawing.Line))
	}
	l.y += gap
}

func (l *layout) picture(p Picture) {
	l.room(p.Scene.Height)
	if p.Fill && !l.fresh {
		l.y += 2 * gap
	}
	l.leaf.scale = p.Scale
	l.leaf.put = append(l.leaf.put, inset{p.Scene, l.leaf.left(), l.y})
	l.y += p.Scene.Height + gap
}

// rule is a straight line.
func rule(x1, y1, x2, y2, width float64, ink drawing.Ink) drawing.Mark {
	return &drawing.Path{Style: drawing.Style{Stroke: ink, Width: width}, From: drawing.Pt{X: x1, Y: y1}, Steps: []drawing.Step{{To: drawing.Pt{X: x2, Y: y2}}}}
}

func text(s string, x, y, size float64, face drawing.Face, ink drawing.Ink) drawing.Mark {
	return textAt(s, x, y, size, face, ink, drawing.Start)
}

func textAt(s string, x, y, size float64, face drawing.Face, ink drawing.Ink, anchor drawing.Anchor) drawing.Mark {
	return &drawing.Text{Ink: ink, At: drawing.Pt{X: x, Y: y}, Anchor: anchor, Size: size, Face: face, S: printable(s)}
}

// wrap breaks a text into lines of a width, most of them at the most. A word
// that is longer than a line is broken where it must be.
func wrap(s string, w, size float64, face drawing.Face, most int) []string {
	s = printable(s)
	var lines []string
	line := ""
	fits := func(t string) bool { return drawing.TextWidth(face, size, t) <= w }
	end := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
	}
	for _, word := range strings.Fields(s) {
		for len(lines) < most {
			whole := word
			if line != "" {
				whole = line + " " + word
			}
			if fits(whole) {
				line, word = whole, ""
				break
			}
			if line != "" && fits(word) {
				end()
				continue
			}
			// Longer than a line: break it after a sign that joins words, else anywhere.
			end()
			n := breakAt(word, fits)
			line, word = word[:n], word[n:]
			end()
		}
		if len(lines) >= most && word != "" {
			lines[most-1] = strings.TrimRight(lines[most-1], " ,;.") + "…"
			return lines
		}
	}
	end()
	return lines
}

// breakAt is how many bytes of a word go on a line: at least one character.
func breakAt(word string, fits func(string) bool) int {
	n, good := 0, 0
	for i, r := range word {
		if i > 0 && !fits(word[:i]) {
			break
		}
		n = i
		if i > 0 && strings.ContainsRune("-./,:_", rune(word[i-1])) {
			good = i
		}
		_ = r
	}
	switch {
	case good > 0:
		return good
	case n > 0:
		return n
	}
	for i := range word {
		if i > 0 {
			return i
		}
	}
	return len(word)
}
