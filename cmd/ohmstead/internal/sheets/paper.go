package sheets

import (
	"fmt"
	"slices"
	"strings"
)

// Paper is a size of paper in mm, standing.
type Paper struct {
	Name          string
	Width, Height float64
}

// papers: the A series of ISO 216 and the sizes of ANSI/ASME Y14.1.
var papers = []Paper{
	{"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841},
	{"Letter", 215.9, 279.4}, {"Legal", 215.9, 355.6}, {"Tabloid", 279.4, 431.8},
}

// PaperNames lists the sizes that there are.
func PaperNames() []string {
	var out []string
	for _, p := range papers {
		out = append(out, p.Name)
	}
	return out
}

// PaperNamed finds a size, however its letters are written.
func PaperNamed(name string) (Paper, error) {
	i := slices.IndexFunc(papers, func(p Paper) bool { return strings.EqualFold(p.Name, name) })
	if i < 0 {
		return Paper{}, fmt.Errorf("there is no paper %q; it takes %s", name, strings.Join(PaperNames(), ", "))
	}
	return papers[i], nil
}

// page is a sheet of paper with its margin.
type page struct {
	Paper
	margin float64 // mm, that no printer reaches
}

// turned is the page on its side.
func (p page) turned() page {
	p.Width, p.Height = p.Height, p.Width
	return p
}

// LeastMargin and MostMargin bound the margin, mm.
const (
	LeastMargin = 3
	MostMargin  = 40
)
