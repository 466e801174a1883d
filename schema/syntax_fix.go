package schema

import (
	"bytes"
	"strconv"
	"strings"

	"ohmstead/schema/source"
)

// syntaxFix is what most likely mends a syntax problem: a sign that is missing, or one too many. Without a title there
// is none.
func syntaxFix(piece *source.Piece, p source.Problem) (title string, e Edit) {
	src := piece.Bytes()
	start := bytes.LastIndexByte(src[:p.Start], '\n') + 1
	line := strings.TrimRight(lineAt(piece, p), " \t\r")
	span := func(from, to int) source.Span { return source.Span{Piece: piece, Start: from, End: to} }
	lineEnd := func(add string) Edit { return Edit{span(start+len(line), start+len(line)), add} }
	switch p.Summary {
	case "Argument or block definition required":
		rest, _, _ := strings.Cut(string(src[p.Start:]), "\n")
		switch {
		case strings.HasPrefix(rest, "}"):
			return `Remove the "}"`, Edit{At: WholeLines(span(p.Start, p.Start+1))}
		case withColon().MatchString(rest):
			at := p.Start + strings.IndexByte(rest, ':')
			return `Write "="`, Edit{span(at, at+1), " ="}
		case strings.Contains(rest, "'"):
			return "Write double quotes", Edit{span(p.Start, p.Start+len(rest)), strings.ReplaceAll(rest, "'", `"`)}
		}
	case "Invalid multi-line string", "Unterminated template string":
		return "Close the quote", lineEnd(`"`)
	case "Unterminated tuple constructor expression":
		return `Close the "["`, lineEnd("]")
	case "Unclosed configuration block":
		end := len(bytes.TrimRight(src, " \t\r\n"))
		return `Close the "{"`, Edit{span(end, end), "\n}"}
	case "Missing newline after argument":
		if name, value, ok := strings.Cut(line, "="); ok && !strings.ContainsAny(value, "\"{}[]#") {
			at := start + len(name) + 1
			return "Write it in quotes", Edit{span(at, start+len(line)), " " + strconv.Quote(strings.TrimSpace(value))}
		}
	}
	return "", Edit{}
}
