// Package resolved reads what a block of a plan says once like, let and the
// functions are followed: attribute by attribute, whatever the block's type.
package resolved

import (
	"reflect"

	"ohmstead/schema"
	"ohmstead/schema/source"
)

// Attr is one attribute that a block, or one that it is like, says.
type Attr struct {
	Name  string
	Decl  *schema.Attr
	Value any // one of the forms of package schema; nil where Bad
	Bad   bool
	At    source.Span // the expression as written, which may stand in another block
}

// Text is the attribute's expression as it was written.
func (a Attr) Text() string { return string(a.At.Bytes()) }

// Attrs lists the attributes that are written for a block, in the order of
// their declaration. Defaults are left out.
func Attrs(b schema.Block) []Attr {
	return attrs(b, func(v reflect.Value) bool { return v.FieldByName("Set").Bool() })
}

// All lists the attributes of a block that have a value, defaults included.
func All(b schema.Block) []Attr {
	return attrs(b, func(v reflect.Value) bool { return v.FieldByName("Set").Bool() || v.FieldByName("Def").Bool() })
}

func attrs(b schema.Block, wanted func(reflect.Value) bool) []Attr {
	h := schema.HeaderOf(b)
	v := reflect.ValueOf(b).Elem()
	fields := map[string]reflect.Value{}
	for i := range v.NumField() {
		if name, ok := v.Type().Field(i).Tag.Lookup("attr"); ok {
			fields[name] = v.Field(i)
		}
	}
	var out []Attr
	for i := range h.Type.Attrs {
		decl := &h.Type.Attrs[i]
		f, ok := fields[decl.Name]
		if !ok || !wanted(f) {
			continue
		}
		a := Attr{Name: decl.Name, Decl: decl, Bad: f.FieldByName("Bad").Bool(), At: f.FieldByName("At").Interface().(source.Span)}
		if !a.Bad {
			a.Value = f.FieldByName("V").Interface()
		}
		out = append(out, a)
	}
	return out
}

// Nested lists the blocks inside a block in the order in which they are declared
// and written.
func Nested(b schema.Block) []schema.Block {
	v := reflect.ValueOf(b).Elem()
	var out []schema.Block
	for i := range v.NumField() {
		if _, ok := v.Type().Field(i).Tag.Lookup("block"); !ok {
			continue
		}
		f := v.Field(i)
		if f.Kind() == reflect.Slice {
			for k := range f.Len() {
				out = append(out, f.Index(k).Interface().(schema.Block))
			}
			continue
		}
		if !f.IsNil() {
			out = append(out, f.Interface().(schema.Block))
		}
	}
	return out
}
