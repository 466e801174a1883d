// Package affected finds the plans that a change of some directories can
// change, without decoding any: it reads the plan files only as far as it takes
// to see whether there is a plan and what its stock is.
package affected

import (
	"bytes"
	"maps"
	"path"
	"slices"

	"ohmstead/cmd/ohmstead/internal/workspace"
	"ohmstead/schema"
)

// Tree is what is known of the directories of a workspace.
type Tree struct {
	w    *workspace.Workspace
	dirs map[string]*dir
}

type dir struct {
	names []string
	read  bool
	plan  bool     // it holds a plan, not only parts
	stock []string // directories that its plan block names
}

// Of lists the directories of a workspace that hold plan files.
func Of(w *workspace.Workspace) (*Tree, error) {
	t := &Tree{w: w, dirs: map[string]*dir{}}
	var first error
	note := func(err error) {
		if first == nil {
			first = err
		}
	}
	err := w.PlanFiles(".", func(name string) {
		d := path.Dir(name)
		if t.dirs[d] == nil {
			t.dirs[d] = &dir{}
		}
		t.dirs[d].names = append(t.dirs[d].names, name)
	}, note)
	if err != nil {
		return nil, err
	}
	return t, first
}

// Files lists the plan files of all directories.
func (t *Tree) Files() []string {
	var out []string
	for _, d := range t.dirs {
		out = append(out, d.names...)
	}
	slices.Sort(out)
	return out
}

// Plans lists the directories that hold a plan.
func (t *Tree) Plans() []string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(t.dirs)) {
		if t.IsPlan(name) {
			out = append(out, name)
		}
	}
	return out
}

// IsPlan reports whether a directory holds a plan.
func (t *Tree) IsPlan(name string) bool {
	d := t.look(name)
	return d != nil && d.plan
}

// By lists the plans that a change of some directories can change: those in
// them, and those whose stock, or their stock's stock, they are.
func (t *Tree) By(changed []string) []string {
	var out []string
	for _, name := range t.Plans() {
		if slices.Contains(changed, name) || t.uses(name, changed, map[string]bool{}) {
			out = append(out, name)
		}
	}
	return out
}

func (t *Tree) uses(name string, changed []string, seen map[string]bool) bool {
	d := t.look(name)
	if d == nil || seen[name] {
		return false
	}
	seen[name] = true
	for _, s := range d.stock {
		if slices.Contains(changed, s) || t.uses(s, changed, seen) {
			return true
		}
	}
	return false
}

// look reads a directory's files as far as needed.
func (t *Tree) look(name string) *dir {
	d := t.dirs[name]
	if d == nil || d.read {
		return d
	}
	d.read = true
	known := 0
	for _, f := range d.names {
		file, err := t.w.File(f)
		if err != nil || file.Refused() != nil {
			d.plan = true // whoever decodes it says what is wrong
			continue
		}
		for _, p := range file.Pieces {
			stock := bytes.Contains(p.Bytes(), []byte("stock"))
			if d.plan && !stock {
				continue
			}
			for _, n := range schema.NodesIn(p) {
				known++
				if bt, ok := schema.TypeNamed(n.Type); !ok || !bt.Part {
					d.plan = true
				}
				if n.Type == "plan" {
					d.stock = append(d.stock, stockOf(n, name)...)
				}
			}
		}
	}
	d.plan = d.plan || known == 0
	return d
}

func stockOf(n *schema.Node, dir string) []string {
	a, ok := n.Assign("stock")
	if !ok {
		return nil
	}
	var out []string
	for _, v := range a.Val.Items {
		if v.Kind == schema.TextVal {
			out = append(out, path.Join(dir, v.Text))
		}
	}
	return out
}
