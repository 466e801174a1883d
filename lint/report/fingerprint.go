package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"regexp"
	"strings"
	"sync"
)

// sign gives every finding its fingerprint: a digest of what it is about, not
// of where it stands, and of copies not of which is worst. It names the plan, so
// that a directory may be renamed; where two plans of the run share a name, the
// directory tells them apart. Findings that are alike in all of it are told apart by
// counting, in the order of the text; what is hidden counts last.
func (r *Run) sign() {
	dirs := map[string]map[string]bool{}
	for _, p := range r.Plans {
		if dirs[p.Name] == nil {
			dirs[p.Name] = map[string]bool{}
		}
		dirs[p.Name][p.Dir] = true
	}
	seen := map[string]int{}
	for _, p := range r.Plans {
		name := p.Name
		if name == "" {
			name = p.Dir
		}
		sign := func(f *Finding) {
			if f.owner != p.Dir { // stock has a name of its own: its path
				about := strings.Join([]string{f.Rule, f.owner, f.about, f.said()}, "\x00")
				seen[about]++
				f.identity = digest(about, seen[about])
				f.Fingerprint = f.identity
				return
			}
			about := strings.Join([]string{f.Rule, "plan " + name, f.about, f.said()}, "\x00")
			here := about + "\x00" + p.Dir
			seen[here]++
			f.identity = digest(about, seen[here])
			f.Fingerprint = f.identity
			if len(dirs[p.Name]) > 1 {
				f.Fingerprint = digest(here, seen[here])
			}
		}
		for _, f := range p.Findings {
			sign(f)
		}
		for _, h := range p.Hidden {
			sign(h.Finding)
		}
	}
}

func digest(about string, n int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\x00%d", about, n))
	return hex.EncodeToString(sum[:16])
}

// said is what a finding says whatever the numbers and the case are, in which
// pattern another one may be the worst tomorrow.
func (f *Finding) said() string {
	head, _, _ := strings.Cut(f.Message, ";") // the rest is advice that moves with the numbers
	if f.Case != "" {
		head = worstCase().ReplaceAllString(strings.ReplaceAll(head, "in case "+f.Case, "@"), "@")
	}
	return strings.Join(strings.Fields(number().ReplaceAllString(head, "#")), " ")
}

// worstCase is how rules name the pattern that is the worst of all.
var worstCase = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(with only .+? lit|under the ceilings) \(case any\)`)
})

// number matches a number with its unit, if any.
var number = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`-?\d+(\.\d+)?( ?(%|°C|degC|[munkM]?(V|A|W|m|ohm|s|Hz|F|g)\b|AWG\b|mm2|cm\b))?`)
})

func parent(file string) string { return path.Dir(file) }
