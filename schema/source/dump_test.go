package source

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// dumpBody writes out what a body holds, by offset, with every range moved by shift and without lines and columns.
func dumpBody(body *hclsyntax.Body, shift int) []string {
	type item struct {
		start int
		node  any
	}
	var items []item
	for _, a := range body.Attributes {
		items = append(items, item{a.NameRange.Start.Byte, a})
	}
	for _, b := range body.Blocks {
		items = append(items, item{b.TypeRange.Start.Byte, b})
	}
	slices.SortFunc(items, func(a, b item) int { return a.start - b.start })
	var lines []string
	for _, i := range items {
		var out strings.Builder
		dump(&out, reflect.ValueOf(i.node), shift)
		lines = append(lines, out.String())
	}
	return lines
}

func dump(out *strings.Builder, v reflect.Value, shift int) {
	switch x := v.Interface().(type) {
	case hcl.Range:
		fmt.Fprintf(out, "%d-%d", x.Start.Byte+shift, x.End.Byte+shift)
		return
	case cty.Value:
		fmt.Fprintf(out, "%#v", x)
		return
	case *hclsyntax.Operation:
		fmt.Fprintf(out, "%p", x)
		return
	case *hclsyntax.Body:
		fmt.Fprintf(out, "{%s}", strings.Join(dumpBody(x, shift), " "))
		return
	case hcl.Diagnostics:
		return
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			out.WriteString("nil")
			return
		}
		dump(out, v.Elem(), shift)
	case reflect.Struct:
		fmt.Fprintf(out, "%s(", v.Type().Name())
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				fmt.Fprintf(out, "%s:", f.Name)
				dump(out, v.Field(i), shift)
				out.WriteByte(' ')
			}
		}
		out.WriteByte(')')
	case reflect.Slice:
		out.WriteByte('[')
		for i := range v.Len() {
			dump(out, v.Index(i), shift)
			out.WriteByte(' ')
		}
		out.WriteByte(']')
	default:
		fmt.Fprintf(out, "%v", v)
	}
}

// dumpFile writes out everything that a file says, so that two of them can be compared.
func dumpFile(f *File) string {
	var out strings.Builder
	if r := f.Refused(); r != nil {
		fmt.Fprintf(&out, "refused %v\n", *r)
	}
	for i, p := range f.Pieces {
		fmt.Fprintf(&out, "%d %q\n%v\n%s\n", f.Offset(i), p.Bytes(), p.Problems(), strings.Join(dumpBody(p.Body(), 0), "\n"))
	}
	return out.String()
}
