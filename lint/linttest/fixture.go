// Package linttest runs fixtures for rules. A fixture is a txtar archive named
// after its rule:
//
//	Free text that says what the fixture shows.
//	-- bad/plan.ohm.hcl like shelf --
//	 lead "low" {
//	-  fuse   = "5 A"
//	+  fuse   = "6 A" # want fuse-nonstandard "no blade fuse of 6 A"
//	-- good/plan.ohm.hcl like shelf --
//	-- findings --
//	...
//	-- fix/Fit a 5 A fuse/plan.ohm.hcl like bad --
//	...
//
// Every directory whose name starts with bad or good holds a plan of its own;
// other directories are stock that plans name ("../workshop"). A file is
// written whole, or like another: like base/NAME.ohm.hcl beside the fixtures,
// or like that of a directory above it. Then only what differs is written, as
// changed reads it.
//
// A comment wants findings on its own line, "want+1" on the line below,
// "want-1" above: pairs of a rule and a quoted regular expression for the
// message. All findings of all rules at warning or error are matched with wants
// one to one; hints only if wanted. The section findings holds what the fixture's rule found, and a
// fix section the lines that each of its fixes changes; both are rewritten by
// the test flag -update. A plan after a fix is judged again: the finding must
// be gone, and none may be new.
package linttest

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/tools/txtar"

	"ohmstead/lint/linttest/change"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Fixture is a fixture as read.
type Fixture struct {
	Path string
	Rule string // the rule that it is about: the file's name

	ar    *txtar.Archive
	files []txtar.File // of plans and stock, whole
}

// likeForm is the name of a section that holds a change.
var likeForm = regexp.MustCompile(`^(.*\.ohm\.hcl) like ([a-z0-9-]+)$`)

// Load reads a fixture file.
func Load(file string) (*Fixture, error) {
	ar, err := txtar.ParseFile(file)
	if err != nil {
		return nil, err
	}
	name := strings.TrimSuffix(path.Base(file), ".txtar")
	f := &Fixture{Path: file, Rule: strings.ReplaceAll(name, "_", "-"), ar: ar}
	for _, s := range ar.Files {
		if golden(s.Name) {
			continue
		}
		if m := likeForm.FindStringSubmatch(s.Name); m != nil {
			base, err := f.like(m[2], path.Base(m[1]))
			if err != nil {
				return nil, fmt.Errorf("%s: %s: %w", file, s.Name, err)
			}
			whole, err := change.Apply(base, string(s.Data))
			if err != nil {
				return nil, fmt.Errorf("%s: %s: %w", file, s.Name, err)
			}
			s = txtar.File{Name: m[1], Data: []byte(whole)}
		}
		f.files = append(f.files, s)
	}
	return f, nil
}

// like is the text that a section's name says it is like.
func (f *Fixture) like(name, file string) (string, error) {
	for _, s := range f.files {
		if s.Name == name+"/"+file {
			return string(s.Data), nil
		}
	}
	base, err := os.ReadFile(filepath.Join(filepath.Dir(f.Path), "base", name+".ohm.hcl"))
	return string(base), err
}

// golden tells whether a section is written by -update.
func golden(section string) bool {
	return section == "findings" || strings.HasPrefix(section, "fix/")
}

// plans lists the directories that hold plans, in the order of the archive.
func (f *Fixture) plans() []string {
	var out []string
	for _, s := range f.files {
		dir, _, ok := strings.Cut(s.Name, "/")
		if ok && (strings.HasPrefix(dir, "bad") || strings.HasPrefix(dir, "good")) && !slices.Contains(out, dir) {
			out = append(out, dir)
		}
	}
	return out
}

// decode reads the plan of a directory; replaced holds files, by path, whose
// text is another than the archive's.
func (f *Fixture) decode(dir string, replaced map[string][]byte) *schema.Plan {
	read := func(dir string) ([]*source.File, error) {
		var files []*source.File
		for _, s := range f.files {
			if path.Dir(s.Name) != dir || !strings.HasSuffix(s.Name, ".ohm.hcl") {
				continue
			}
			data := s.Data
			if r, ok := replaced[s.Name]; ok {
				data = r
			}
			files = append(files, source.Parse(source.NewText(s.Name, data)))
		}
		if len(files) == 0 {
			return nil, fmt.Errorf("%s: no plan files in this directory", dir)
		}
		return files, nil
	}
	files, err := read(dir)
	if err != nil {
		files = nil // a plan without files is what the language rules speak of
	}
	return schema.Decode(dir, files, read)
}

// want is a wanted finding.
type want struct {
	file string
	line int // from 1
	rule string
	re   *regexp.Regexp
	met  bool
}

var wantForm = regexp.MustCompile(`(?:#|//)\s*want([+-]\d+)?((?:\s+[a-z0-9-]+\s+(?:"(?:[^"\\]|\\.)*"|` + "`[^`]*`" + `))+)`)

var wantPair = regexp.MustCompile(`([a-z0-9-]+)\s+("(?:[^"\\]|\\.)*"|` + "`[^`]*`)")

// wants reads the wants of every file that a plan may consist of: those of its
// directory and of the stock directories.
func (f *Fixture) wants(dir string) ([]*want, error) {
	plans := f.plans()
	var out []*want
	for _, s := range f.files {
		d := path.Dir(s.Name)
		if d != dir && (slices.Contains(plans, d) || !strings.HasSuffix(s.Name, ".ohm.hcl")) {
			continue
		}
		for i, line := range strings.Split(string(s.Data), "\n") {
			m := wantForm.FindStringSubmatch(line)
			if m == nil {
				if strings.Contains(line, "# want") {
					return nil, fmt.Errorf("%s:%d: a want is written: want RULE \"REGEXP\"", s.Name, i+1)
				}
				continue
			}
			at := i + 1
			if m[1] != "" {
				n, err := strconv.Atoi(m[1])
				if err != nil {
					return nil, fmt.Errorf("%s:%d: %w", s.Name, i+1, err)
				}
				at += n
			}
			for _, pair := range wantPair.FindAllStringSubmatch(m[2], -1) {
				text, err := strconv.Unquote(pair[2])
				if err != nil {
					return nil, fmt.Errorf("%s:%d: %s: %w", s.Name, i+1, pair[2], err)
				}
				re, err := regexp.Compile(text)
				if err != nil {
					return nil, fmt.Errorf("%s:%d: %w", s.Name, i+1, err)
				}
				out = append(out, &want{file: s.Name, line: at, rule: pair[1], re: re})
			}
		}
	}
	return out, nil
}
