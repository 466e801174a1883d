package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// floors lists the project's folders from the bottom up. A package imports what
// lies on floors below its own, or on the same one; a folder that is not listed
// is on the floor of the one that holds it.
var floors = []string{
	"calc/quantity", "calc/thorough", "calc",
	"schema/source", "schema/catalog", "schema", "schema/plans",
	"lint/terminal", "lint/sentences", "lint/figures", "lint/lists", "lint/layout", "lint", "lint/sizing", "lint/remedy", "lint/linttest", "lint/report", "lint/locating", "lint/rules", "lint/limits", "lint/drawing",
	"lsp/ide", "lsp/page", "lsp/server",
	"cmd",
}

// doors says which packages outside cmd may import a package that touches the
// world outside, or one of another module. Tests may use what they need.
var doors = map[string][]string{
	"os":       {"lint/linttest", "lsp/server"},
	"net":      {"lsp/page"},
	"net/http": {"lsp/page"},

	"golang.org/x/text/currency":                 {"calc/quantity"},
	"github.com/agext/levenshtein":               {"schema"},
	"github.com/zclconf/go-cty/cty":              {"schema", "schema/source"},
	"github.com/hashicorp/hcl/v2":                {"schema", "schema/source", "lint/layout"},
	"github.com/hashicorp/hcl/v2/hclsyntax":      {"schema", "schema/source", "lint/layout", "lsp/ide"},
	"github.com/hashicorp/hcl/v2/hclwrite":       {"lint/layout", "lint/linttest"},
	"golang.org/x/image/font":                    {"lint/drawing"},
	"golang.org/x/image/font/gofont/gobold":      {"lint/drawing"},
	"golang.org/x/image/font/gofont/gomono":      {"lint/drawing"},
	"golang.org/x/image/font/gofont/goregular":   {"lint/drawing"},
	"golang.org/x/image/font/sfnt":               {"lint/drawing"},
	"golang.org/x/image/math/fixed":              {"lint/drawing"},
	"golang.org/x/sync/errgroup":                 {"lint/figures"},
	"golang.org/x/sync/semaphore":                {"lsp/server"},
	"golang.org/x/tools/txtar":                   {"lint/linttest"},
	"github.com/hashicorp/go-immutable-radix/v2": {"lsp/server"},
	"go.lsp.dev/jsonrpc2":                        {"lsp/server"},
	"go.lsp.dev/protocol":                        {"lsp/server"},
	"go.lsp.dev/uri":                             {"lsp/server"},
}

// closed are the packages of the standard library that doors must list.
var closed = []string{"os", "os/exec", "os/signal", "net", "net/http", "plugin", "syscall"}

func TestArrowsRunDown(t *testing.T) {
	used := map[string][]string{}
	for _, i := range importsOf(t, "../..") {
		ours, ok := strings.CutPrefix(i.name, "ohmstead/")
		switch {
		case ok && floor(ours) > floor(i.from):
			t.Errorf("%s imports %s, which lies above it", i.file, i.name)
		case ok || i.test || floor(i.from) == len(floors)-1:
		case strings.Contains(i.name, ".") || slices.Contains(closed, i.name):
			if !slices.Contains(doors[i.name], i.from) {
				t.Errorf("%s imports %s, which is not for it", i.file, i.name)
			}
			used[i.name] = append(used[i.name], i.from)
		}
	}
	for name, dirs := range doors {
		for _, d := range dirs {
			if !slices.Contains(used[name], d) {
				t.Errorf("%s may import %s but does not", d, name)
			}
		}
	}
}

// floor is the place of a folder in floors; -1 where none holds it.
func floor(dir string) int {
	for ; dir != "."; dir = filepath.ToSlash(filepath.Dir(dir)) {
		if i := slices.Index(floors, dir); i >= 0 {
			return i
		}
	}
	return -1
}

// arrow is one import of one file.
type arrow struct {
	from, file, name string
	test             bool
}

func importsOf(t *testing.T, root string) []arrow {
	var out []arrow
	for _, top := range []string{"calc", "schema", "lint", "lsp", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			rel, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			from := filepath.ToSlash(filepath.Dir(rel))
			if floor(from) < 0 {
				t.Errorf("%s stands on no floor", from)
			}
			for _, i := range f.Imports {
				name, err := strconv.Unquote(i.Path.Value)
				if err != nil {
					return err
				}
				out = append(out, arrow{from, rel, name, strings.HasSuffix(path, "_test.go")})
			}
			return nil
		})
		if err != nil {
			t.Fatalf("%s: %v", top, err)
		}
	}
	return out
}
