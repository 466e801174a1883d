package ide

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ohmstead/calc/thorough"
	"ohmstead/lint/layout"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

func planOf(texts map[string]string) *schema.Plan {
	var files []*source.File
	for _, p := range slices.Sorted(maps.Keys(texts)) {
		files = append(files, source.Parse(source.NewText(p, []byte(texts[p]))))
	}
	return schema.Decode("p", files, nil)
}

// speltSorted is what a plan says, block by block, whatever their order.
func speltSorted(t *testing.T, p *schema.Plan) []string {
	t.Helper()
	var out []string
	for _, b := range p.Blocks {
		var text bytes.Buffer
		if err := resolved.Write(&text, []schema.Block{b}); err != nil {
			t.Fatal(err)
		}
		out = append(out, text.String())
	}
	for _, x := range p.Problems {
		out = append(out, x.Rule+": "+x.Message)
	}
	slices.Sort(out)
	return out
}

// Each block of each demo plan, cut into two files, goes to the other file and to a new one: the plan says the same, no
// comment is lost, both files are laid out as before, with one blank line where there was one.
func TestMoves(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/plans/*/plan.ohm.hcl")
	short, _ := filepath.Glob("../../testdata/shortforms/*/plan.ohm.hcl")
	moved := 0
	for i, name := range append(files, short...) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		whole := string(data)
		if i%3 == 2 {
			whole = strings.ReplaceAll(whole, "\n", "\r\n")
		}
		f := source.Parse(source.NewText("", []byte(whole)))
		half := f.Offset(len(f.Pieces) / 2)
		texts := map[string]string{"p/plan.ohm.hcl": whole[:half], "p/rest.ohm.hcl": whole[half:]}
		plan := planOf(texts)
		was := speltSorted(t, plan)
		for _, file := range plan.Files {
			v := &View{Plan: plan, File: file, NewFiles: true}
			for _, p := range file.Pieces {
				for _, n := range schema.NodesIn(p) {
					at, _ := v.Locate(n.Head)
					h, _ := v.hit(at.Start)
					actions := v.moves(h)
					if len(actions) < 2 {
						t.Errorf("%s: %s: only %d places to go to", name, n.Type, len(actions))
					}
					for _, a := range actions {
						if moved++; moved%thorough.Or(1, 10) > 0 {
							continue
						}
						now := maps.Clone(texts)
						for _, e := range a.Edits {
							now[e.Path] = now[e.Path][:e.Start] + e.New + now[e.Path][e.End:]
						}
						after := planOf(now)
						if !slices.Equal(speltSorted(t, after), was) {
							t.Errorf("%s: %s: the plan says something else", name, a.Title)
						}
						comments := 0
						for path, text := range now {
							comments += strings.Count(text, "#")
							if laid, err := layout.Format([]byte(text)); err != nil || len(text) > 0 && string(laid) != text {
								t.Errorf("%s: %s: %s is not laid out: %v", name, a.Title, path, err)
							}
							if plain := strings.ReplaceAll(text, "\r\n", "\n"); strings.HasPrefix(plain, "\n") || strings.Contains(plain, "\n\n\n") || strings.HasSuffix(plain, "\n\n") && path != "p/plan.ohm.hcl" {
								t.Errorf("%s: %s: blank lines in %s", name, a.Title, path)
							}
							if n := strings.Count(text, "\r"); n > 0 && n != strings.Count(text, "\n") {
								t.Errorf("%s: %s: two kinds of line ends in %s", name, a.Title, path)
							}
						}
						if comments != strings.Count(whole, "#") {
							t.Errorf("%s: %s: %d of %d comments are left", name, a.Title, comments, strings.Count(whole, "#"))
						}
					}
				}
			}
		}
	}
	if moved < 100 {
		t.Errorf("only %d moves", moved)
	}
}
