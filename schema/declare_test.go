package schema

import (
	"reflect"
	"strings"
	"testing"

	"ohmstead/schema/source"
)

// everyType walks the declared block types, nested ones too, each once.
func everyType(visit func(path string, t *BlockType)) {
	var walk func(path string, t *BlockType)
	walk = func(path string, t *BlockType) {
		visit(path, t)
		for _, n := range t.Blocks {
			if _, top := TypeNamed(n.Name); top || n.Varies != nil {
				continue // declared elsewhere
			}
			walk(path+"."+n.Name, n)
		}
	}
	for _, t := range Language {
		walk(t.Name, t)
	}
}

// Each declaration is complete, has a field of the right type for its value,
// and its default and example are accepted by the very conversion that plans
// go through.
func TestDeclarationsAreSound(t *testing.T) {
	everyType(func(path string, bt *BlockType) {
		if bt.Doc == "" || !strings.HasSuffix(bt.Doc, ".") {
			t.Errorf("%s: doc %q is not a sentence", path, bt.Doc)
		}
		form := bt.form()
		shape := shapeOf(reflect.TypeOf(form).Elem())
		names := map[string]bool{}
		for i := range bt.Attrs {
			a := &bt.Attrs[i]
			where := path + "." + a.Name
			if a.Kind == Values {
				continue
			}
			if names[a.Name] {
				t.Errorf("%s is declared twice", where)
			}
			names[a.Name] = true
			if a.Doc == "" || !strings.HasSuffix(a.Doc, ".") {
				t.Errorf("%s: doc %q is not a sentence", where, a.Doc)
			}
			if a.Required && a.Default != "" {
				t.Errorf("%s is required and has a default", where)
			}
			if a.Kind == Choice && len(a.Choices) == 0 {
				t.Errorf("%s has no choices", where)
			}
			if (a.Kind == Reference || a.Kind == References) && len(a.Types) == 0 || a.Kind == Place && len(a.Places) == 0 {
				t.Errorf("%s names nothing that it may refer to", where)
			}
			index, ok := shape.attrs[a.Name]
			if !ok {
				t.Errorf("%s has no field", where)
				continue
			}
			f, ok := reflect.ValueOf(bt.form()).Elem().Field(index).Addr().Interface().(field)
			if !ok {
				t.Errorf("%s: its field is not a Value", where)
				continue
			}
			if a.Default != "" {
				f.setDefault(defaultOf(a))
			}
			if x, ok := exampleOf(t, a); !ok {
				t.Errorf("%s: example %s is not accepted", where, a.Example)
			} else if x != nil {
				f.put(x, source.Span{})
			}
		}
		for name := range shape.attrs {
			if !names[name] {
				t.Errorf("%s: field for %q is not declared", path, name)
			}
		}
		for i, name := range shape.blockNames {
			if name == "*" {
				continue
			}
			if _, ok := bt.Block(name); !ok {
				t.Errorf("%s: field %d for block %q is not declared", path, i, name)
			}
		}
	})
}

// exampleOf converts an attribute's example; references and places, which need
// a plan around them, give nil.
func exampleOf(t *testing.T, a *Attr) (any, bool) {
	t.Helper()
	switch a.Kind {
	case Reference, References, OrderedRuns, Place, Places:
		return nil, a.Example != ""
	}
	if a.Example == "" {
		return nil, false
	}
	b := *a
	b.Default = a.Example
	x, err := readDefault(&b)
	if err != nil {
		t.Errorf("%s: %v", a.Name, err)
	}
	return x, err == nil
}

// Each block's example is a block of its type whose text makes sense by itself.
func TestExamplesDecode(t *testing.T) {
	everyType(func(path string, bt *BlockType) {
		if bt.Example == "" {
			if !strings.Contains(path, ".") {
				t.Errorf("%s has no example", path)
			}
			return
		}
		if strings.Contains(path, ".") {
			return
		}
		p := decode(t, bt.Example)
		for _, pr := range p.Problems {
			switch pr.Rule {
			case RulePlanMissing, RuleRefUnknown: // it stands alone
			case RuleAttrMissing:
				if bt != runsType { // which leaves it to what is usual
					t.Errorf("%s: %s: %s", path, pr.Rule, pr.Message)
				}
			default:
				t.Errorf("%s: %s: %s", path, pr.Rule, pr.Message)
			}
		}
	})
}
