package source

import (
	"bytes"
	"slices"

	"github.com/hashicorp/hcl/v2"
)

// outline is a piece as its indentation shows it, which is the best witness of what was meant where brackets and quotes
// do not add up. A line owns the lines below it that are indented deeper, and the closing bracket under them.
type outline struct {
	data   []byte
	lines  []row
	broken int // offset of the first open quote or heredoc, -1 if there is none
}

// row is one line of an outline.
type row struct {
	start, end int  // without the line end
	indent     int  // number of blanks in front
	first      byte // first character behind them; 0 in an empty line
	inside     bool // starts within a comment or heredoc and so belongs to the line above
}

func outlineOf(data []byte) outline {
	o := outline{data: data, broken: -1}
	s := scanner{data: data}
	s.broken = func(offset int, c byte) {
		if o.broken < 0 && c != '*' {
			o.broken = offset
		}
	}
	for start := 0; start < len(data); {
		inside := start < s.pos || !s.inCode()
		if start == s.pos {
			s.line()
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

// fault returns the statement to set aside for a mistake: the first one with brackets or quotes that do not add up,
// since that throws the parser off, or else the one where the parser noticed something.
func (o outline) fault(noticed *hcl.Diagnostic) (stretch, bool) {
	if s, ok := o.unbalanced(0, len(o.lines)); ok {
		return s, true
	}
	at := o.lineAt(noticed.Subject.Start.Byte)
	if noticed.Context != nil {
		// An expression that runs on into a line which does not belong to it is at fault, not that line.
		if from := o.lineAt(noticed.Context.Start.Byte); at >= 0 && o.lines[from].indent >= o.lines[at].indent {
			at = from
		}
	}
	if o.broken >= 0 {
		at = o.lineAt(o.broken)
	}
	return o.around(at)
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
		next, open := o.owned(i)
		if open != 0 {
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

// owned returns the line behind those that line i owns, blank ones at the end left out, and how many brackets they
// leave open: -1 if they hold a stray one, an open quote or an open heredoc.
func (o outline) owned(i int) (next, open int) {
	t := newTally(o.data, o.lines[i].start)
	first := t.upTo(o.lines[i].end)
	next, open = i+1, first
	closed := false
	for j := next; j < len(o.lines); j++ {
		l := o.lines[j]
		switch {
		case l.inside, l.first != 0 && l.indent > o.lines[i].indent:
		case l.first == 0:
			continue
		case l.indent == o.lines[i].indent && isCloser(l.first) && (open > 0 || first > 0 && !closed):
			closed = true
		default:
			return next, open
		}
		next, open = j+1, t.upTo(l.end)
	}
	return next, open
}

// tally counts the brackets of the lines from one on.
type tally struct {
	scanner
	stack []byte
	stray bool
}

func newTally(data []byte, start int) *tally {
	t := &tally{scanner: scanner{data: data, pos: start}}
	t.bracket = func(_ int, c byte) {
		n := len(t.stack)
		switch {
		case c == '(' || c == '[' || c == '{':
			t.stack = append(t.stack, c)
		case n > 0 && (c == ')' && t.stack[n-1] == '(' || c == t.stack[n-1]+2):
			t.stack = t.stack[:n-1]
		default:
			t.stray = true
		}
	}
	t.broken = func(int, byte) { t.stray = true }
	return t
}

// upTo goes on to the end of a line and returns the number of open brackets, or -1 if they cannot add up any more.
func (t *tally) upTo(end int) int {
	for t.pos < min(end+1, len(t.data)) {
		t.line()
	}
	if t.stray {
		return -1
	}
	return len(t.stack)
}

func (o outline) stretch(i, next int) stretch {
	return stretch{o.lines[i].start, min(o.lines[next-1].end+1, len(o.data))}
}

// lineAt returns the line of an offset or, if that is empty or continues another one, the one above; -1 if there is
// none. What is noticed in an empty line or at the end of the text was caused before it.
func (o outline) lineAt(offset int) int {
	i, found := slices.BinarySearchFunc(o.lines, offset, func(l row, offset int) int { return l.start - offset })
	if !found {
		i--
	}
	for i >= 0 && (o.lines[i].first == 0 || o.lines[i].inside) {
		i--
	}
	return i
}

// around returns the innermost statement with line i. There is none if that line opens or closes a block over several
// lines, as without it the lines between have no place.
func (o outline) around(i int) (stretch, bool) {
	if i < 0 {
		return stretch{}, false
	}
	if isCloser(o.lines[i].first) {
		i = o.owner(i)
	}
	l := o.lines[i]
	next, open := o.owned(i)
	if isCloser(l.first) || header(o.data[l.start+l.indent:]) > 0 && (next > i+1 || open != 0) {
		return stretch{}, false
	}
	return o.stretch(i, next), true
}

// owner returns the line that owns the closing bracket in line i, or i if there is none.
func (o outline) owner(i int) int {
	for j := i - 1; j >= 0; j-- {
		if l := o.lines[j]; l.first != 0 && !l.inside && l.indent <= o.lines[i].indent {
			if next, _ := o.owned(j); next > i {
				return j
			}
			break
		}
	}
	return i
}

func isCloser(c byte) bool { return c == '}' || c == ']' || c == ')' }
