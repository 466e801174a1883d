// Package linttest runs fixtures for rules. A fixture is a txtar archive named
// after its rule:
//
//	Free text that says what the fixture shows.
//	-- bad/plan.ohm.hcl --
//	lead "left" {
//	  fuse = "6 A" # want fuse-nonstandard "no blade fuse of 6 A"
//	}
//	-- good/plan.ohm.hcl --
//	...
//	-- findings --
//	...
//	-- fix/Write 5 A/plan.ohm.hcl --
//	...
//
// Every directory whose name starts with bad or good holds a plan of its own;
// other directories are stock that plans name ("../workshop"). A comment wants
// findings on its own line, "want+1" on the line below, "want-1" above: pairs
// of a rule and a quoted regular expression for the message. All findings of
// all rules at warning or error are matched with wants one to one; hints only
// if wanted. The section findings holds what the fixture's rule found, and a
// fix section the text that each of its fixes makes; both are rewritten by the
// test flag -update. A plan after a fix is judged again: the finding must be
// gone, and none may be new.
package linttest

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/tools/txtar"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Fixture is a fixture as read.
type Fixture struct {
	Path string
	Rule string // the rule that it is about: the file's name
	ar   *txtar.Archive
}

// Load reads a fixture file.
func Load(file string) (*Fixture, error) {
	ar, err := txtar.ParseFile(file)
	if err != nil {
		return nil, err
	}
	name := strings.TrimSuffix(path.Base(file), ".txtar")
	return &Fixture{Path: file, Rule: strings.ReplaceAll(name, "_", "-"), ar: ar}, nil
}

// plans lists the directories that hold plans, in the order of the archive.
func (f *Fixture) plans() []string {
	var out []string
	for _, s := range f.ar.Files {
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
		for _, s := range f.ar.Files {
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
	for _, s := range f.ar.Files {
		d := path.Dir(s.Name)
		if d != dir && (slices.Contains(plans, d) || !strings.HasSuffix(s.Name, ".ohm.hcl") || strings.HasPrefix(s.Name, "fix/")) {
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
