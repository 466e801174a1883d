package report

import (
	"io"
	"net/url"
	"strings"

	"ohmstead/lint"
)

// The parts of a SARIF 2.1.0 log (OASIS standard, 27 March 2020) that a linter
// fills; section numbers are those of the standard.
type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool        sarifTool         `json:"tool"`
		Invocations []sarifInvocation `json:"invocations"`
		Bases       map[string]any    `json:"originalUriBaseIds"`
		ColumnKind  string            `json:"columnKind"`
		Results     []sarifResult     `json:"results"`
	}
	sarifInvocation struct {
		Successful bool `json:"executionSuccessful"`
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name    string      `json:"name"`
		Version string      `json:"version,omitempty"`
		Rules   []sarifRule `json:"rules"`
	}
	sarifRule struct {
		ID    string         `json:"id"`
		Short sarifText      `json:"shortDescription"`
		Full  *sarifText     `json:"fullDescription,omitempty"`
		Help  *sarifText     `json:"help,omitempty"`
		Conf  sarifRuleConf  `json:"defaultConfiguration"`
		Props map[string]any `json:"properties,omitempty"`
	}
	sarifRuleConf struct {
		Level string `json:"level"`
	}
	sarifText struct {
		Text     string `json:"text"`
		Markdown string `json:"markdown,omitempty"`
	}
	sarifResult struct {
		RuleID       string             `json:"ruleId"`
		RuleIndex    int                `json:"ruleIndex"`
		Level        string             `json:"level"`
		Message      sarifText          `json:"message"`
		Locations    []sarifLocation    `json:"locations"`
		Related      []sarifLocation    `json:"relatedLocations,omitempty"`
		Fixes        []sarifFix         `json:"fixes,omitempty"`
		Fingerprints map[string]string  `json:"partialFingerprints"`
		Props        map[string]any     `json:"properties,omitempty"`
		Suppressions []sarifSuppression `json:"suppressions,omitempty"` // 3.27.23
	}
	sarifSuppression struct {
		Kind          string         `json:"kind"`
		Justification string         `json:"justification,omitempty"`
		Location      *sarifLocation `json:"location,omitempty"`
	}
	sarifLocation struct {
		ID       *int           `json:"id,omitempty"`
		Message  *sarifText     `json:"message,omitempty"`
		Physical sarifPhysical  `json:"physicalLocation"`
		Logical  []sarifLogical `json:"logicalLocations,omitempty"`
	}
	sarifLogical struct {
		Name string `json:"fullyQualifiedName"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
	}
	sarifArtifact struct {
		URI  string `json:"uri"`
		Base string `json:"uriBaseId"`
	}
	sarifRegion struct {
		StartLine   int `json:"startLine"`
		StartColumn int `json:"startColumn"`
		EndLine     int `json:"endLine"`
		EndColumn   int `json:"endColumn"`
		ByteOffset  int `json:"byteOffset"`
		ByteLength  int `json:"byteLength"`
	}
	sarifFix struct {
		Description sarifText     `json:"description"`
		Changes     []sarifChange `json:"artifactChanges"`
	}
	sarifChange struct {
		Artifact     sarifArtifact      `json:"artifactLocation"`
		Replacements []sarifReplacement `json:"replacements"`
	}
	sarifReplacement struct {
		Deleted  sarifRegion   `json:"deletedRegion"`
		Inserted *sarifContent `json:"insertedContent,omitempty"`
	}
	sarifContent struct {
		Text string `json:"text"`
	}
)

const sarifBase = "SRCROOT"

var sarifLevels = map[lint.Level]string{lint.Error: "error", lint.Warning: "warning", lint.Hint: "note", lint.Off: "none"}

// SARIF writes a SARIF 2.1.0 log. Paths are relative to the workspace root.
func SARIF(w io.Writer, r *Run, version string) error {
	run := sarifRun{
		Tool:        sarifTool{sarifDriver{Name: "ohmstead", Version: version, Rules: []sarifRule{}}},
		Invocations: []sarifInvocation{{true}},
		Bases:       map[string]any{sarifBase: map[string]any{"description": sarifText{Text: "the workspace root"}}},
		ColumnKind:  "unicodeCodePoints", // 3.14.17; see Place.From
		Results:     []sarifResult{},
	}
	index := map[string]int{}
	add := func(f *Finding) *sarifResult {
		at, known := index[f.Rule]
		if !known {
			at = len(run.Tool.Driver.Rules)
			index[f.Rule] = at
			run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRuleOf(r.rule(f.Rule)))
		}
		run.Results = append(run.Results, sarifResultOf(f, at))
		return &run.Results[len(run.Results)-1]
	}
	for f := range r.All {
		add(f)
	}
	for _, p := range r.Plans {
		for _, h := range p.Hidden {
			s := sarifSuppression{Kind: "external", Justification: h.Reason}
			if h.Means == lint.Comment {
				s.Kind = "inSource"
			}
			if h.By.Text != nil {
				at := sarifLocationOf(h.By, h.Plan)
				s.Location = &at
			}
			add(h.Finding).Suppressions = []sarifSuppression{s}
		}
	}
	return indented(w, sarifLog{
		Schema:  "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
		Version: "2.1.0",
		Runs:    []sarifRun{run},
	})
}

func sarifRuleOf(r *lint.Rule) sarifRule {
	out := sarifRule{ID: r.Name, Short: sarifText{Text: r.Title + "."}, Conf: sarifRuleConf{sarifLevels[r.Level]}}
	if r.Why != "" {
		out.Full = &sarifText{Text: r.Why}
	}
	if r.Do != "" {
		out.Help = &sarifText{Text: strings.TrimSpace(r.Why + "\n\n" + r.Do), Markdown: "**" + r.Title + ".** " + r.Why + "\n\n" + r.Do}
	}
	if r.Guard {
		out.Props = map[string]any{"tags": []string{"safety"}}
	}
	return out
}

func sarifResultOf(f *Finding, rule int) sarifResult {
	out := sarifResult{
		RuleID: f.Rule, RuleIndex: rule, Level: sarifLevels[f.Level],
		Message:      sarifText{Text: f.Message},
		Locations:    []sarifLocation{sarifLocationOf(f.Place, f.Plan)},
		Fingerprints: map[string]string{"ohmstead/v1": f.Fingerprint},
		Props:        map[string]any{"plan": f.Plan},
	}
	if f.Subject != "" {
		out.Locations[0].Logical = []sarifLogical{{f.Subject}}
	}
	if f.Case != "" {
		out.Props["case"] = f.Case
	}
	if v := f.Value; v != nil {
		out.Props["got"], out.Props["limit"], out.Props["unit"] = Number(v.Got), Number(v.Limit), v.Unit
	}
	for i, n := range f.Notes {
		at := sarifLocationOf(n.Place, f.Plan)
		at.ID, at.Message = &i, &sarifText{Text: n.Message}
		out.Related = append(out.Related, at)
	}
	for _, x := range f.Repairs {
		out.Fixes = append(out.Fixes, sarifFixOf(x))
	}
	return out
}

func sarifFixOf(x Repair) sarifFix {
	fix := sarifFix{Description: sarifText{Text: x.Title}}
	index := map[string]int{}
	for _, e := range x.Edits {
		i, known := index[e.Path()]
		if !known {
			i = len(fix.Changes)
			index[e.Path()] = i
			fix.Changes = append(fix.Changes, sarifChange{Artifact: sarifArtifactOf(e.Path())})
		}
		rep := sarifReplacement{Deleted: *sarifRegionOf(e.Place)}
		if e.New != "" {
			rep.Inserted = &sarifContent{e.New}
		}
		fix.Changes[i].Replacements = append(fix.Changes[i].Replacements, rep)
	}
	return fix
}

func sarifLocationOf(p Place, dir string) sarifLocation {
	if p.Text == nil {
		return sarifLocation{Physical: sarifPhysical{Artifact: sarifArtifactOf(dir)}}
	}
	return sarifLocation{Physical: sarifPhysical{Artifact: sarifArtifactOf(p.Path()), Region: sarifRegionOf(p)}}
}

// sarifArtifactOf writes a path as a relative URI reference (RFC 3986).
func sarifArtifactOf(path string) sarifArtifact {
	return sarifArtifact{URI: (&url.URL{Path: path}).String(), Base: sarifBase}
}

func sarifRegionOf(p Place) *sarifRegion {
	r := &sarifRegion{ByteOffset: p.Start, ByteLength: p.End - p.Start}
	r.StartLine, r.StartColumn = p.From()
	r.EndLine, r.EndColumn = p.To()
	return r
}
