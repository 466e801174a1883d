package server

import (
	"fmt"
	"reflect"
	"strings"
)

// Setting describes one setting for documents.
type Setting struct {
	Section, Key string
	Kind         string // "bool" or "string"
	Default      string
	Doc          string

	value any // where it is kept
}

// SettingsTable lists the settings in the order of the struct.
func SettingsTable() []Setting {
	s := DefaultSettings()
	return settingFields(&s)
}

func settingFields(s *Settings) []Setting {
	var out []Setting
	sections := reflect.ValueOf(s).Elem()
	for i := range sections.NumField() {
		section := sections.Field(i)
		for j := range section.NumField() {
			f := section.Type().Field(j)
			out = append(out, Setting{
				Section: sections.Type().Field(i).Tag.Get("json"),
				Key:     f.Tag.Get("json"),
				Kind:    f.Type.String(),
				Default: f.Tag.Get("default"),
				Doc:     f.Tag.Get("doc"),
				value:   section.Field(j).Addr().Interface(),
			})
		}
	}
	return out
}

// SettingsMarkdown is the table of settings as Markdown.
func SettingsMarkdown() string {
	var b strings.Builder
	b.WriteString("| setting | kind | default | what it does |\n| --- | --- | --- | --- |\n")
	for _, s := range SettingsTable() {
		def := s.Default
		if s.Kind == "string" {
			def = fmt.Sprintf("%q", def)
		}
		fmt.Fprintf(&b, "| `ohmstead.%s.%s` | %s | `%s` | %s |\n", s.Section, s.Key, s.Kind, def, s.Doc)
	}
	return b.String()
}
