package resolved

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmstead/calc/quantity"
	"ohmstead/schema"
)

// Show writes a value for a reader: "3.2 m", "run.arch.start".
func Show(v any) string { return write(v, false) }

// Literal writes a value as the plan language does: "\"3.2 m\"".
func Literal(v any) string { return write(v, true) }

func write(v any, quoted bool) string {
	text := func(s string) string {
		if quoted {
			return quote(s)
		}
		return s
	}
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return text(v)
	case int:
		return strconv.Itoa(v)
	case bool:
		return strconv.FormatBool(v)
	case schema.Quantity:
		return text(v.Exact())
	case []schema.Quantity:
		return list(v, quoted)
	case schema.ByLetter:
		if v.Letters == nil {
			return write(v.All, quoted)
		}
		return letters(v.Letters, quoted)
	case map[string]float64:
		shares := map[string]schema.Quantity{}
		for l, s := range v {
			shares[l] = quantity.Of(quantity.Share, s)
		}
		return letters(shares, quoted)
	case schema.XY:
		return "[" + text(length(v.X)) + ", " + text(length(v.Y)) + "]"
	case []schema.XY:
		return list(v, quoted)
	case schema.RGB:
		return text(fmt.Sprintf("#%02x%02x%02x", byteOf(v.R), byteOf(v.G), byteOf(v.B)))
	case schema.Name:
		return text(v.Text)
	case []schema.Name:
		return list(v, quoted)
	case *schema.Point:
		if v == nil {
			return ""
		}
		return v.String()
	case []*schema.Run:
		return list(v, quoted)
	case schema.RunRef:
		if v.FromEnd {
			return "from_end(" + v.Run.ID() + ")"
		}
		return v.Run.ID()
	case []schema.RunRef:
		return list(v, quoted)
	case []schema.Block:
		return list(v, quoted)
	case schema.Block:
		return schema.HeaderOf(v).ID()
	}
	return fmt.Sprint(v)
}

func list[T any](xs []T, quoted bool) string {
	out := make([]string, len(xs))
	for i, x := range xs {
		out[i] = write(x, quoted)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func letters(m map[string]schema.Quantity, quoted bool) string {
	var names []string
	for l := range m {
		names = append(names, l)
	}
	slices.SortFunc(names, func(a, b string) int { return strings.Index("RGBWCA", a) - strings.Index("RGBWCA", b) })
	for i, l := range names {
		names[i] = l + " = " + write(m[l], quoted)
	}
	return "{ " + strings.Join(names, ", ") + " }"
}

// length writes a coordinate in the unit that a maker would use.
func length(si float64) string {
	symbol := "m"
	if a := math.Abs(si); a > 0 && a < 1-1e-9 {
		symbol = "cm"
		if a < 0.01-1e-9 {
			symbol = "mm"
		}
	}
	for _, u := range quantity.Units(quantity.Length) {
		if u.Symbol == symbol {
			return schema.Quantity{SI: math.Round(si*1e9) / 1e9, Unit: u}.Exact()
		}
	}
	return quantity.Of(quantity.Length, si).Exact()
}

func byteOf(share float64) int { return int(math.Round(share * 255)) }

// quote writes a text as an HCL string: ${ and %{ would start a template.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for i, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case (r == '$' || r == '%') && strings.HasPrefix(s[i+1:], "{"):
			b.WriteRune(r)
			b.WriteRune(r)
		case r < ' ':
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
