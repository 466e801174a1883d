package compare

import "io"

// HTML is a stub.
func HTML(w io.Writer, r *Report) error { return nil }
