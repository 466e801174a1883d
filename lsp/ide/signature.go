package ide

import "ohmstead/schema"

// Signature is help with the call of a function.
type Signature struct {
	Label  string // scale(value, factor)
	Doc    string // Markdown
	Params []Parameter
	Active int // index of the parameter at the cursor
}

// Parameter is one parameter: the bytes Start to End of the signature's label.
type Parameter struct {
	Range
	Doc string
}

// SignatureAt helps with the innermost call around an offset.
func SignatureAt(v *View, offset int) (Signature, bool) {
	s, ok := v.spot(offset)
	if !ok {
		return Signature{}, false
	}
	c := s.cursor(v)
	for i := len(c.frames) - 1; i > 0; i-- {
		f := c.frames[i]
		if f.kind == blockFrame {
			break
		}
		if f.kind != callFrame {
			continue
		}
		fn, ok := schema.FunctionNamed(f.word)
		if !ok {
			break
		}
		label, at := call(fn)
		out := Signature{Label: label, Doc: functionDoc(fn), Active: min(f.items, len(fn.Params)-1)}
		for j, p := range fn.Params {
			out.Params = append(out.Params, Parameter{at[j], p.Doc})
		}
		return out, true
	}
	return Signature{}, false
}
