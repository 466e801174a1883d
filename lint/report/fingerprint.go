package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"regexp"
	"strings"
)

// sign gives every finding its fingerprint: a digest of what it is about, not
// of where it stands, and of copies not of which is worst. Findings that are alike in all of it are told apart by
// counting, in the order of the text; what is hidden counts last.
func (r *Run) sign() {
	seen := map[string]int{}
	sign := func(f *Finding) {
		about := strings.Join([]string{f.Rule, f.owner, f.about, withoutNumbers(f.Message)}, "\x00")
		seen[about]++
		sum := sha256.Sum256(fmt.Appendf(nil, "%s\x00%d", about, seen[about]))
		f.Fingerprint = hex.EncodeToString(sum[:16])
	}
	for f := range r.All {
		sign(f)
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			sign(h.Finding)
		}
	}
}

// number matches a number with its unit, if any.
var number = regexp.MustCompile(`-?\d+(\.\d+)?( ?(%|°C|degC|[munkM]?(V|A|W|m|ohm|s|Hz|F|g)\b|AWG\b|mm2|cm\b))?`)

// withoutNumbers is what a message says whatever the numbers are: the part
// before its first semicolon, as the rest is advice that moves with them.
func withoutNumbers(message string) string {
	head, _, _ := strings.Cut(message, ";")
	return strings.Join(strings.Fields(number.ReplaceAllString(head, "#")), " ")
}

func parent(file string) string { return path.Dir(file) }
