// Package source holds the text of plan files: immutable versions of a file, positions in it, and a parse that is cut
// into pieces.
//
// A file is cut before each top-level block, and each piece is parsed by itself. That serves two ends with one code
// path. A mistake in one block cannot hide the blocks after it, and after a keystroke only the piece that changed is
// read again, since every other piece is carried over from the version before.
//
// A broken text is taken apart in three steps, which share the scanner and do not replace each other. Cutting (cut.go)
// comes before any parse and looks only ahead, so that a cut stays valid while the text before it changes. Setting aside
// (recover.go, outline.go) goes by what the parser says of one piece, and by the indentation, which cutting must not
// trust. Mending (repair.go) concerns only the ranges that the parser leaves unset in a tree that it did make.
//
// Everything here is a pure function of the bytes. Values are immutable and safe for concurrent use; nothing here does
// I/O. Positions are byte offsets; [Text.OffsetPosition] and [Text.PositionOffset] convert them for editors and people.
//
// Hostile input is refused by size, nesting and shape before it reaches code whose cost or stack grows out of hand; the
// refusal is a [Problem] that names the place, the size, the limit and the remedy.
package source
