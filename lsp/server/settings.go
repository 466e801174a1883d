package server

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ohmstead/lint"
	"ohmstead/schema"
)

// Settings are what a user sets in the section "ohmstead" of the editor's
// configuration. The tags give name, default and meaning of each setting; the
// table in lsp/SETTINGS.md is made from them.
type Settings struct {
	Hints struct {
		Pixels  bool   `json:"pixels" default:"true" doc:"Show how many pixels a run has, behind it."`
		Metres  bool   `json:"metres" default:"true" doc:"Show how long a run is, behind it."`
		Amps    bool   `json:"amps" default:"true" doc:"Show the current of runs, leads and supplies."`
		Drop    bool   `json:"drop" default:"true" doc:"Show the voltage that a lead loses and the least voltage of a run."`
		Load    bool   `json:"load" default:"true" doc:"Show how much of its rating a supply gives."`
		Lengths bool   `json:"lengths" default:"true" doc:"Show the length of a lead where the plan leaves it to be estimated."`
		Near    bool   `json:"near" default:"false" doc:"Show currents and voltages only where they reach 80 % of what is allowed."`
		Moved   bool   `json:"moved" default:"true" doc:"Show at the end of an edit which figures it moved, until the plan is saved."`
		Case    string `json:"case" default:"full" doc:"The load case that the figures belong to: full, held, or the name of a case block. A plan without such a case shows full."`
	} `json:"hints"`
	Hover struct {
		Pictures bool `json:"pictures" default:"false" doc:"Show the voltage along a run as a picture: for editors whose hovers show SVG images in Markdown. The extension for VS Code has it on."`
	} `json:"hover"`
	Warnings struct {
		Level string `json:"level" default:"hint" doc:"The least level of finding that is shown: error, warning or hint."`
	} `json:"warnings"`
	Page struct {
		Serve bool `json:"serve" default:"false" doc:"Serve the live page from the start and tell its address: for editors that run no commands of a server."`
	} `json:"page"`
	Trace struct {
		Server string `json:"server" default:"off" doc:"What is written to the editor's log of the server: off, messages or verbose."`
	} `json:"trace"`
}

// DefaultSettings are the settings of an editor that says nothing.
func DefaultSettings() Settings {
	var s Settings
	h := &s.Hints
	h.Pixels, h.Metres, h.Amps, h.Drop, h.Load, h.Lengths, h.Moved, h.Case = true, true, true, true, true, true, true, schema.Full
	s.Warnings.Level = "hint"
	s.Trace.Server = "off"
	return s
}

// readSettings lays what the client sent over other settings. What makes no
// sense keeps its value there and is named in the error. The section may come
// bare or as the member "ohmstead".
func readSettings(under Settings, data []byte) (Settings, error) {
	s := under
	if len(bytes.TrimSpace(data)) == 0 || string(bytes.TrimSpace(data)) == "null" {
		return s, nil
	}
	var wrapped struct {
		Ohmstead json.RawMessage `json:"ohmstead"`
	}
	if err := json.Unmarshal(data, &wrapped); err == nil && len(wrapped.Ohmstead) > 0 {
		data = wrapped.Ohmstead
	}
	var problems []error
	// Each setting by itself, so that one wrong value spoils no other.
	var sections map[string]json.RawMessage
	if err := json.Unmarshal(data, &sections); err != nil {
		return s, fmt.Errorf("settings: %w", err)
	}
	for _, f := range settingFields(&s) {
		var section map[string]json.RawMessage
		if raw, ok := sections[f.Section]; !ok || json.Unmarshal(raw, &section) != nil {
			continue // an editor keeps settings of its own in the section too
		}
		raw, ok := section[f.Key]
		if !ok || string(raw) == "null" {
			continue
		}
		if err := json.Unmarshal(raw, f.value); err != nil {
			problems = append(problems, fmt.Errorf("setting ohmstead.%s.%s: %s is not a %s", f.Section, f.Key, raw, f.Kind))
		}
	}
	if l, ok := lint.LevelNamed(s.Warnings.Level); !ok || l == lint.Off {
		problems = append(problems, fmt.Errorf("setting ohmstead.warnings.level: %q is none of error, warning, hint", s.Warnings.Level))
		s.Warnings.Level = under.Warnings.Level
	}
	if traces := []string{"off", "messages", "verbose"}; !slices.Contains(traces, s.Trace.Server) {
		problems = append(problems, fmt.Errorf("setting ohmstead.trace.server: %q is none of %s", s.Trace.Server, strings.Join(traces, ", ")))
		s.Trace.Server = under.Trace.Server
	}
	return s, errors.Join(problems...)
}

// leastLevel is the least level of finding that is shown.
func (s *Settings) leastLevel() lint.Level {
	l, _ := lint.LevelNamed(s.Warnings.Level)
	return l
}
