package source

import (
	"bytes"
	"regexp"
	"strings"
	"sync"

	"github.com/hashicorp/hcl/v2"
)

// Problem is a syntax error or a refusal. Offsets are relative to the piece that reports it, or to the text when it
// comes from [File.Refused]; the range lies within one line.
type Problem struct {
	Start, End int
	Summary    string // what is wrong, without a full stop
	Detail     string // one or two sentences: numbers, limits, what to do
}

// problem shortens what the HCL parser says about data.
func problem(data []byte, d *hcl.Diagnostic) Problem {
	start, end := d.Subject.Start.Byte, d.Subject.End.Byte
	// A line end is where the parser noticed. The last character before it is where a person would look.
	start = min(start, len(data))
	if start == lineEnd(data, start) || data[start] == '\r' {
		text := bytes.TrimRight(data[:start], " \t\r\n")
		start, end = max(len(text)-1, 0), len(text)
		for start > 0 && data[start]&0xc0 == 0x80 {
			start--
		}
	}
	line := bytes.TrimRight(data[start:lineEnd(data, start)], "\r")
	return Problem{start, min(end, start+len(line)), d.Summary, shorten(d.Detail)}
}

// places matches the positions that the parser mentions, which are counted within the piece and would mislead.
var places = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(` at :\d+,\d+(-\d+(,\d+)?)?`) })

// shorten keeps the first sentence of a message, without what is not true of a piece.
func shorten(detail string) string {
	detail = places().ReplaceAllString(detail, "")
	if first, _, more := strings.Cut(detail, ". "); more {
		detail = first + "."
	}
	for _, end := range []string{" before the end of the file", ", but found the end of the file"} {
		detail = strings.Replace(detail, end, "", 1)
	}
	return detail
}
