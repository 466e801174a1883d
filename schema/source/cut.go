package source

import (
	"bytes"
	"math"
)

// cutter finds where pieces end. A piece ends before the header of a block in the first column, comment lines directly
// above it left to the new piece, unless the header stands in a comment or a heredoc, or within a block that is closed
// further down: HCL does not ask for indentation. So sound text is only ever cut between its top-level blocks, and a
// block that is never closed ends where the next one starts.
//
// Where a piece ends depends on nothing before its start. That lets a new version of a file reuse the cuts of the old
// one as soon as one of them is met again.
type cutter struct {
	scanner
	known map[int]closing // by offset of a header
}

// closing is what one look ahead found out about a header within braces.
type closing struct {
	levels    int // number of blocks open at the header that are closed behind it
	lookahead int
}

func newCutter(data []byte) *cutter {
	return &cutter{scanner: scanner{data: data}, known: map[int]closing{}}
}

// crossed is a header passed while it is open whether the piece should have ended at the first of them.
type crossed struct {
	offset, braces int
	low            int // least number of braces left open up to the next one
}

// next returns the end of the piece that starts at start, and the offset behind the last byte that decided so, which is
// len(data)+1 if more text at the end could have changed it.
func (c *cutter) next(start int) (end, lookahead int) {
	c.reset(start)
	var (
		comment = -1 // start of the comment lines directly above
		first   int  // where the piece ends if its block turns out to be never closed
		headers []crossed
	)
	for c.pos < len(c.data) {
		line := c.pos
		aside := false
		if c.inCode() {
			size := header(c.data[line:])
			at := line
			if size > 0 && comment >= 0 {
				at = comment
			}
			if size > 0 && at > start {
				c.lookahead = max(c.lookahead, line+size)
				if c.top() == '$' { // no expression holds such a line, so the string before it is broken
					if len(headers) > 0 {
						return c.neverClosed(first, headers)
					}
					return at, c.lookahead
				}
				if c.braces == 0 {
					return at, c.lookahead
				}
				if len(headers) > 0 {
					headers = append(headers, crossed{line, c.braces, math.MaxInt})
				} else if known, ok := c.known[line]; !ok {
					first = at
					headers = append(headers, crossed{line, c.braces, math.MaxInt})
				} else {
					c.lookahead = max(c.lookahead, known.lookahead)
					if known.levels < c.braces {
						return at, c.lookahead
					}
				}
			}
			aside = isCommentLine(c.data[line:])
		}
		c.line()
		if aside && bytes.HasPrefix(c.data[line:], []byte("/*")) {
			// The comment counts as lines above a block only if nothing follows it.
			text := bytes.TrimSpace(c.data[line+2 : c.pos])
			end := bytes.Index(text, []byte("*/"))
			aside = end >= 0 && end == len(text)-2
		}
		if !aside {
			comment = -1
		} else if comment < 0 {
			comment = line
		}
		if n := len(headers); n > 0 {
			headers[n-1].low = min(headers[n-1].low, c.low)
			if c.low == 0 {
				headers = headers[:0]
			}
		}
	}
	c.lookahead = len(c.data) + 1
	if len(headers) > 0 {
		return c.neverClosed(first, headers)
	}
	return len(c.data), c.lookahead
}

// neverClosed ends a piece at first, the first header found within its block, and notes what the look ahead has shown
// about all of them, so that the text behind is not searched again for each.
func (c *cutter) neverClosed(first int, headers []crossed) (end, lookahead int) {
	low := math.MaxInt
	for i := len(headers) - 1; i >= 0; i-- {
		h := headers[i]
		low = min(low, h.low)
		c.known[h.offset] = closing{levels: h.braces - low, lookahead: c.lookahead}
	}
	return first, c.lookahead
}

// header returns the size of the block header at the start of data, up to its opening brace, or 0.
func header(data []byte) int {
	n := word(data)
	if n == 0 || continues(data[:n]) {
		return 0
	}
	for i := n; i < len(data); {
		switch data[i] {
		case ' ', '\t':
			i++
		case '{':
			return i + 1
		case '"':
			n := label(data[i:])
			if n == 0 {
				return 0
			}
			i += n
		default:
			n := word(data[i:])
			if n == 0 || continues(data[i:i+n]) {
				return 0
			}
			i += n
		}
	}
	return 0
}

// continues reports whether a word before a brace belongs to a "for" expression that goes over several lines.
func continues(word []byte) bool { return string(word) == "in" || string(word) == "if" }

// label returns the size of the quoted string at the start of data, or 0 if it does not end in the line.
func label(data []byte) int {
	for i := 1; i < len(data); i++ {
		switch data[i] {
		case '\n':
			return 0
		case '\\':
			if i++; i < len(data) && data[i] == '\n' {
				return 0
			}
		case '"':
			return i + 1
		}
	}
	return 0
}

func isCommentLine(data []byte) bool {
	return bytes.HasPrefix(data, []byte("#")) || bytes.HasPrefix(data, []byte("//")) || bytes.HasPrefix(data, []byte("/*"))
}
