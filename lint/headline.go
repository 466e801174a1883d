package lint

import (
	"strings"
	"unicode/utf8"
)

// seen is how many signs of a message an editor shows beside the text.
const seen = 80

// Headline is a message as editors show it, which cut it off: a remedy that says what to
// write ("use a supply of at least 6 A") stands in what they show, in front of what is
// wrong where it would come too late.
func Headline(message string) string {
	what, do, _ := strings.Cut(message, "; ")
	first := do
	for _, end := range []string{", ", " (", ": ", "; ", " or "} { // there begins another way, or a reason
		first, _, _ = strings.Cut(first, end)
	}
	if utf8.RuneCountInString(what)+2+utf8.RuneCountInString(first) <= seen || !orders(first) || !exact(first) {
		return message
	}
	about, rest, found := strings.Cut(what, ": ")
	if !found || !address(about) {
		return do + "; " + what
	}
	return about + ": " + do + "; " + rest
}

// orders says whether a text tells to do something.
func orders(text string) bool {
	verb, _, more := strings.Cut(text, " ")
	switch verb {
	case "add", "draw", "feed", "fit", "give", "lay", "lead", "leave", "make", "put", "run", "set", "take", "use", "write":
		return more
	}
	return false
}

// exact says whether a text says what to write: it holds a number, a text, an
// attribute or an address.
func exact(text string) bool {
	for i := range len(text) {
		switch c := text[i]; {
		case '0' <= c && c <= '9', c == '"', c == '=':
			return true
		case c == '.' && i > 0 && i+1 < len(text) && inWord(text[i-1]) && inWord(text[i+1]):
			return true
		}
	}
	return false
}

// address says whether a text is one, such as run.arch or lead.left.from.
func address(text string) bool {
	kind, name, ok := strings.Cut(text, ".")
	return ok && kind != "" && name != "" &&
		strings.Trim(kind, "abcdefghijklmnopqrstuvwxyz") == "" &&
		!strings.ContainsFunc(name, func(r rune) bool { return r >= utf8.RuneSelf || !inWord(byte(r)) && r != '.' && r != '-' })
}

func inWord(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_'
}
