package terminal

import "testing"

// Every mark that turns the direction of writing is replaced (Unicode Standard
// Annex 9: U+200E, U+200F, U+202A to U+202E, U+2066 to U+2069) and what takes no
// place is replaced, its neighbours are kept.
func TestPrintable(t *testing.T) {
	for r, kept := range map[rune]bool{
		0x200a: true, 0x200b: false, 0x200f: false, 0x2010: true, 0x2027: true, 0x2028: false, 0x2029: false, 0x202a: false, 0x202e: false, 0x202f: true,
		0x2065: true, 0x2066: false, 0x2069: false, 0x206a: false, 0x2070: true, 0xfeff: false, 0xad: true, 0x1b: false, 0x7f: false, 0x9b: false, 'é': true,
	} {
		if got := Printable(string(r)); (got == string(r)) != kept {
			t.Errorf("%U becomes %q", r, got)
		}
	}
	if got := Printable("a\tb\nc\xff"); got != "a b c\ufffd" {
		t.Errorf("%q", got)
	}
}

// Letters of East Asia are wide, marks on letters take no place (Unicode Standard Annex 11).
func TestWidth(t *testing.T) {
	for s, want := range map[string]int{"": 0, "abc": 3, "é": 1, "e\u0301": 1, "語": 2, "ｱ": 1, "Ａ": 2, "😀": 2} {
		if got := Width(s); got != want {
			t.Errorf("%q is %d wide, want %d", s, got, want)
		}
	}
	if got := Cut("a語b", 3) + "|" + Keep("a語b", 3); got != "b|a語" {
		t.Error(got)
	}
}

func TestPlain(t *testing.T) {
	const page = "# Head\n\n**run.a**: *least* `4 V`, a\\<b and \\![x]\\(y)\n\n````ohmstead\nrun \"a\" {} # ```\n````\n- along: `▁█`\n\n"
	const want = "<Head>\n\n<run.a>: least 4 V, a<b and ![x]\\(y)\n\n    run \"a\" {} # ```\n- along: ▁█\n"
	if got := Plain(page, func(s string) string { return "<" + s + ">" }); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}
