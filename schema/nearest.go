package schema

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/agext/levenshtein"
)

// nearest finds the one name within an edit distance of two that is closest.
func nearest(written string, names []string) (string, bool) {
	best, least, length := "", 3, utf8.RuneCountInString(written)
	for _, n := range names {
		if apart := utf8.RuneCountInString(n) - length; n == written || apart > 2 || apart < -2 {
			continue
		}
		d := levenshtein.Distance(strings.ToLower(written), strings.ToLower(n), nil)
		if d < least && d < max(len(n), 2) {
			best, least = n, d
		}
	}
	return best, best != ""
}

// suggestion is the tail of a message about an unknown name.
func suggestion(written string, names []string) string {
	if best, ok := nearest(written, names); ok {
		return fmt.Sprintf("; did you mean %q?", best)
	}
	return ""
}

// Nearest is the did-you-mean of the language, for names of other kinds.
func Nearest(written string, names []string) (string, bool) { return nearest(written, names) }
