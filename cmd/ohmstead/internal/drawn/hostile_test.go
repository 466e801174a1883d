package drawn

import (
	"strings"
	"testing"
)

// What no drawing program writes is refused or noted, in little time.
func TestHostile(t *testing.T) {
	uses := &strings.Builder{} // each draws the one before ten times
	uses.WriteString(page + `<defs><path id="u0" d="M0 0h9"/>`)
	for i := range 12 {
		n := string(rune('a' + i))
		before := "u0"
		if i > 0 {
			before = "u" + string(rune('a'+i-1))
		}
		uses.WriteString(`<g id="u` + n + `">` + strings.Repeat(`<use href="#`+before+`"/>`, 10) + `</g>`)
	}
	uses.WriteString(`</defs><use href="#ul"/></svg>`)
	chain := &strings.Builder{}
	chain.WriteString(page)
	for i := range 1000 {
		chain.WriteString(`<use id="c` + strings.Repeat("i", i) + `" href="#c` + strings.Repeat("i", i+1) + `"/>`)
	}
	for _, tt := range []struct{ name, svg, refused string }{
		{"empty", "", "there is no element in it"},
		{"text", "hello", "no element"},
		{"html", "<html><svg/></html>", `its first element is "html"`},
		{"foreign root", `<svg xmlns="urn:x"/>`, `its first element is "svg"`},
		{"cut off", page + `<path d="M0`, "broken XML: unexpected EOF"},
		{"unclosed", page + `<g>`, "broken XML"},
		{"crossed", page + `<g><a></g></a></svg>`, "broken XML"},
		{"laughs", `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>` + page + `<text>&b;</text></svg>`, "entities of a drawing's own are not read"},
		{"external entity", `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>` + page + `<text>&x;</text></svg>`, "entities of a drawing's own are not read"},
		{"parameter entity", `<!DOCTYPE svg [<!ENTITY % x SYSTEM "http://example.invalid/x">%x;]>` + page + `<path d="M0 0h9"/></svg>`, ""},
		{"compressed", "\x1f\x8b\x08", "it is compressed"},
		{"utf-16", "\xff\xfe<\x00s\x00", "broken XML"},
		{"charset", `<?xml version="1.0" encoding="EBCDIC"?><svg/>`, "it is written in EBCDIC; save it in UTF-8"},
		{"bad utf-8", page + "<text>\xff\xfe</text></svg>", "broken XML: invalid UTF-8"},
		{"nul", page + "\x00</svg>", "broken XML: illegal character code"},
		{"deep", page + strings.Repeat("<g>", 10_000), "its groups lie more than 256 deep"},
		{"many", page + strings.Repeat("<g/>", maxNodes) + "</svg>", "it has more than 200000 elements"},
		{"huge", strings.Repeat(" ", MaxFile+1), "it has 16777217 bytes; at most 16777216 are read"},
		{"long path", page + `<path d="M0 0` + strings.Repeat("h1v1", 2_500_000) + `"/></svg>`, "it draws more than 100000 lines and curves"},
		{"long nothing", page + `<path d="M0 0` + strings.Repeat("z", 10_000_000) + `"/></svg>`, ""},
		{"many parts", page + `<path d="` + strings.Repeat("M0 0h1", 1_000_000) + `"/></svg>`, "more than 100000"},
		{"many moves", page + `<path d="` + strings.Repeat("M0 0", 500_000) + `"/></svg>`, ""},
		{"long transform", page + `<g transform="` + strings.Repeat("scale(1)", 300_000) + `"/></svg>`, ""},
		{"long list", page + `<polyline points="` + strings.Repeat("0 ", 7_000_000) + `"/></svg>`, "more than 100000"},
		{"long name", page + `<path id="` + strings.Repeat("a ", 1_000_000) + `" d="M0 0h9"/></svg>`, ""},
		{"many classes", `<svg width="1mm" height="1mm"><style>` + strings.Repeat(".a,.b,c.d{e:f}", 20_000) + `</style>` + strings.Repeat(`<path class="`+strings.Repeat("a b ", 1000)+`" d="M0 0h1"/>`, 300) + `</svg>`, ""},
		{"uses of uses", uses.String(), "use elements that draw each other make it large"},
		{"chain of uses", chain.String() + "</svg>", "lie more than 256 deep"},
		{"ring of uses", page + `<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g></svg>`, ""},
		{"overflow", page + `<g transform="scale(1e200)"><g transform="scale(1e200)"><path d="M0 0h1"/><circle r="1"/><ellipse rx="1" ry="2"/></g></g></svg>`, ""},
		{"no size", page + `<g transform="matrix(0 0 0 0 0 0)"><circle r="1"/><ellipse rx="1" ry="2"/><path d="M0 0c1 1 2 2 3 3a1 2 0 0 1 4 4"/></g></svg>`, ""},
		{"tiny", `<svg width="1mm" height="1mm" viewBox="0 0 1e-300 1e-300"><path d="M0 0h1"/><circle r="1e-301"/></svg>`, ""},
		{"doctype open", `<!DOCTYPE svg [`, "broken XML"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Read([]byte(tt.svg), "")
			switch {
			case tt.refused == "" && err != nil:
				t.Errorf("refused: %v", err)
			case tt.refused != "" && (err == nil || !strings.Contains(err.Error(), tt.refused)):
				t.Errorf("%v, want %q", err, tt.refused)
			case err == nil:
				if _, err := d.Plan("p", "p.svg"); err != nil && !strings.Contains(err.Error(), "simplify") {
					t.Error(err)
				}
			}
		})
	}
}

// A run or a plan that is more than the language takes is refused by name.
func TestTooMuchForAPlan(t *testing.T) {
	d := readText(t, page+`<path id="scribble" d="M0 0`+strings.Repeat("c.1 .2.3.4.5.1", 9000)+`"/></svg>`, "")
	if _, err := d.Plan("p", "x.svg"); err == nil || !strings.Contains(err.Error(), "scribble (line 2) has 9000 pieces, more than one run of a plan can say") {
		t.Error(err)
	}
	d = readText(t, page+strings.Repeat(`<path d="M0 0h9"/>`, 12_000)+`</svg>`, "")
	if _, err := d.Plan("p", "x.svg"); err == nil || !strings.Contains(err.Error(), "12000 runs, is more than a plan of one file can say") {
		t.Error(err)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{
		`<path id="a" d="M0 0a1 1 0 011 1z" style="fill:red" class="b"/>`,
		`<style>.a{display:none}</style><g id="g" class="a" transform="rotate(3)"><use href="#g"/></g>`,
		`<svg x="1" viewBox="0 0 2 2" preserveAspectRatio="none"><rect width="50%" height="1cm" rx="1"/></svg>`,
		`<g id="keepout"><rect width="1" height="1"/></g><text>a</text><polygon points="1 1 2 2 3 1"/>`,
		`<path data-part="run" data-of="run.a" d="M0 0h1"/>`,
	} {
		f.Add(s, "")
	}
	f.Add(`<circle r="1"/>`, "1:20")
	f.Fuzz(func(t *testing.T, inside, scale string) {
		if len(inside) > 2000 {
			return
		}
		d, err := Read([]byte(page+inside+"</svg>"), scale)
		if err != nil {
			return
		}
		if _, err := d.Plan("p", "p.svg"); err != nil {
			return
		}
		planned(t, d)
	})
}

func FuzzPathData(f *testing.F) {
	for _, s := range []string{"M0 0h1v1z", "m1.5.5-3e1c1 2 3 4 5 6s1 2 3 4q1 2 3 4t5 6", "M0,0a1 2 3 01.5.5", "M0 0A1e9 1e-9 0 1 1 1e-9 1e9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 2000 {
			return
		}
		all, _ := pathData(text)
		for _, c := range all {
			if s, err := flatten(c, matrix(1e-3, 0, 0, -1e-3, 0, 0), units["mm"]); err == nil {
				if _, err := s.Path(); err != nil {
					t.Error(err)
				}
			}
		}
	})
}
