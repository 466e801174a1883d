package schema

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"ohmstead/calc/quantity"
)

// Every attribute whose values are numbers has a range, and the decoder holds
// it to both ends in every unit: the limit that a message names is accepted (but
// where it says "more than"), the next value beyond is refused at its place,
// with the attribute, the value and the range.
func TestLimitsHold(t *testing.T) {
	everyType(func(path string, bt *BlockType) {
		for i := range bt.Attrs {
			a := &bt.Attrs[i]
			where := path + "." + a.Name
			measured := a.Kind == Measure || a.Kind == Measures || a.Kind == MeasureEach || a.Kind == LetterMeasure || a.Kind == LetterShare || a.Kind == Coordinates || a.Kind == Polyline
			if measured != (a.Dim != quantity.None) {
				t.Errorf("%s: measures %v, dimension %v", where, measured, a.Dim)
			}
			if (a.Limits() != "") != (measured || a.Kind == Integer) {
				t.Errorf("%s: limits %q of a kind %d", where, a.Limits(), a.Kind)
			}
			if a.Limits() == "" {
				continue
			}
			if !(a.Most > a.Least) {
				t.Errorf("%s: its range from %g to %g is empty", where, a.Least, a.Most)
			}
			if a.Kind == Integer {
				for n, in := range map[float64]bool{a.Least: true, a.Most: true, a.Least - 1: false, a.Most + 1: false} {
					tryLimit(t, path, a, strconv.FormatFloat(n, 'f', -1, 64), quantity.Unit{}, in)
				}
				continue
			}
			for _, u := range quantity.Units(a.Dim) {
				tryLimit(t, path, a, quantity.Bound(a.Least, u, false), u, !a.Above)
				tryLimit(t, path, a, quantity.Bound(a.Most, u, true), u, true)
				if u.AWG() { // the scale itself ends at 4/0
					tryLimit(t, path, a, "41 AWG", u, false)
					continue
				}
				beyond := func(si float64) string { return quantity.Quantity{SI: si, Unit: u}.Exact() }
				step := 1e-6 * (a.Most - a.Least)
				tryLimit(t, path, a, beyond(a.Least-step), u, false)
				tryLimit(t, path, a, beyond(a.Most+step), u, false)
				if a.Above {
					tryLimit(t, path, a, beyond(a.Least+step), u, true)
				}
			}
		}
	})
}

// tryLimit decodes a block that says one value of an attribute.
func tryLimit(t *testing.T, path string, a *Attr, value string, u quantity.Unit, in bool) {
	t.Helper()
	text := strconv.Quote(value)
	written := text
	switch a.Kind {
	case Integer:
		text, written = value, value
	case Measures:
		text = "[" + text + "]"
	case LetterShare:
		text = "{ R = " + text + " }"
	case Coordinates:
		text = "[" + text + `, "0 m"]`
	case Polyline:
		text = `[["0 m", "0 m"], ["0 m", ` + text + "]]"
	}
	text = a.Name + " = " + text + "\n"
	blocks := strings.Split(path, ".")
	for i := len(blocks) - 1; i >= 0; i-- {
		bt, _ := TypeNamed(blocks[0])
		for _, name := range blocks[1 : i+1] {
			bt, _ = bt.Block(name)
		}
		label := ""
		if bt.Label != "" {
			label = `"1" `
		}
		text = bt.Name + " " + label + "{\n" + text + "}\n"
	}
	var refused *Problem
	for _, p := range decode(t, text).Problems {
		if p.Rule == RuleValueRange {
			refused = p
		}
	}
	switch {
	case in && refused != nil:
		t.Errorf("%s.%s = %s is refused: %s", path, a.Name, value, refused.Message)
	case !in && refused == nil:
		t.Errorf("%s.%s = %s is accepted", path, a.Name, value)
	case !in:
		says := a.Name + " is "
		if a.Kind == LetterShare {
			says = a.Name + " R is "
		}
		if !strings.HasPrefix(refused.Message, says) || !strings.Contains(refused.Message, "; it takes "+a.limits(u)) {
			t.Errorf("%s.%s = %s: %q does not name the value and its limits", path, a.Name, value, refused.Message)
		}
		if at := string(refused.At.Bytes()); at != written {
			t.Errorf("%s.%s = %s: the problem stands at %q", path, a.Name, value, at)
		}
	}
}

// Of units that may have been meant, one whose value the attribute takes is
// named: a milliohm a foot is an ohm a thousand feet, and no strip is 12 m wide.
func TestUnknownUnitIsMeantByMagnitude(t *testing.T) {
	for _, c := range []struct{ text, meant string }{
		{`strip "s" { rail = "20 mohm/ft" }`, `20 ohm/kft`},
		{`strip "s" { width = "12 mn" }`, `12 mm`},
		{`strip "s" { reel = "5 mn" }`, `5 m`},
		{`strip "s" { density = "60/mm" }`, `60 /m`},
	} {
		found := false
		for _, p := range decode(t, c.text).Problems {
			if p.Rule == RuleUnitUnknown {
				found = true
				if !strings.HasSuffix(p.Message, fmt.Sprintf("; did you mean %q?", c.meant)) || len(p.Fixes) != 1 || p.Fixes[0].Edits[0].New != strconv.Quote(c.meant) {
					t.Errorf("%s: %s", c.text, p.Message)
				}
			}
		}
		if !found {
			t.Errorf("%s has no unknown unit", c.text)
		}
	}
}

func TestOutOfRangeSaysWhatWasMeant(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{`plan "p" { ambient = "500 degC" }`, `ambient is 500 degC; it takes at least -60 degC and at most 90 degC`},
		{`plan "p" { ambient = "-300 degC" }`, `ambient is -300 degC; it takes at least -60 degC and at most 90 degC`},
		{`plan "p" { ambient = "98.6 degC" }`, `ambient is 98.6 degC; it takes at least -60 degC and at most 90 degC; did you mean "98.6 degF"?`},
		{`plan "p" { ambient = "250 degF" }`, `ambient is 250 degF; it takes at least -76 degF and at most 194 degF; did you mean "250 K"?`},
		{`supply "s" { rating = "-5 A" }`, `rating is -5 A; it takes more than 0 A and at most 2000 A; did you mean "5 A"?`},
		{`strip "s" { width = "10 m" }`, `width is 10 m; it takes more than 0 m and at most 1 m; did you mean "10 cm"?`},
		{`strip "s" { width = "16 ft 4 in" }`, `width is 16.33 ft; it takes more than 0 ft and at most 3.28 ft`},
		{`strip "s" { width = "60 ft" }`, `width is 60 ft; it takes more than 0 ft and at most 3.28 ft; did you mean "60 cm"?`},
		{`wire "w" { gauge = "45 AWG" }`, `gauge is 45 AWG; it takes no thinner than 40 AWG and no thicker than 4/0 AWG`},
		{`wire "w" { gauge = "18.5 AWG" }`, `18.5 AWG is no size; the sizes are whole numbers from 4/0 AWG, the thickest, to 56 AWG`},
		{`strip "s" { price = "-5 EUR" }`, `price is -5 EUR; it takes at least 0 EUR and at most 1000000000 EUR; did you mean "5 EUR"?`},
	} {
		var got []string
		for _, p := range decode(t, c.text).Problems {
			if p.Rule == RuleValueRange {
				got = append(got, p.Message)
			}
		}
		if strings.Join(got, "\n") != c.says {
			t.Errorf("%s\n says %q\n want %q", c.text, got, c.says)
		}
	}
}
