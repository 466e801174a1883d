package schema

import (
	"bytes"
	"regexp"
	"strings"
	"sync"

	"ohmstead/schema/source"
)

// advice says in a maker's words what is wrong and what to do about the
// commonest syntax problems, by the parser's summary of them.
var advice = map[string]string{
	"Argument or block definition required":      `this line is neither NAME = VALUE nor a block NAME "LABEL" { … }`,
	"Attribute redefined":                        "an attribute stands here for the second time; keep one of them",
	"Invalid block definition":                   `this line is neither an attribute nor a block; write NAME = VALUE, or NAME "LABEL" { … }`,
	"Invalid single-argument block definition":   "a block on one line holds one attribute; put each on a line of its own",
	"Invalid expression":                         "a value is missing here or cannot be read; write NAME = VALUE",
	"Invalid multi-line string":                  "the text has no closing quote on its line",
	"Unterminated template string":               "the text has no closing quote",
	"Missing newline after argument":             `more follows behind the value; each attribute has a line of its own, and a quantity stands in quotes with its unit, such as "16 AWG"`,
	"Missing newline after block definition":     "more follows behind the block; begin the next one on a line of its own",
	"Unclosed configuration block":               `the "{" of this block has no "}"`,
	"Unterminated tuple constructor expression":  `the "[" has no "]"`,
	"Unterminated object constructor expression": `the "{" has no "}"`,
	"Unterminated function call":                 `the "(" has no ")"`,
	"Missing item separator":                     "a comma is missing between two values of the list",
	"Missing attribute value":                    `a value is missing; write { LETTER = "…" }`,
	"Missing attribute separator":                "a comma or a new line is missing between two values",
	"Invalid character":                          "this sign is not part of the language; text and quantities stand in double quotes",
}

// syntaxSays is the message of a syntax problem in a piece.
func syntaxSays(piece *source.Piece, p source.Problem) string {
	if p.Summary == "Argument or block definition required" {
		line, _, _ := strings.Cut(string(piece.Bytes()[p.Start:]), "\n")
		switch {
		case strings.HasPrefix(line, "}"):
			return `a "}" too many`
		case withColon().MatchString(line):
			return `between NAME and VALUE stands "=", not ":"`
		case strings.Contains(line, "'"):
			return "names and text stand in double quotes"
		}
	}
	if p.Summary == "Invalid single-argument block definition" {
		if line := lineAt(piece, p); strings.Count(line, "{") > strings.Count(line, "}") {
			return advice["Unclosed configuration block"]
		}
	}
	if headless(piece, p) {
		return `the "{" of this block is missing`
	}
	if a, ok := advice[p.Summary]; ok {
		return a
	}
	return join(p.Summary, p.Detail)
}

// headless reports whether a problem is a block without its "{": what follows
// up to the "}" was meant to stand in it.
func headless(piece *source.Piece, p source.Problem) bool {
	return p.Summary == "Invalid block definition" && headOnly().MatchString(lineAt(piece, p))
}

// headlessBodies are the stretches of a piece that blocks without "{" were
// meant to hold, each up to the "}" that is then one too many.
func headlessBodies(piece *source.Piece) []source.Span {
	var out []source.Span
	src, open := piece.Bytes(), false
	for _, p := range piece.Problems() {
		switch {
		case headless(piece, p):
			out, open = append(out, source.Span{Piece: piece, Start: p.End, End: len(src)}), true
		case open && bytes.HasPrefix(src[p.Start:], []byte("}")):
			out[len(out)-1].End, open = p.Start, false
		}
	}
	return out
}

// lineAt is the line that a problem starts on.
func lineAt(piece *source.Piece, p source.Problem) string {
	src := piece.Bytes()
	start := bytes.LastIndexByte(src[:p.Start], '\n') + 1
	line, _, _ := bytes.Cut(src[start:], []byte("\n"))
	return string(line)
}

var headOnly = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[ \t]*[a-z]+[ \t]*("[^"]*")?[ \t\r]*(#.*)?$`) })

var withColon = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z_]+[ \t]*:`) })
