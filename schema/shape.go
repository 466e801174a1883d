package schema

import (
	"fmt"
	"reflect"
	"sync"
)

// shape says which field of a typed block holds which attribute or block.
type shape struct {
	attrs      map[string]int
	refs       []int // the attributes that hold other blocks
	blocks     []int
	blockNames []string
}

var shapes sync.Map // reflect.Type -> *shape: a cache of what the types say

func shapeOf(t reflect.Type) *shape {
	if s, ok := shapes.Load(t); ok {
		return s.(*shape)
	}
	s := &shape{attrs: map[string]int{}}
	for i := range t.NumField() {
		if name, ok := t.Field(i).Tag.Lookup("attr"); ok {
			s.attrs[name] = i
			if reflect.New(t.Field(i).Type).Interface().(field).refers() {
				s.refs = append(s.refs, i)
			}
		}
		if name, ok := t.Field(i).Tag.Lookup("block"); ok {
			s.blocks = append(s.blocks, i)
			s.blockNames = append(s.blockNames, name)
		}
	}
	shapes.Store(t, s)
	return s
}

var defaults sync.Map // *Attr -> any: a cache of the declared defaults, read once

// defaultOf reads a declared default with the same conversion as a plan's text.
func defaultOf(a *Attr) any {
	if d, ok := defaults.Load(a); ok {
		return d
	}
	d, err := readDefault(a)
	if err != nil {
		panic(fmt.Sprintf("schema: default of %s: %v", a.Name, err)) // a declaration is wrong; its test says so
	}
	defaults.Store(a, d)
	return d
}
