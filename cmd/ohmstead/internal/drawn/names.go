package drawn

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"ohmstead/calc/quantity"
)

// made matches what programs call things by themselves: words for what it is,
// with numbers, or numbers alone.
var made = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^((path|rect|circle|ellipse|line|polyline|polygon|g|use|svg|xmlid|text|layer|group|shape|object|obj|node|edge|graph|image|surface|id|item|element|curve|container|plot|bo|bg)?[-_ .]*[0-9]*[-_ .]*)*$`)
})

// ownName is what a person called an element: its id, else its label, else its
// title.
func ownName(n *node) string {
	for _, name := range []string{n.attrs["id"], n.attrs["label"], n.title()} {
		name = strings.TrimSpace(name)
		if !made().MatchString(name) && plain(name) != "" && strings.ContainsFunc(name, unicode.IsLetter) {
			return name
		}
	}
	return ""
}

// isKeepout reports whether a group is called keepout, or keepouts, in whatever
// way of writing.
func isKeepout(name string) bool {
	letters := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
	return letters == "keepout" || letters == "keepouts"
}

// plain makes of a text a name that references can say: letters, digits, - and _.
func plain(text string) string {
	var b strings.Builder
	for i, r := range []rune(text) {
		switch {
		case i == 60:
			return strings.Trim(b.String(), "-_")
		case unicode.IsLetter(r) || r == '_' || unicode.IsDigit(r) && r < 0x80:
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
	}
	name := strings.Trim(b.String(), "-_")
	for strings.Contains(name, "--") {
		name = strings.ReplaceAll(name, "--", "-")
	}
	if name != "" && unicode.IsDigit(rune(name[0])) {
		name = "n" + name
	}
	return name
}

// namer gives each shape a name of its own, and notes where it is not the id.
type namer struct {
	taken map[string]bool
	w     *walker
}

func (m *namer) names(list []found, word string) []string {
	base := func(f found) string {
		switch {
		case f.own != "":
			return plain(f.own)
		case f.group != "":
			return plain(f.group)
		}
		return word
	}
	count := map[string]int{}
	for _, f := range list {
		count[base(f)]++
	}
	// Names that are somebody's own go before those that are counted.
	names := make([]string, len(list))
	for i, f := range list {
		b := base(f)
		if count[b] == 1 && b != word || f.own != "" && !f.again && f.parts == 1 && !m.taken[b] {
			names[i], m.taken[b] = b, true
		}
	}
	next := map[string]int{}
	for i, f := range list {
		b := base(f)
		for names[i] == "" {
			next[b]++
			if name := fmt.Sprintf("%s-%d", b, next[b]); !m.taken[name] {
				names[i], m.taken[name] = name, true
			}
		}
		if f.own != "" && names[i] != f.own && (f.parts == 1 && !f.again || b != f.own) {
			m.w.note(f.Line, "renamed", "%q is called %s", short(f.own), names[i])
		}
	}
	return names
}

// sorted are the notes in the order of the file, and how many more there were
// of each kind.
func (w *walker) sorted() []Note {
	slices.SortStableFunc(w.notes, func(a, b Note) int { return a.Line - b.Line })
	more := 0
	for _, n := range w.told {
		more += max(0, n-mostTold)
	}
	if more > 0 {
		w.notes = append(w.notes, Note{0, "and " + quantity.Count(more, "note") + " more of these kinds"})
	}
	return w.notes
}
