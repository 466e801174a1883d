package sheets

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
)

// woff packs a TrueType font for web pages, to half its size: WOFF 1.0, W3C
// Recommendation 13 December 2012, sections 4 and 5.
func woff(font []byte) []byte {
	const header, entry = 44, 20
	n := int(binary.BigEndian.Uint16(font[4:]))
	var directory, data []byte
	start := header + n*entry
	for i := range n {
		e := font[12+16*i:] // tag, checksum, offset, length
		at, length := binary.BigEndian.Uint32(e[8:]), binary.BigEndian.Uint32(e[12:])
		table := font[at : at+length]
		packed := deflated(table)
		if len(packed) >= len(table) {
			packed = table
		}
		directory = append(directory, e[:4]...)
		for _, v := range []uint32{uint32(start + len(data)), uint32(len(packed)), length, binary.BigEndian.Uint32(e[4:])} {
			directory = binary.BigEndian.AppendUint32(directory, v)
		}
		data = append(data, packed...)
		data = append(data, make([]byte, -len(packed)&3)...)
	}
	total := 12 + 16*n // of the font unpacked, tables at multiples of four
	for i := range n {
		total += (int(binary.BigEndian.Uint32(font[12+16*i+12:])) + 3) &^ 3
	}
	out := append([]byte("wOFF"), font[:4]...)
	out = binary.BigEndian.AppendUint32(out, uint32(start+len(data)))
	out = binary.BigEndian.AppendUint16(out, uint16(n))
	out = binary.BigEndian.AppendUint16(out, 0)
	out = binary.BigEndian.AppendUint32(out, uint32(total))
	out = append(out, make([]byte, header-len(out))...) // no version, metadata, private data
	return append(append(out, directory...), data...)
}

func deflated(data []byte) []byte {
	var b bytes.Buffer
	w, _ := zlib.NewWriterLevel(&b, zlib.BestCompression) // the level is one of the package's
	_, _ = w.Write(data)                                  // a buffer takes everything
	_ = w.Close()
	return b.Bytes()
}
