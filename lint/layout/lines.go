package layout

import (
	"bytes"
	"unicode/utf8"
)

// The canonical layout of HCL, for text that is made of names, numbers, text in
// quotes, references, lists, maps and blocks, as nearly all plans are:
//
//   - a line stands two blanks deeper for each line above that left brackets open;
//   - words stand one blank apart, but for those that belong together (see apart);
//   - the "=" of lines one below the other stand in one column, and so do the
//     comments behind their code.

// line is one line in cells. A cell is a stretch of the words of all lines, each
// with the blanks that belong in front of it.
type line struct {
	lead, assign, end int // where the cells start, and where the last one ends
	indent, gap       int // blanks in front of lead and assign
	comment           []byte
	behind            int // blanks in front of comment
}

func (l *line) assigns() bool { return l.assign < l.end }

// leads is the column in which the lead cell ends, codes that of all the code.
func (l *line) leads() int { return l.indent + l.assign - l.lead }
func (l *line) codes() int { return l.leads() + l.gap + l.end - l.assign }

// tidy lays text out in time that grows with its size alone. It is false for
// text with anything that it does not know: operators, templates, heredocs.
func tidy(text []byte) (out []byte, ok bool) {
	lines := make([]line, 0, bytes.Count(text, []byte("\n")))
	words := make([]word, 0, 64)
	laid := make([]byte, 0, len(text))
	var open []int // brackets left open by each line that left some
	for len(text) > 0 {
		if words, text, ok = nextLine(text, words[:0]); !ok {
			return nil, false
		}
		l := line{lead: len(laid)}
		if n := len(words); n > 1 && words[n-1].kind == '#' {
			l.comment, words = words[n-1].text, words[:n-1]
		}
		equal := assignment(words)
		laid = appendWords(laid, words[:equal])
		l.assign = len(laid)
		laid = appendWords(laid, words[equal:])
		l.end = len(laid)
		if odd(laid[l.lead:l.assign]) && (l.assigns() || l.comment != nil) || odd(laid[l.assign:l.end]) && l.comment != nil {
			return nil, false // how wide it is takes more than counting bytes
		}
		net := brackets(words)
		for closed := -net; closed > 0 && len(open) > 0; {
			last := &open[len(open)-1]
			n := min(closed, *last)
			closed, *last = closed-n, *last-n
			if *last == 0 {
				open = open[:len(open)-1]
			}
		}
		l.indent = 2 * len(open)
		if net > 0 {
			open = append(open, net)
		}
		lines = append(lines, l)
	}
	align(lines, (*line).assigns, (*line).leads, func(l *line, blanks int) { l.gap = blanks })
	align(lines, func(l *line) bool { return l.comment != nil }, (*line).codes, func(l *line, blanks int) { l.behind = blanks })
	out = make([]byte, 0, len(laid)+len(laid)/2)
	for _, l := range lines {
		if l.end > l.lead {
			out = append(blanks(out, l.indent), laid[l.lead:l.assign]...)
			out = append(blanks(out, l.gap), laid[l.assign:l.end]...)
			out = append(blanks(out, l.behind), l.comment...)
		}
		out = append(out, '\n')
	}
	return out, true
}

func blanks(out []byte, n int) []byte {
	for range n {
		out = append(out, ' ')
	}
	return out
}

// align puts the cells of neighbouring lines into one column, one blank behind
// the widest of what stands in front of them.
func align(lines []line, has func(*line) bool, width func(*line) int, put func(l *line, blanks int)) {
	for i := 0; i < len(lines); {
		widest, j := 0, i
		for ; j < len(lines) && has(&lines[j]); j++ {
			widest = max(widest, width(&lines[j]))
		}
		for ; i < j; i++ {
			put(&lines[i], widest-width(&lines[i])+1)
		}
		i = max(i, j) + 1
	}
}

// word is a token: a name ('a'), a number ('0'), a text in quotes ('"'), a
// comment ('#'), or a sign of its own.
type word struct {
	kind byte
	text []byte
}

// nextLine cuts the first line of text into words.
func nextLine(text []byte, words []word) (_ []word, rest []byte, ok bool) {
	for i := 0; i < len(text); {
		n, kind := 1, text[i]
		switch c := text[i]; {
		case c == '\n':
			return words, text[i+1:], true
		case c == ' ' || c == '\t':
			i++
			continue
		case c == '#' || c == '/' && bytes.HasPrefix(text[i:], []byte("//")):
			kind, n = '#', bytes.IndexByte(text[i:], '\n')
			if n < 0 {
				return nil, nil, false
			}
		case c == '"':
			n = quoted(text[i:])
		case inName(c) && !isDigit(c):
			kind = 'a'
			for i+n < len(text) && (inName(text[i+n]) || text[i+n] == '-') {
				n++
			}
			if string(text[i:i+n]) == "in" { // of "for"
				return nil, nil, false
			}
		case isDigit(c):
			kind = '0'
			for i+n < len(text) && (inName(text[i+n]) || text[i+n] == '.') {
				n++
			}
		case bytes.IndexByte([]byte("{}[](),.:"), c) >= 0:
		case c == '=' && i+1 < len(text) && text[i+1] != '=' && text[i+1] != '>':
		default:
			return nil, nil, false
		}
		if n == 0 || len(words) > 0 && kind == '.' && words[len(words)-1].kind != 'a' && words[len(words)-1].kind != ']' {
			return nil, nil, false
		}
		words = append(words, word{kind, text[i : i+n]})
		i += n
	}
	return nil, nil, false // a line without an end
}

// quoted is the size of the text in quotes at the start of text; 0 where it is
// not literal or does not end in the line.
func quoted(text []byte) int {
	for i := 1; i < len(text); i++ {
		switch text[i] {
		case '"':
			return i + 1
		case '\n':
			return 0
		case '\\':
			i++
		case '$', '%':
			if i+1 < len(text) && text[i+1] == '{' {
				return 0
			}
		}
	}
	return 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func inName(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || isDigit(c) || c == '_' || c >= utf8.RuneSelf
}

func odd(text []byte) bool {
	for _, c := range text {
		if c >= utf8.RuneSelf {
			return true
		}
	}
	return false
}

// assignment is the index of the "=" that a line turns about, or the number of
// words: there is none, or its value goes on below.
func assignment(words []word) int {
	for i, w := range words {
		if i > 0 && w.kind == '=' {
			if brackets(words[i:]) == 0 {
				return i
			}
			break
		}
	}
	return len(words)
}

// brackets is how many more of them open than close.
func brackets(words []word) int {
	n := 0
	for _, w := range words {
		switch w.kind {
		case '{', '[', '(':
			n++
		case '}', ']', ')':
			n--
		}
	}
	return n
}

func appendWords(out []byte, words []word) []byte {
	for i, w := range words {
		if i > 0 && apart(words[i-1].kind, w.kind) {
			out = append(out, ' ')
		}
		out = append(out, w.text...)
	}
	return out
}

// apart reports whether a blank stands between two words.
func apart(a, b byte) bool {
	switch {
	case a == '.' || b == '.' || b == ',': // a reference, a list
		return false
	case a == ',':
		return true
	case a == 'a' && b == '(': // a call
		return false
	case b == '[' && (a == 'a' || a == '0' || a == '}' || a == ']' || a == ')'): // an index
		return false
	case a == '{' || b == '}': // only these brackets have blanks inside
		return a != '{' || b != '}'
	}
	return a != '[' && a != '(' && b != ']' && b != ')'
}
