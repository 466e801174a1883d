package ide

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
func SignatureAt(v *View, offset int) (Signature, bool) { return Signature{}, false }
