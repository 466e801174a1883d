package source

import (
	"bytes"
	"math"
)

// scanner walks lines of HCL and knows, at the start of each, whether it stands in code, in a heredoc or in a template
// sequence, and how many braces are open. On sound text it agrees with the HCL lexer. On broken text it is made to
// recover early where the lexer recovers late: an open quote ends with its line, and so do a comment and a heredoc
// whose end never comes.
type scanner struct {
	data      []byte
	pos       int
	modes     []mode // what encloses pos, outermost first; plain code if empty
	braces    int    // open braces, those of template sequences included
	low       int    // least value of braces behind a closing brace of the last line
	lookahead int    // offset behind the last byte that decided anything; len(data)+1 if the end of data did
	ends      ends
	bracket   func(offset int, c byte) // if set, told of ()[]{} in code and of the ends of template sequences
	broken    func(offset int, c byte) // if set, told of unfinished strings ("), comments (*) and heredocs (<)
}

// mode is a string ('"'), a heredoc ('<') or a template sequence within one ('$').
type mode struct {
	kind   byte
	marker []byte // of a heredoc: the text of its last line
	braces int    // of a sequence: number of open braces at which a closing brace ends it
}

func (s *scanner) reset(pos int) {
	s.pos, s.modes, s.braces, s.lookahead = pos, s.modes[:0], 0, pos
}

func (s *scanner) top() byte {
	if len(s.modes) == 0 {
		return 0
	}
	return s.modes[len(s.modes)-1].kind
}

// inCode reports whether pos stands in code, which may be that of a template sequence.
func (s *scanner) inCode() bool { return s.top() == 0 || s.top() == '$' }

func (s *scanner) push(m mode) { s.modes = append(s.modes, m) }
func (s *scanner) pop()        { s.modes = s.modes[:len(s.modes)-1] }

// codeStops marks the bytes that mean something in code.
var codeStops = [256]bool{
	'\n': true, '#': true, '/': true, '"': true, '<': true,
	'{': true, '}': true, '[': true, ']': true, '(': true, ')': true,
}

// line moves pos from the start of a line to the start of the next one, or of the one in which a comment ends.
func (s *scanner) line() {
	s.low = math.MaxInt
	if s.top() == '<' && isMarkerLine(s.data[s.pos:], s.modes[len(s.modes)-1].marker) {
		s.pop()
		s.pos += bytes.IndexByte(s.data[s.pos:], '\n') + 1
		return
	}
	for s.pos < len(s.data) {
		var ended bool
		switch s.top() {
		case '"', '<':
			ended = s.template()
		default:
			ended = s.code()
		}
		if ended {
			return
		}
	}
}

// code reads code up to the next change of mode or the end of the line, and reports the latter.
func (s *scanner) code() (ended bool) {
	data := s.data
	for i := s.pos; i < len(data); i++ {
		c := data[i]
		if !codeStops[c] {
			continue
		}
		s.pos = i
		switch c {
		case '\n':
			s.pos++
			return true
		case '#':
			i = lineEnd(data, i) - 1
		case '/':
			if i+1 == len(data) {
				continue
			}
			switch data[i+1] {
			case '/':
				i = lineEnd(data, i) - 1
			case '*':
				end := s.ends.comment(data, i+2)
				if end < 0 {
					s.lookahead = len(data) + 1
					s.report(s.broken, i, '*')
					end = lineEnd(data, i)
				}
				s.lookahead = max(s.lookahead, end)
				i = end - 1
			}
		case '"':
			s.push(mode{kind: '"'})
			s.pos++
			return false
		case '<':
			marker, size := heredocStart(data[i:])
			if size == 0 {
				continue
			}
			lookahead, found := s.ends.heredoc(data, i+size, marker)
			s.lookahead = max(s.lookahead, lookahead)
			if !found {
				s.report(s.broken, i, '<')
				continue
			}
			s.push(mode{kind: '<', marker: marker})
			s.pos += size
			return true
		case '{':
			s.braces++
			s.report(s.bracket, i, c)
		case '}':
			s.report(s.bracket, i, c)
			sequence := s.top() == '$' && s.modes[len(s.modes)-1].braces == s.braces
			s.braces = max(s.braces-1, 0)
			s.low = min(s.low, s.braces)
			if sequence {
				s.pop()
				s.pos++
				return false
			}
		default:
			s.report(s.bracket, i, c)
		}
	}
	s.pos = len(data)
	return true
}

// template reads a string or a heredoc up to the next change of mode or the end of the line, and reports the latter.
func (s *scanner) template() (ended bool) {
	data, quoted := s.data, s.top() == '"'
	for i := s.pos; i < len(data); i++ {
		switch c := data[i]; c {
		case '\n':
			if quoted {
				s.report(s.broken, i, '"')
				s.pop()
				s.pos = i
				return false
			}
			s.pos = i + 1
			return true
		case '"':
			if quoted {
				s.pop()
				s.pos = i + 1
				return false
			}
		case '\\':
			if quoted && i+1 < len(data) && data[i+1] != '\n' {
				i++
			}
		case '$', '%':
			rest := data[i+1:]
			switch {
			case len(rest) > 0 && rest[0] == '{':
				s.braces++
				s.push(mode{kind: '$', braces: s.braces})
				s.report(s.bracket, i+1, '{')
				s.pos = i + 2
				return false
			case len(rest) > 1 && rest[0] == c && rest[1] == '{':
				i += 2 // "$${" stands for itself
			}
		}
	}
	if quoted {
		s.report(s.broken, len(data), '"')
	}
	s.pos = len(data)
	return true
}

func (s *scanner) report(to func(int, byte), offset int, c byte) {
	if to != nil {
		to(offset, c)
	}
}

// lineEnd returns the offset of the line end at or behind i, or the length of data.
func lineEnd(data []byte, i int) int {
	if n := bytes.IndexByte(data[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(data)
}

// heredocStart returns the marker that a heredoc opened by the first bytes of data ends with, and the size of the
// opening with its line end; 0 if they open none.
func heredocStart(data []byte) (marker []byte, size int) {
	if !bytes.HasPrefix(data, []byte("<<")) {
		return nil, 0
	}
	i := 2
	if i < len(data) && data[i] == '-' {
		i++
	}
	n := word(data[i:])
	marker = data[i : i+n]
	i += n
	if i < len(data) && data[i] == '\r' {
		i++
	}
	if n == 0 || i >= len(data) || data[i] != '\n' {
		return nil, 0
	}
	return marker, i + 1
}

// isMarkerLine reports whether data starts with a whole line that ends a heredoc.
func isMarkerLine(data, marker []byte) bool {
	n := bytes.IndexByte(data, '\n')
	return n >= len(marker) && bytes.Equal(bytes.TrimSpace(data[:n]), marker)
}

// word returns the length of the identifier that data starts with. Every letter outside ASCII is taken for one that an
// identifier may have; where it may not, the parser says so.
func word(data []byte) int {
	for i, c := range data {
		switch {
		case 'a' <= c && c <= 'z', 'A' <= c && c <= 'Z', c == '_', c >= 0x80:
		case '0' <= c && c <= '9', c == '-':
			if i == 0 {
				return 0
			}
		default:
			return i
		}
	}
	return len(data)
}

// ends answers, for one text, where comments and heredocs end. It remembers enough that a text full of openings without
// an end is not searched again for each.
type ends struct {
	noComment int            // no comment ends at or behind this offset; 0 is not known yet
	last      map[string]int // for each line that is a single word: offset behind its last occurrence; nil is not known yet
}

// comment returns the offset behind the end of a comment whose content starts at from, or -1.
func (e *ends) comment(data []byte, from int) int {
	if e.noComment > 0 && from >= e.noComment {
		return -1
	}
	n := bytes.Index(data[from:], []byte("*/"))
	if n < 0 {
		e.noComment = from
		return -1
	}
	return from + n + 2
}

// nearLines is how many lines are searched for the end of a heredoc before all lines are put into a table.
const nearLines = 64

// heredoc reports whether a line behind from ends a heredoc with this marker, and the offset behind the bytes that
// decide it.
func (e *ends) heredoc(data []byte, from int, marker []byte) (lookahead int, found bool) {
	i := from
	for range nearLines {
		if isMarkerLine(data[i:], marker) {
			return lineEnd(data, i) + 1, true
		}
		if i = lineEnd(data, i) + 1; i >= len(data) {
			return len(data) + 1, false
		}
	}
	if e.last == nil {
		e.last = wordLines(data)
	}
	if last := e.last[string(marker)]; last > i {
		return last, true
	}
	return len(data) + 1, false
}

// wordLines maps each line of data that is a single word to the offset behind its last occurrence.
func wordLines(data []byte) map[string]int {
	last := map[string]int{}
	for i := 0; ; {
		n := bytes.IndexByte(data[i:], '\n')
		if n < 0 {
			return last
		}
		line := bytes.TrimSpace(data[i : i+n])
		i += n + 1
		if len(line) > 0 && word(line) == len(line) {
			last[string(line)] = i
		}
	}
}
