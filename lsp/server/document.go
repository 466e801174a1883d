package server

import (
	"time"

	"go.lsp.dev/uri"

	"ohmstead/schema/source"
)

// buffer is a document that the client has open. Its text goes before the disk's.
type buffer struct {
	key     string
	uri     uri.URI // as the client writes it
	version int32
	text    *source.Text
}

// document is one file of a directory: its text as open, else as on disk. It
// is never changed.
type document struct {
	key    string
	uri    uri.URI
	buffer *buffer // nil when the client does not have it open
	file   *source.File
	stamp  stamp // of the file on disk when it was read
}

func (d *document) open() bool { return d.buffer != nil }

// stamp tells whether a file has changed since it was read.
type stamp struct {
	size int64
	time time.Time
}

// withText gives the next version of the document.
func (d *document) withText(b *buffer, text *source.Text) *document {
	return &document{key: d.key, uri: b.uri, buffer: b, file: d.file.Update(text)}
}

// over gives the document of a buffer. What is known of the file, which may be
// nil, is shared.
func (b *buffer) over(known *document, name string) *document {
	if known == nil {
		return &document{key: b.key, uri: b.uri, buffer: b, file: source.Parse(b.text.Named(name))}
	}
	if known.buffer == b {
		return known
	}
	return known.withText(b, b.text.Named(name))
}
