package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// layers lists the project's folders from the bottom up; a package imports only
// from its own layer and those below.
var layers = []string{"calc", "schema", "lint", "lsp", "cmd"}

// foreign says which folders may import a module that is not of the project.
// What is not listed may be used by cmd alone.
var foreign = map[string][]string{
	"golang.org/x/text/currency":            {"calc/quantity"},
	"github.com/hashicorp/hcl/v2":           {"schema", "lint", "lsp/ide"},
	"github.com/zclconf/go-cty":             {"schema"},
	"github.com/agext/levenshtein":          {"schema"},
	"golang.org/x/sync":                     {"lint/figures"},
	"go.lsp.dev/":                           {"lsp/server"},
	"github.com/go-json-experiment/json":    {"lsp/server"},
	"github.com/google/go-cmp":              {"calc", "schema", "lint", "lsp"},
	"golang.org/x/tools/txtar":              {"schema", "lint", "lsp"},
	"github.com/santhosh-tekuri/jsonschema": {"lint/report"},
	"github.com/apparentlymart/go-textseg":  {"schema"},
	"github.com/hashicorp/hcl/v2/hclwrite":  {"lsp/ide", "lint"},
	"github.com/rogpeppe/go-internal":       {"lsp"},
}

func TestArrowsRunDown(t *testing.T) {
	root := "../.."
	for at, layer := range layers {
		err := filepath.WalkDir(filepath.Join(root, layer), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			rel, _ := filepath.Rel(root, path)
			for _, i := range f.Imports {
				name, _ := strconv.Unquote(i.Path.Value)
				if ours, ok := strings.CutPrefix(name, "ohmstead/"); ok {
					for above, other := range layers {
						if above > at && (ours == other || strings.HasPrefix(ours, other+"/")) {
							t.Errorf("%s imports %s, which lies above it", rel, name)
						}
					}
					continue
				}
				if layer == "cmd" || !strings.Contains(name, ".") {
					continue
				}
				if !allowed(name, filepath.ToSlash(filepath.Dir(rel))) {
					t.Errorf("%s imports %s, which its layer does not use", rel, name)
				}
			}
			return nil
		})
		if err != nil {
			t.Errorf("%s: %v", layer, err)
		}
	}
}

func allowed(module, dir string) bool {
	for prefix, dirs := range foreign {
		if !strings.HasPrefix(module, prefix) {
			continue
		}
		for _, d := range dirs {
			if dir == d || strings.HasPrefix(dir, d+"/") {
				return true
			}
		}
	}
	return false
}
