// Package report writes what was found in plans in the forms that people,
// forges and other programs read. It writes to an io.Writer and touches no
// file.
package report

import (
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Run is what one run judged, in the order in which it is reported.
type Run struct {
	Plans  []*Plan
	Rules  []*lint.Rule // that the plans were judged by
	FailOn lint.Level   // findings from this level on count as failures; Off: none does
	Known  int          // findings left out because they were there before
	Missed int          // plans that could not be judged, of which nothing is known
	// Changed says that only what is newly hidden is listed as such; then a hidden
	// finding of a guard rule counts as a failure, for a reviewer to allow.
	Changed bool
	// Version is that of the program, which the rules come with.
	Version string
	// Policies says what the policies of plans judge otherwise than before.
	Policies []Policy
}

// Policy is what a plan's policy judges otherwise than before, in a sentence.
type Policy struct {
	Plan string `json:"plan"` // its directory
	Text string `json:"text"`
}

// Plan is one judged plan.
type Plan struct {
	Dir      string // slash-separated, relative to the workspace root
	Name     string
	Findings []*Finding
	Hidden   []*Hidden // guards first
	Unjudged []Note    // wiring that was not judged, with what has to be known first
	Open     []Note    // what its comments say is still to be decided or measured
}

// Call gives the plan the directory and the name of another: of the same plan at
// another time, whose findings then have the same fingerprints.
func (p *Plan) Call(dir, name string) {
	p.CallStock(p.Dir, dir)
	p.Dir, p.Name = dir, name
}

// CallStock does the same for a directory of its stock.
func (p *Plan) CallStock(dir, name string) {
	for _, f := range p.Findings {
		if f.owner == dir {
			f.owner = name
		}
	}
	for _, h := range p.Hidden {
		if h.owner == dir {
			h.owner = name
		}
	}
}

// Finding is a finding with its places looked up in the plan's files.
type Finding struct {
	*lint.Finding
	Plan        string // the plan's directory
	Place       Place
	Notes       []Note   // its Related
	Repairs     []Repair // its Fixes
	Fingerprint string   // the same for the same finding after lines moved; see NewRun

	identity string // the fingerprint that it has where no plan shares the name of its own
	owner    string // the directory that the finding belongs to: the plan's, or a stock directory
	about    string // its subject; of a copy, the block that was written
}

// Place is a stretch of a file. The zero Place means no file at all.
type Place struct {
	Text       *source.Text
	Start, End int // bytes
}

// Note is another place that has to do with a finding.
type Note struct {
	Place
	Message string
}

// Repair is a fix whose places were found.
type Repair struct {
	Title string
	Grade schema.Grade
	Edits []Change
}

// Change replaces a stretch of a file.
type Change struct {
	Place
	New string
}

// Path is the place's file, or "".
func (p Place) Path() string {
	if p.Text == nil {
		return ""
	}
	return p.Text.Path()
}

// From and To are where the place starts and ends: line and column in Unicode
// characters, both counted from 1.
func (p Place) From() (line, column int) { return p.position(p.Start) }

// To is where the place ends; see From.
func (p Place) To() (line, column int) { return p.position(p.End) }

func (p Place) position(offset int) (line, column int) {
	if p.Text == nil {
		return 1, 1
	}
	at := p.Text.OffsetPosition(offset, source.Rune)
	return at.Line + 1, at.Column + 1
}

// Resolve looks up the places of a plan's findings.
func Resolve(plan *schema.Plan, found []lint.Finding) *Plan {
	out := &Plan{Dir: plan.Dir, Name: plan.Name()}
	for _, at := range lint.Open(plan) {
		out.Open = append(out.Open, Note{locate(plan, at), lint.Question(at)})
	}
	for i := range found {
		f := &Finding{Finding: &found[i], Plan: plan.Dir, Place: locate(plan, found[i].At), owner: plan.Dir, about: written(plan, found[i].Subject)}
		if f.Place.Text == nil {
			f.Place = Place{Text: whole(plan, f.Message)}
		} else if dir, ok := stockOf(plan, f.Place.Text); ok {
			f.owner = dir
		}
		for _, r := range found[i].Related {
			if at := locate(plan, r.At); at.Text != nil {
				f.Notes = append(f.Notes, Note{at, r.Message})
			}
		}
		for _, x := range found[i].Fixes {
			if r, ok := repair(plan, x); ok {
				f.Repairs = append(f.Repairs, r)
			}
		}
		out.Findings = append(out.Findings, f)
	}
	return out
}

// Lacks notes the wiring of a plan that was not judged.
func (p *Plan) Lacks(plan *schema.Plan, unjudged []lint.Unjudged) {
	for _, u := range unjudged {
		p.Unjudged = append(p.Unjudged, Note{locate(plan, u.At), u.String()})
	}
}

// written is the address of the block that a copy is made of; any other is its own.
func written(plan *schema.Plan, id string) string {
	if b, ok := plan.Find(id); ok {
		if h := schema.HeaderOf(b); h.Copy > 0 && h.Node != nil {
			return h.Type.Name + "." + h.Base()
		}
	}
	return id
}

// whole is the file that speaks for a finding about the plan as a whole: the
// refused one that its message begins with, else the plan's first.
func whole(plan *schema.Plan, message string) *source.Text {
	for _, fs := range [][]*source.File{plan.Files, plan.StockFiles} {
		for _, f := range fs {
			if f.Refused() != nil && strings.HasPrefix(message, f.Text.Path()+": ") {
				return f.Text
			}
		}
	}
	if len(plan.Files) > 0 {
		return plan.Files[0].Text
	}
	return nil
}

func locate(plan *schema.Plan, at source.Span) Place {
	for _, p := range []*schema.Plan{plan, schema.Catalogue().Plan} {
		if f, start, end, ok := p.Locate(at); ok {
			return Place{f.Text, start, end}
		}
	}
	return Place{}
}

// stockOf gives the directory of a text that belongs to the plan's stock.
func stockOf(plan *schema.Plan, text *source.Text) (dir string, ok bool) {
	for _, f := range plan.StockFiles {
		if f.Text == text {
			return parent(text.Path()), true
		}
	}
	return "", false
}

// repair locates a fix's edits; one that reaches outside the plan's files, as
// into the catalogue, cannot be carried out.
func repair(plan *schema.Plan, fix lint.Fix) (Repair, bool) {
	r := Repair{Title: fix.Title, Grade: fix.Grade}
	for _, e := range fix.Edits {
		f, start, end, ok := plan.Locate(e.At)
		if !ok {
			return r, false
		}
		r.Edits = append(r.Edits, Change{Place{f.Text, start, end}, e.New})
	}
	slices.SortStableFunc(r.Edits, func(a, b Change) int { return a.Start - b.Start })
	return r, len(r.Edits) > 0
}

// NewRun puts plans together for reporting. What several plans found in one
// stock file is kept once, with the first of them, and every finding gets its
// fingerprint.
func NewRun(plans []*Plan, rules []*lint.Rule) *Run {
	r := &Run{Plans: plans, Rules: rules, FailOn: lint.Error}
	r.mergeStock()
	r.sign()
	return r
}

func (r *Run) mergeStock() {
	type key struct {
		path, rule, message string
		start               int
		hidden              bool
	}
	seen := map[key]bool{}
	for _, p := range r.Plans {
		again := func(f *Finding, hidden bool) bool {
			if f.owner == p.Dir {
				return false
			}
			k := key{f.Place.Path(), f.Rule, f.Message, f.Place.Start, hidden}
			was := seen[k]
			seen[k] = true
			return was
		}
		p.Findings = slices.DeleteFunc(p.Findings, func(f *Finding) bool { return again(f, false) })
		p.Hidden = slices.DeleteFunc(p.Hidden, func(h *Hidden) bool { return again(h.Finding, true) })
	}
}

// Keep drops the findings that keep refuses, and counts them as known. That a
// rule failed is never known: what it would have found is not.
func (r *Run) Keep(keep func(*Finding) bool) {
	for _, p := range r.Plans {
		n := len(p.Findings)
		p.Findings = slices.DeleteFunc(p.Findings, func(f *Finding) bool { return f.Rule != lint.RuleFailed && !keep(f) })
		r.Known += n - len(p.Findings)
	}
}

// KeepNew drops what was found before and is no worse now, and what was hidden
// before for the same reason.
func (r *Run) KeepNew(was *Run) {
	r.Changed = true
	found, hidden := map[string]*Finding{}, map[string]*Hidden{}
	key := func(f *Finding) string { return f.owner + "\x00" + f.identity } // two plans may share a name
	for _, p := range was.Plans {
		for _, h := range p.Hidden {
			hidden[key(h.Finding)], found[key(h.Finding)] = h, h.Finding
		}
		for _, f := range p.Findings {
			found[key(f)] = f
		}
	}
	r.Keep(func(f *Finding) bool { return found[key(f)] == nil || f.Worse(found[key(f)].Finding) })
	for _, p := range r.Plans {
		p.Hidden = slices.DeleteFunc(p.Hidden, func(h *Hidden) bool {
			old := hidden[key(h.Finding)]
			return old != nil && old.Reason == h.Reason && old.Means == h.Means && !h.Worse(old.Finding.Finding)
		})
	}
}

// Failed reports whether a rule failed, so that not everything is judged.
func (r *Run) Failed() bool {
	for f := range r.All {
		if f.Rule == lint.RuleFailed {
			return true
		}
	}
	return false
}

// Count is the number of findings of a level.
func (r *Run) Count(l lint.Level) int {
	n := 0
	for f := range r.All {
		if f.Level == l {
			n++
		}
	}
	return n
}

// Failures is the number of findings at or above FailOn, with those of guards that
// are newly hidden.
func (r *Run) Failures() int {
	n := 0
	for f := range r.All {
		if r.fails(f) {
			n++
		}
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			if r.alarms(h) {
				n++
			}
		}
	}
	return n
}

func (r *Run) fails(f *Finding) bool { return r.FailOn != lint.Off && f.Level >= r.FailOn }

func (r *Run) alarms(h *Hidden) bool { return r.Changed && h.Guard && r.FailOn != lint.Off }

// All visits every finding in order.
func (r *Run) All(yield func(*Finding) bool) {
	for _, p := range r.Plans {
		for _, f := range p.Findings {
			if !yield(f) {
				return
			}
		}
	}
}

// rule finds the rule of a finding; those of the engine itself may have no
// entry, and get one that says no more than the name.
func (r *Run) rule(name string) *lint.Rule {
	if x, ok := lint.RuleNamed(r.Rules, name); ok {
		return x
	}
	return &lint.Rule{Name: name, Title: name, Level: lint.Error}
}

// Link is where a rule is explained, relative to the folder of the rules.
func Link(rule string) string { return "RULES.md#" + rule }
