package sheets

import (
	"bytes"
	"context"
	"io"
	"strings"

	"ohmstead/lint/lists"
)

// File is one file that sheets are written as.
type File struct {
	Name string
	Data []byte
}

// Forms is how often Files tells of its progress.
const Forms = 4

// Files writes a document in all its forms, those that are looked at first
// first. step is called Forms times on the way.
func (d *Document) Files(ctx context.Context, paper Paper, margin float64, step func()) ([]File, error) {
	var out []File
	seen := map[string]bool{}
	add := func(name string, data []byte, err error) error {
		if err == nil {
			err = ctx.Err()
		}
		if err != nil || seen[name] {
			return err
		}
		seen[name] = true
		out = append(out, File{name, data})
		return nil
	}
	stem := d.Stem()
	data, err := d.PDF(ctx, paper, margin)
	if err := add(stem+".pdf", data, err); err != nil {
		return nil, err
	}
	step()
	data, err = d.HTML()
	if err := add(stem+".html", data, err); err != nil {
		return nil, err
	}
	step()
	var tables []*lists.Table
	for _, s := range d.Sheets {
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case Picture:
				if b.File != "" {
					if err := add(stem+"-"+plain(b.File)+".svg", withType(b.Scene.SVG()), nil); err != nil {
						return nil, err
					}
				}
			case Attached:
				if err := add(stem+"-"+b.Name, b.Data, nil); err != nil {
					return nil, err
				}
			case Table:
				if b.Name == "" {
					continue // words for people
				}
				tables = append(tables, b.Table)
				if err := add(stem+"-"+plain(b.Name)+".csv", written(b.CSV), nil); err != nil {
					return nil, err
				}
			case Data:
				tables = append(tables, b.Table)
				if err := add(stem+"-"+plain(b.Name)+".csv", written(b.CSV), nil); err != nil {
					return nil, err
				}
				if b.JSON {
					if err := add(stem+"-"+plain(b.Name)+".json", written(b.Table.JSON), nil); err != nil {
						return nil, err
					}
				}
			}
		}
	}
	step()
	if len(tables) > 0 {
		data, err := workbook(tables)
		if err := add(stem+"-lists.xlsx", data, err); err != nil {
			return nil, err
		}
	}
	step()
	return out, nil
}

// Stem is what the names of all files of a document begin with.
func (d *Document) Stem() string {
	if s := plain(d.Name); s != "" {
		return s
	}
	return "plan"
}

// written is what something writes; a buffer takes everything.
func written(to func(io.Writer) error) []byte {
	var b bytes.Buffer
	_ = to(&b)
	return b.Bytes()
}

// plain is a name in letters that every file system takes.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, short(s, 60))
	return strings.Trim(s, "-")
}
