package schema

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/agext/levenshtein"
)

// nearest finds the one name within an edit distance of two that is closest; two
// letters of a short word make another one of it, unless both begin alike.
func nearest(written string, names []string) (string, bool) {
	best, least, length := "", 3, utf8.RuneCountInString(written)
	for _, n := range names {
		if apart := utf8.RuneCountInString(n) - length; n == written || apart > 2 || apart < -2 {
			continue
		}
		d := levenshtein.Distance(strings.ToLower(written), strings.ToLower(n), nil)
		if d == 2 && length < 6 && !strings.EqualFold(firstRune(written), firstRune(n)) {
			continue
		}
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

func firstRune(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return s[:n]
}

// free are the attributes of a block that it does not state yet.
func free(n *Node, t *BlockType) []string {
	var out []string
	for _, a := range t.Attrs {
		if _, stated := n.Assign(a.Name); !stated && a.Name != "*" {
			out = append(out, a.Name)
		}
	}
	return out
}

// mostNamed is how many attributes a message names.
const mostNamed = 12

// listed writes names one after the other, and how many more there are.
func listed(names []string) string {
	if more := len(names) - mostNamed; more > 1 {
		return fmt.Sprintf("%s and %d others", strings.Join(names[:mostNamed], ", "), more)
	}
	return strings.Join(names, ", ")
}
