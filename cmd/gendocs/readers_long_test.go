//go:build long

package main

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// unread are attributes that no code reads by their typed form, each with why
// it stands in the language all the same.
var unread = map[string]string{
	"PlanHead.stock": "read from the text, before there are typed forms",

	"Strip.source": cited, "Diffuser.source": cited, "Wire.source": cited, "Fixing.source": cited, "Joint.source": cited, "Holder.source": cited, "Consumable.source": cited,
}

const cited = "for people: the catalogue prints it, and a test demands it there"

// short are forms whose blocks stand for others, which take their attributes over as text.
var short = []string{"Assembly", "Chain", "Hop", "Feed", "Branch", "Usual"}

// TestEveryAttributeIsRead finds attributes that a plan may state and that
// nothing makes anything of. Type checking tells the fields of the typed forms
// from others of the same name.
func TestEveryAttributeIsRead(t *testing.T) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Export,Dir,GoFiles,Module", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	type listed struct {
		ImportPath, Export, Dir string
		GoFiles                 []string
	}
	exports := map[string]string{}
	var ours []listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if strings.HasPrefix(p.ImportPath, "ohmstead/") {
			ours = append(ours, p)
		}
	}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	attrs := map[string]string{} // by file and line of the field
	read := map[string]bool{}
	place := func(p token.Pos) string {
		at := fset.Position(p)
		return filepath.Base(at.Filename) + ":" + strconv.Itoa(at.Line)
	}
	for _, p := range ours {
		var files []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
		info := &types.Info{Selections: map[*ast.SelectorExpr]*types.Selection{}}
		if _, err := (&types.Config{Importer: imports}).Check(p.ImportPath, fset, files, info); err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			ast.Inspect(f, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.TypeSpec:
					if s, ok := n.Type.(*ast.StructType); ok && p.ImportPath == "ohmstead/schema" {
						for _, field := range s.Fields.List {
							if field.Tag == nil {
								continue
							}
							tag, _ := strconv.Unquote(field.Tag.Value)
							if slices.Contains(short, n.Name.Name) {
								continue
							}
							if name := reflect.StructTag(tag).Get("attr"); name != "" {
								attrs[place(field.Pos())] = n.Name.Name + "." + name
							}
						}
					}
				case *ast.AssignStmt: // what is only written is not read
					for _, l := range n.Lhs {
						for e, ok := l.(*ast.SelectorExpr); ok; e, ok = e.X.(*ast.SelectorExpr) {
							delete(info.Selections, e)
						}
					}
				case *ast.SelectorExpr:
					if s := info.Selections[n]; s != nil && s.Kind() == types.FieldVal {
						read[place(s.Obj().Pos())] = true
					}
				}
				return true
			})
		}
	}
	if len(attrs) < 150 {
		t.Fatalf("only %d attributes found", len(attrs))
	}
	for at, name := range attrs {
		switch _, allowed := unread[name]; {
		case !read[at] && !allowed:
			t.Errorf("nothing reads %s", name)
		case read[at] && allowed:
			t.Errorf("%s is read after all", name)
		}
	}
}
