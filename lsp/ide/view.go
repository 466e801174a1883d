// Package ide answers what an editor asks about a plan: hover, completion,
// places, edits. Every answer is a pure function of a View and a byte offset,
// in plain data; it knows no protocol, no JSON and no file system.
package ide

import (
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/limits"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// View is one file of a plan at one moment, with what was worked out from it.
// It does not change, but that Work may fill in Figures.
type View struct {
	Plan     *schema.Plan
	Figures  *figures.Figures
	Findings []lint.Finding
	Hidden   []lint.Hidden // what the plan says not to tell
	Rules    []*lint.Rule
	File     *source.File // the file that the question is about
	// Before are the last figures in which all networks could be judged, where not all
	// can be now: what is shown of a network that is not judged, marked as old.
	Before *figures.Figures
	// Saved are the figures of the plan as it was saved last, which those of an edit are
	// held against, and Edited is the end of the last edit in v.File since; nil for none.
	Saved  *figures.Figures
	Edited int
	// Work gives Figures where completion asks for them, which it seldom does;
	// it may be nil, and so may what it gives.
	Work func() *figures.Figures
	// Dirs lists the directories below the root that hold plan
	// files, slash-separated: what completion of stock offers. Nil lists none.
	Dirs func() []string

	// Remedies gives the fixes of a finding that were tried; nil takes Fixes as
	// they are proposed.
	Remedies func(finding int) []lint.Fix

	// Bears tries edits that answer no finding, as remedy.Trials does; nil lets nothing be offered that needs it.
	Bears func(edits []schema.Edit, was map[string]string) (*figures.Figures, bool)

	// Try works out a changed plan, for as long as somebody waits for it; nil lets nothing be offered that needs it.
	Try func(*schema.Plan) (*figures.Figures, error)

	// Wants tells whether an action of a kind is asked for; nil wants all. What is not is not worked out.
	Wants func(kind string) bool

	// Limits gives how far the values of a block may go, those that have been worked out
	// already; nil gives none.
	Limits func(block string) []*limits.Limit

	// NewFiles says that the editor makes files: an edit at the start of one that there is not
	// is of a file that is made for it.
	NewFiles bool

	// Pictures says that the editor shows images in hovers.
	Pictures bool
}

func (v *View) dirs() []string {
	if v.Dirs == nil {
		return nil
	}
	return v.Dirs()
}

func (v *View) fixesOf(i int) []lint.Fix {
	if v.Remedies == nil {
		return v.Findings[i].Fixes
	}
	return v.Remedies(i)
}

// bears tries edits that answer no finding.
func (v *View) bears(edits []schema.Edit, was map[string]string) (*figures.Figures, bool) {
	if v.Bears == nil {
		return nil, false
	}
	return v.Bears(edits, was)
}

// Location is a stretch of a file: Path as in source.Text.Path, offsets in bytes.
type Location struct {
	Path       string
	Start, End int
}

// TextEdit replaces a stretch of a file.
type TextEdit struct {
	Location
	New string
}

// Locate turns a span of the plan (or of the catalogue) into a location.
func (v *View) Locate(at source.Span) (Location, bool) {
	if f, start, end, ok := v.Plan.Locate(at); ok {
		return Location{f.Text.Path(), start, end}, true
	}
	if f, start, end, ok := schema.Catalogue().Locate(at); ok {
		return Location{f.Text.Path(), start, end}, true
	}
	return Location{}, false
}

// Range is a stretch of v.File, in bytes.
type Range struct{ Start, End int }
