package ide

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ohmstead/lint/layout"
	"ohmstead/lint/resolved"
	"ohmstead/schema"
	"ohmstead/schema/bigplan"
	"ohmstead/schema/source"
)

// action is the one with a title that begins so, on the head of a block.
func action(v *View, n *schema.Node, begins string) *Action {
	at, ok := v.Locate(n.Head)
	if !ok || at.Path != v.File.Text.Path() {
		return nil
	}
	list := Actions(v, Range{at.Start, at.Start})
	if i := slices.IndexFunc(list, func(a Action) bool { return strings.HasPrefix(a.Title, begins) }); i >= 0 {
		return &list[i]
	}
	return nil
}

// after is the view of the one file of a plan after an action.
func after(v *View, a *Action) *View {
	text := v.File.Text.String()
	edits := slices.Clone(a.Edits)
	slices.SortFunc(edits, func(a, b TextEdit) int { return b.Start - a.Start })
	for _, e := range edits {
		text = text[:e.Start] + e.New + text[e.End:]
	}
	return planView(text)
}

func planView(text string) *View {
	f := source.Parse(source.NewText("p/plan.ohm.hcl", []byte(text)))
	return &View{Plan: schema.Decode("p", []*source.File{f}, nil), File: f}
}

// Whatever is said like another block is written out again and means the same all the way: the comments stay,
// and what was laid out stays so.
func TestLikenAndWriteOut(t *testing.T) {
	texts := map[string]string{}
	for _, glob := range []string{"../../testdata/plans/*/plan.ohm.hcl", "../../testdata/shortforms/*/plan.ohm.hcl"} {
		files, _ := filepath.Glob(glob)
		if len(files) == 0 {
			t.Fatal("no plans")
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			texts[filepath.Base(filepath.Dir(f))] = string(data)
		}
	}
	texts["wall"] = bigplan.Wall(1)
	likened, lines := 0, 0
	for name, text := range texts {
		v := planView(text)
		var nodes []*schema.Node
		for _, p := range v.File.Pieces {
			for _, n := range schema.NodesIn(p) {
				nodes = append(append(nodes, n), n.Blocks...)
			}
		}
		if name == "wall" {
			nodes = nodes[:20]
		}
		for _, n := range nodes {
			a := action(v, n, "Say ")
			if a == nil {
				continue
			}
			likened++
			once := after(v, a)
			lines += strings.Count(text, "\n") - strings.Count(once.File.Text.String(), "\n")
			if !resolved.Alike(v.Plan, once.Plan) {
				t.Errorf("%s: %s: says something else", name, a.Title)
			}
			if now, err := layout.Format(once.File.Text.Bytes()); err != nil || !bytes.Equal(now, once.File.Text.Bytes()) {
				t.Errorf("%s: %s: not laid out: %v", name, a.Title, err)
			}
			if x, y := strings.Count(text, "#"), strings.Count(once.File.Text.String(), "#"); x != y {
				t.Errorf("%s: %s: %d comments of %d are left", name, a.Title, y, x)
			}
			b, _ := once.Plan.Find(n.Type + "." + n.Label())
			if b == nil { // a member of an assembly, or copies
				continue
			}
			out := action(once, schema.HeaderOf(b).Node, "Write out what ")
			if out == nil {
				t.Errorf("%s: %s: cannot be written out", name, a.Title)
			} else if twice := after(once, out); !resolved.Alike(v.Plan, twice.Plan) {
				t.Errorf("%s: %s, written out, says something else", name, a.Title)
			}
		}
	}
	t.Logf("%d blocks said like another one, %d lines less", likened, lines)
	if likened < 20 {
		t.Error("hardly anything was tried")
	}
}
