package server

import (
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"sync"
)

// metaModel is the machine-readable form in which the protocol is publishedModel
// (Language Server Protocol 3.18, metaModel.json): every method with its
// params and result, every structure with its properties. It ships with the
// protocol module that the server is built with.
type metaModel struct {
	Requests, Notifications []metaMessage
	Structures              []metaStructure
	Enumerations            []metaEnumeration
	TypeAliases             []struct {
		Name string
		Type metaType
	}

	messages   map[string]*metaMessage
	structures map[string]map[string]metaProperty // with all that they take over
	enums      map[string]*metaEnumeration
	aliases    map[string]*metaType
}

type metaMessage struct {
	Method              string
	MessageDirection    string
	ClientCapability    string // where the client says that it knows the method
	RegistrationMethod  string
	Params, Result      *metaType
	RegistrationOptions *metaType
}

type metaStructure struct {
	Name            string
	Extends, Mixins []metaType
	Properties      []metaProperty
}

type metaProperty struct {
	Name     string
	Type     metaType
	Optional bool
}

type metaEnumeration struct {
	Name                 string
	Type                 metaType
	Values               []struct{ Value any }
	SupportsCustomValues bool
}

type metaType struct {
	Kind, Name string
	Element    *metaType
	Items      []metaType
	Value      json.RawMessage // a type, a text or a structure, by kind
}

// publishedModel reads the meta model once.
var publishedModel = sync.OnceValues(func() (*metaModel, error) {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "go.lsp.dev/protocol").Output()
	if err != nil {
		return nil, fmt.Errorf("where the protocol module lies: %w", err)
	}
	data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "internal", "genlsp", "testdata", "metaModel.json"))
	if err != nil {
		return nil, err
	}
	m := &metaModel{messages: map[string]*metaMessage{}, structures: map[string]map[string]metaProperty{}, enums: map[string]*metaEnumeration{}, aliases: map[string]*metaType{}}
	if err := json.Unmarshal(data, m); err != nil {
		return nil, err
	}
	for _, list := range [][]metaMessage{m.Requests, m.Notifications} {
		for i := range list {
			m.messages[list[i].Method] = &list[i]
		}
	}
	byName := map[string]*metaStructure{}
	for i := range m.Structures {
		byName[m.Structures[i].Name] = &m.Structures[i]
	}
	for name := range byName {
		m.structures[name] = map[string]metaProperty{}
		var take func(s *metaStructure)
		take = func(s *metaStructure) {
			for _, t := range append(slices.Clone(s.Extends), s.Mixins...) {
				take(byName[t.Name])
			}
			for _, p := range s.Properties { // last, as it may narrow what it takes over
				m.structures[name][p.Name] = p
			}
		}
		take(byName[name])
	}
	for i := range m.Enumerations {
		m.enums[m.Enumerations[i].Name] = &m.Enumerations[i]
	}
	for i := range m.TypeAliases {
		m.aliases[m.TypeAliases[i].Name] = &m.TypeAliases[i].Type
	}
	return m, nil
})

// structured is a value that stands where the protocol has a structure.
type structured struct {
	name, path string
	value      map[string]any
}

// verdict is what is wrong with a value, and the structures that it is made of.
type verdict struct {
	wrong []string
	made  []structured
}

func (v *verdict) add(o verdict) {
	v.wrong, v.made = append(v.wrong, o.wrong...), append(v.made, o.made...)
}

func fault(path, format string, args ...any) verdict {
	return verdict{wrong: []string{path + ": " + fmt.Sprintf(format, args...)}}
}

// judge holds a value, as encoding/json decodes it with numbers kept, against
// a type of the protocol.
func (m *metaModel) judge(path string, t *metaType, v any) (out verdict) {
	switch t.Kind {
	case "base":
		return judgeBase(path, t.Name, v)
	case "reference":
		return m.judgeNamed(path, t.Name, v)
	case "array":
		list, ok := v.([]any)
		if !ok {
			return fault(path, "%T is no list", v)
		}
		for i, x := range list {
			out.add(m.judge(fmt.Sprintf("%s[%d]", path, i), t.Element, x))
		}
	case "tuple":
		list, ok := v.([]any)
		if !ok || len(list) != len(t.Items) {
			return fault(path, "%v is no tuple of %d", v, len(t.Items))
		}
		for i, x := range list {
			out.add(m.judge(fmt.Sprintf("%s[%d]", path, i), &t.Items[i], x))
		}
	case "map":
		object, ok := v.(map[string]any)
		if !ok {
			return fault(path, "%T is no object", v)
		}
		var of metaType
		if err := json.Unmarshal(t.Value, &of); err != nil {
			return fault(path, "the meta model: %v", err)
		}
		for k, x := range object {
			out.add(m.judge(path+"["+k+"]", &of, x))
		}
	case "or": // the arm that fits best speaks
		best := fault(path, "no type at all")
		for i := range t.Items {
			arm := m.judge(path, &t.Items[i], v)
			if i == 0 || len(arm.wrong) < len(best.wrong) {
				best = arm
			}
		}
		return best
	case "stringLiteral":
		var want string
		if err := json.Unmarshal(t.Value, &want); err != nil || v != want {
			return fault(path, "%v is not %q", v, want)
		}
	case "literal":
		var s metaStructure
		if err := json.Unmarshal(t.Value, &s); err != nil {
			return fault(path, "the meta model: %v", err)
		}
		properties := map[string]metaProperty{}
		for _, p := range s.Properties {
			properties[p.Name] = p
		}
		return m.judgeStructure(path, "a literal", properties, v)
	case "and": // no message has one; registrations do
		all := map[string]metaProperty{}
		for _, i := range t.Items {
			for k, p := range m.structures[i.Name] {
				all[k] = p
			}
		}
		return m.judgeStructure(path, "several", all, v)
	default:
		return fault(path, "the meta model has a type of the kind %q", t.Kind)
	}
	return out
}

func (m *metaModel) judgeNamed(path, name string, v any) verdict {
	switch {
	case name == "LSPAny":
		return verdict{}
	case m.structures[name] != nil:
		return m.judgeStructure(path, name, m.structures[name], v)
	case m.aliases[name] != nil:
		return m.judge(path, m.aliases[name], v)
	}
	e := m.enums[name]
	out := m.judge(path, &e.Type, v)
	if len(out.wrong) == 0 && !e.SupportsCustomValues &&
		!slices.ContainsFunc(e.Values, func(x struct{ Value any }) bool { return fmt.Sprint(x.Value) == fmt.Sprint(v) }) {
		out.add(fault(path, "%v is no %s", v, name))
	}
	return out
}

func (m *metaModel) judgeStructure(path, name string, properties map[string]metaProperty, v any) (out verdict) {
	object, ok := v.(map[string]any)
	if !ok {
		return fault(path, "%T where %s belongs", v, name)
	}
	out.made = append(out.made, structured{name, path, object})
	for k, p := range properties {
		x, there := object[k]
		switch {
		case there:
			out.add(m.judge(path+"."+k, &p.Type, x))
		case !p.Optional:
			out.add(fault(path, "%s lacks %s", name, k))
		}
	}
	for k := range object {
		if _, known := properties[k]; !known {
			out.add(fault(path, "%s has no property %s", name, k))
		}
	}
	sort.Strings(out.wrong)
	return out
}

func judgeBase(path, name string, v any) verdict {
	number := func(least, most int64) verdict {
		n, ok := v.(json.Number)
		i, err := n.Int64()
		if !ok || err != nil || i < least || i > most {
			return fault(path, "%v is no %s", v, name)
		}
		return verdict{}
	}
	ok := false
	switch name {
	case "integer":
		return number(-1<<31, 1<<31-1)
	case "uinteger":
		return number(0, 1<<31-1)
	case "decimal":
		_, ok = v.(json.Number)
	case "string", "RegExp":
		_, ok = v.(string)
	case "URI", "DocumentUri":
		s, text := v.(string)
		u, err := url.Parse(s)
		ok = text && err == nil && u.Scheme != ""
	case "boolean":
		_, ok = v.(bool)
	case "null":
		ok = v == nil
	}
	if !ok {
		return fault(path, "%v (%T) is no %s", v, v, name)
	}
	return verdict{}
}
