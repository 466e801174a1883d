package source

import (
	"bytes"
	"slices"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// parse reads the piece. The HCL parser may lose everything behind a mistake, so when it finds one, the statement at
// fault is replaced by blanks and the rest parsed again, until nothing is wrong or nothing more can be set aside. Then
// each statement set aside is parsed alone, and what is found there goes into the tree.
func (r *reading) parse(data []byte) {
	whole := stretch{0, len(data)}
	rounds := MaxProblems
	if len(data) > MaxPiece/8 {
		rounds = 2 // keeps the time for a large block full of mistakes in bounds
	}
	var diags hcl.Diagnostics
	for {
		r.body, diags = parse(r.text, whole)
		if len(diags) == 0 {
			break
		}
		rounds--
		statement, ok := outlineOf(r.text).fault(diags[0].Subject.Start.Byte)
		if !ok || rounds == 0 {
			// What follows the first mistake may be a consequence of it.
			r.problems = append(r.problems, problem(data, diags[0]))
			break
		}
		r.problems = append(r.problems, explain(data, statement, diags[0]))
		r.blank(statement)
	}
	if len(r.problems) == 0 {
		return
	}
	slices.SortFunc(r.broken, func(a, b stretch) int { return a.start - b.start })
	for _, s := range r.broken {
		if column(data, s.start) == 0 {
			alone, _ := parse(data, s)
			merge(r.body, alone, s.start)
		}
	}
	repair(r.body, len(data))
}

// explain says what is wrong with a statement, given what the parser said first about the whole piece.
func explain(data []byte, s stretch, first *hcl.Diagnostic) Problem {
	body, diags := parse(data, s)
	switch {
	case len(diags) > 0 && len(body.Attributes)+len(body.Blocks) > 0:
		return problem(data[:s.end], diags[0])
	case s.overlaps(first.Subject.Start.Byte, first.Subject.Start.Byte):
		return problem(data[:s.end], first)
	}
	text := bytes.TrimSpace(data[s.start:lineEnd(data, s.start)])
	start := s.start + bytes.Index(data[s.start:], text)
	return Problem{start, start + len(text), "Unbalanced brackets or quotes", "One of them has no counterpart. Add it, or delete this one."}
}

// column returns the number of bytes between the start of the line and offset.
func column(data []byte, offset int) int {
	return offset - 1 - bytes.LastIndexByte(data[:offset], '\n')
}

// merge adds what was found alone at offset to the innermost body around it, unless it stands within an expression.
func merge(body, alone *hclsyntax.Body, offset int) {
	for descend := true; descend; {
		descend = false
		for _, b := range body.Blocks {
			if b.OpenBraceRange.End.Byte <= offset && offset < b.CloseBraceRange.End.Byte {
				body, descend = b.Body, true
				break
			}
		}
	}
	for _, a := range body.Attributes {
		if a.SrcRange.Start.Byte <= offset && offset < a.SrcRange.End.Byte {
			return
		}
	}
	for name, a := range alone.Attributes {
		if _, taken := body.Attributes[name]; !taken {
			if body.Attributes == nil {
				body.Attributes = hclsyntax.Attributes{}
			}
			body.Attributes[name] = a
		}
	}
	body.Blocks = append(body.Blocks, alone.Blocks...)
	slices.SortStableFunc(body.Blocks, func(a, b *hclsyntax.Block) int { return a.TypeRange.Start.Byte - b.TypeRange.Start.Byte })
}

// outline is a piece as its indentation shows it, which is the best witness of what was meant where brackets and quotes
// do not add up. A line owns the lines below it that are indented deeper, and the closing bracket under them.
type outline struct {
	data  []byte
	lines []row
}

// row is one line of an outline.
type row struct {
	start, end int  // without the line end
	indent     int  // number of blanks in front
	first      byte // first character behind them; 0 in an empty line
	inside     bool // starts within a comment or heredoc and so belongs to the line above
}

func outlineOf(data []byte) outline {
	o := outline{data: data}
	s := scanner{data: data}
	inside := false
	for start := 0; start < len(data); {
		if start == s.pos {
			inside = !s.inCode()
			s.line()
		} else {
			inside = true
		}
		end := lineEnd(data, start)
		text := data[start:end]
		trimmed := bytes.TrimLeft(text, " \t")
		l := row{start: start, end: end, indent: len(text) - len(trimmed), inside: inside}
		if trimmed = bytes.TrimRight(trimmed, " \t\r"); len(trimmed) > 0 {
			l.first = trimmed[0]
		}
		o.lines = append(o.lines, l)
		start = end + 1
	}
	return o
}

// fault returns the statement to set aside for a mistake noticed at offset: one with brackets or quotes that do not
// add up, since that throws the parser off, or else the one at the offset.
func (o outline) fault(offset int) (stretch, bool) {
	if s, ok := o.unbalanced(0, len(o.lines)); ok {
		return s, true
	}
	return o.around(offset)
}

// unbalanced returns the first innermost statement among the lines from i to end whose brackets or quotes do not add
// up. Statements in the first column are passed over: setting one aside would lose a whole block, and in text without
// any indentation lines say nothing about statements.
func (o outline) unbalanced(i, end int) (stretch, bool) {
	for i < end {
		if o.lines[i].first == 0 || o.lines[i].inside {
			i++
			continue
		}
		next := o.owned(i)
		if o.open(i, next) != 0 {
			if s, ok := o.unbalanced(i+1, next); ok {
				return s, true
			}
			if o.lines[i].indent > 0 {
				return o.stretch(i, next), true
			}
		}
		i = next
	}
	return stretch{}, false
}

// owned returns the line behind those that line i owns, blank ones at the end left out.
func (o outline) owned(i int) int {
	next, closed := i+1, false
	for j := next; j < len(o.lines); j++ {
		switch l := o.lines[j]; {
		case l.inside, l.first != 0 && l.indent > o.lines[i].indent:
			next = j + 1
		case l.first == 0:
		case l.indent == o.lines[i].indent && isCloser(l.first) && (o.open(i, j) > 0 || !closed && o.open(i, i+1) > 0):
			next, closed = j+1, true
		default:
			return next
		}
	}
	return next
}

func (o outline) stretch(i, next int) stretch {
	return stretch{o.lines[i].start, min(o.lines[next-1].end+1, len(o.data))}
}

// open returns how many brackets the lines from i to next leave open; -1 if they hold a stray one, an open quote or an
// open heredoc.
func (o outline) open(i, next int) int {
	at := o.stretch(i, next)
	s := scanner{data: o.data[at.start:at.end]}
	var stack []byte
	stray := false
	s.bracket = func(_ int, c byte) {
		switch c {
		case '(', '[', '{':
			stack = append(stack, c)
		case ')', ']', '}':
			if n := len(stack); n > 0 && (stack[n-1] == '(' && c == ')' || stack[n-1] == c-2) {
				stack = stack[:n-1]
			} else {
				stray = true
			}
		}
	}
	s.broken = func(_ int, c byte) { stray = stray || c != '*' }
	for s.pos < len(s.data) {
		s.line()
	}
	if stray {
		return -1
	}
	return len(stack)
}

// around returns the innermost statement with the line at offset. There is none if that line opens or closes a block
// over several lines, as without it the lines between have no place.
func (o outline) around(offset int) (stretch, bool) {
	i, found := slices.BinarySearchFunc(o.lines, offset, func(l row, offset int) int { return l.start - offset })
	if !found {
		i--
	}
	// What is noticed in an empty line or at the end of the text was caused above it.
	for i >= 0 && (o.lines[i].first == 0 || o.lines[i].inside) {
		i--
	}
	if i < 0 {
		return stretch{}, false
	}
	if isCloser(o.lines[i].first) {
		i = o.owner(i)
	}
	l, next := o.lines[i], o.owned(i)
	if isCloser(l.first) || header(o.data[l.start+l.indent:]) > 0 && (next > i+1 || o.open(i, next) != 0) {
		return stretch{}, false
	}
	return o.stretch(i, next), true
}

// owner returns the line that owns the closing bracket in line i, or i if there is none.
func (o outline) owner(i int) int {
	for j := i - 1; j >= 0; j-- {
		l := o.lines[j]
		switch {
		case l.first == 0 || l.inside || l.indent > o.lines[i].indent:
		case o.owned(j) > i:
			return j
		default:
			return i
		}
	}
	return i
}

func isCloser(c byte) bool { return c == '}' || c == ']' || c == ')' }
