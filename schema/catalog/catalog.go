// Package catalog holds the built-in catalogue: strips, diffusers, wires,
// fixings, joints and controller boards, written in the plan language itself.
//
// Entries describe kinds of part, not makes. Each says in its source where its
// values come from; a value from a part's own sheet or meter always goes
// before them. Names are unique across all files and block types, because a
// plan refers to an entry as catalog.NAME whatever its type.
package catalog

import "embed"

// Files are the catalogue's files, *.ohm.hcl, in the root of the file system.
//
//go:embed *.ohm.hcl
var Files embed.FS
