package schema

import (
	"bytes"
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"ohmstead/schema/source"
)

// With is the plan as it would be with some edits of its and its stock's
// texts: decoded from the very bytes that are then written. Blocks that the
// edits do not concern are shared with p. Edits outside of these texts or that
// overlap are an error.
func (p *Plan) With(edits []Edit) (*Plan, error) {
	texts, err := p.Edited(edits)
	if err != nil {
		return nil, err
	}
	now := func(files []*source.File) []*source.File {
		out := slices.Clone(files)
		for i, f := range out {
			if data, ok := texts[f.Text.Path()]; ok {
				out[i] = f.Update(source.NewText(f.Text.Path(), data))
			}
		}
		return out
	}
	stock := map[string][]*source.File{}
	for _, f := range now(p.StockFiles) {
		dir := path.Dir(f.Text.Path())
		stock[dir] = append(stock[dir], f)
	}
	r := newResolver(p.Dir, version{records: recordsOf(slices.Concat(p.Blocks, p.Stock))})
	return r.decode(now(p.Files), func(dir string) ([]*source.File, error) { return stock[dir], nil }), nil
}

// Edited gives the texts, by path, that edits of the plan's and its stock's
// files make, with the line ends of each file.
func (p *Plan) Edited(edits []Edit) (map[string][]byte, error) {
	type change struct {
		start, end int
		text       string
	}
	changes := map[*source.File][]change{}
	for _, e := range edits {
		f, start, end, ok := p.Locate(e.At)
		if !ok {
			return nil, fmt.Errorf("an edit lies outside the plan's files")
		}
		changes[f] = append(changes[f], change{start, end, e.New})
	}
	out := map[string][]byte{}
	for f, list := range changes {
		slices.SortStableFunc(list, func(a, b change) int { return cmp.Or(a.start-b.start, a.end-b.end) })
		var data []byte
		old, at := f.Text.Bytes(), 0
		end := bytes.IndexByte(old, '\n') // of the first line: all end like it
		windows := end > 0 && old[end-1] == '\r'
		for _, c := range list {
			if c.start < at {
				return nil, fmt.Errorf("edits at bytes %d and %d of %s overlap", at, c.start, f.Text.Path())
			}
			if windows {
				c.text = strings.ReplaceAll(strings.ReplaceAll(c.text, "\r\n", "\n"), "\n", "\r\n")
			}
			data = append(append(data, old[at:c.start]...), c.text...)
			at = c.end
		}
		out[f.Text.Path()] = append(data, old[at:]...)
	}
	return out, nil
}
