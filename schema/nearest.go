package schema

import (
	"fmt"
	"strings"

	"github.com/agext/levenshtein"
)

// nearest finds the one name within an edit distance of two that is closest.
func nearest(written string, names []string) (string, bool) {
	best, least := "", 3
	for _, n := range names {
		if n == written {
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
