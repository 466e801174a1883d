package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"ohmstead/lint/terminal"
)

// Out is a writer for an output of a form of which no sign steers who reads it:
// in JSON and XML it stands as an escape, which reads as the same text, elsewhere
// as U+FFFD. Line breaks stay; within a value they are for whoever puts values
// into lines, with [terminal.Printable].
func Out(w io.Writer, form string) io.Writer {
	switch form {
	case "json", "sarif", "gitlab":
		return &safe{w: w, as: func(r rune) string {
			if r > 0xffff {
				high, low := utf16.EncodeRune(r)
				return fmt.Sprintf(`\u%04x\u%04x`, high, low)
			}
			return fmt.Sprintf(`\u%04x`, r)
		}}
	case "junit":
		return &safe{w: w, as: func(r rune) string {
			if r < ' ' {
				return string(utf8.RuneError) // there is no way to say it (XML 1.0, section 2.2)
			}
			return fmt.Sprintf("&#x%X;", r)
		}}
	}
	keep := map[string]string{
		"csv":      "\r",     // at the end of a line (RFC 4180)
		"markdown": "\u200b", // takes the meaning of an @
	}
	return &safe{w: w, keep: keep[form], as: func(rune) string { return string(utf8.RuneError) }}
}

// safe replaces what steers but for line breaks, tabs and what the form needs.
type safe struct {
	w    io.Writer
	as   func(rune) string
	keep string // signs that the form itself has
	rest []byte // the begin of a sign that is not complete
}

func (s *safe) Write(p []byte) (int, error) {
	text := append(s.rest, p...)
	out := make([]byte, 0, len(text))
	for len(text) > 0 && utf8.FullRune(text) {
		r, n := utf8.DecodeRune(text)
		if terminal.Steers(r) && r != '\n' && r != '\t' && !strings.ContainsRune(s.keep, r) {
			out = append(out, s.as(r)...)
		} else {
			out = append(out, text[:n]...)
		}
		text = text[n:]
	}
	s.rest = append([]byte(nil), text...)
	if _, err := s.w.Write(out); err != nil {
		return 0, err
	}
	return len(p), nil
}
