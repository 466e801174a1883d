package main

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// words are the lists that the editors' grammars are built from.
type words struct {
	Blocks     []string `json:"blocks"`
	Nested     []string `json:"nested"`
	Attributes []string `json:"attributes"`
	Choices    []string `json:"choices"`
	Units      []string `json:"units"`
	Functions  []string `json:"functions"`
	Places     []string `json:"places"`
}

// places are the words behind the dot of a place, as schema.Point writes them.
var places = []string{"out", "power", "port", "start", "end"}

// wordList makes editors/grammar/words.json.
func wordList(string) ([]byte, error) {
	w := words{Units: quantity.Symbols(), Places: places}
	nested, attributes, choices := map[string]bool{}, map[string]bool{"like": true}, map[string]bool{}
	var walk func(t *schema.BlockType)
	walk = func(t *schema.BlockType) {
		for _, a := range t.Attrs {
			if a.Name != "*" { // the body of let has names of the maker's own
				attributes[a.Name] = true
			}
			for _, o := range a.Choices {
				choices[o.Value] = true
			}
		}
		for _, n := range t.Blocks {
			if _, top := schema.TypeNamed(n.Name); top {
				continue
			}
			nested[n.Name] = true
			walk(n)
		}
	}
	for _, t := range schema.Language {
		w.Blocks = append(w.Blocks, t.Name)
		walk(t)
	}
	for _, f := range schema.Functions {
		w.Functions = append(w.Functions, f.Name)
	}
	w.Nested, w.Attributes, w.Choices = sorted(nested), sorted(attributes), sorted(choices)
	w.Choices = slices.DeleteFunc(w.Choices, func(c string) bool { return strings.ContainsAny(c, " ") })
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(w)
	return b.Bytes(), err
}

func sorted(set map[string]bool) []string { return slices.Sorted(maps.Keys(set)) }
