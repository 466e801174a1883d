package lint

import (
	"regexp"
	"strings"
	"sync"
	"unicode/utf8"
)

// seen is how many signs of a message an editor shows beside the text.
const seen = 80

var (
	orders = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(add|draw|feed|fit|give|lay|lead|leave|make|put|run|set|take|use|write) `)
	})
	alternative = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`, | \(|[:;] | or `) })
	worth       = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[0-9"=]|\w\.\w`) })
	aboutWhat   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z]+\.[\w.-]+: `) })
)

// Headline is a message as editors show it, which cut it off: a remedy that says what to
// write ("use a supply of at least 6 A") stands in what they show, in front of what is
// wrong where it would come too late.
func Headline(message string) string {
	what, do, _ := strings.Cut(message, "; ")
	first := do
	if i := alternative().FindStringIndex(do); i != nil {
		first = do[:i[0]]
	}
	if !orders().MatchString(first) || !worth().MatchString(first) || utf8.RuneCountInString(what+"; "+first) <= seen {
		return message
	}
	about := aboutWhat().FindString(what)
	return about + do + "; " + what[len(about):]
}
