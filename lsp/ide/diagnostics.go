package ide

import "ohmstead/lint"

// Diagnostic is a finding at its place.
type Diagnostic struct {
	Location
	Level       lint.Level
	Code        string // the rule's name
	Explained   bool   // there is a rule of that name, and a page about it
	Message     string
	Unnecessary bool // marks text that has no effect
	Related     []RelatedPlace
	Finding     int // index of v.Findings
}

// RelatedPlace is another place that has to do with a finding.
type RelatedPlace struct {
	Location
	Message string
}

// Diagnostics gives the findings of a level and above at their places, in all
// files of the plan and its stock. One about the plan as a whole stands at the
// start of its first file. v.File is not looked at.
func Diagnostics(v *View, least lint.Level) []Diagnostic { return nil }

// Explain writes what there is to say about a rule, as Markdown.
func Explain(r *lint.Rule) string { return "" }
