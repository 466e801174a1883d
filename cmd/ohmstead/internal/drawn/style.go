package drawn

import (
	"regexp"
	"strings"
	"sync"
)

// sheet holds the style rules of a drawing: by selector, what each property is
// set to. Selectors are of the kinds that vector programs write: "*", "path",
// ".a", "path.a" and "#a".
type sheet struct {
	rules map[string]map[string]setting
	count int
}

type setting struct {
	value string
	order int // of two rules of one kind the later one counts
}

var (
	comment  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)/\*.*?\*/|<!--|-->`) })
	selector = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(\*|#[\pL_][\pL\pN_-]*|[\pL][\pL\pN-]*|[\pL]*\.[\pL_-][\pL\pN_-]*)$`)
	})
)

// read takes in the rules of a style element and returns the selectors and
// rules that are not understood.
func (s *sheet) read(text string) (strange []string) {
	text = comment().ReplaceAllString(text, " ")
	for {
		text = strings.TrimSpace(text)
		if text == "" {
			return strange
		}
		head, rest, ok := strings.Cut(text, "{")
		if at := strings.IndexByte(head, ';'); strings.HasPrefix(head, "@") && (at >= 0 || !ok) {
			strange = append(strange, first(head))
			if at < 0 {
				return strange
			}
			text = text[at+1:]
			continue
		}
		if !ok {
			return append(strange, first(head))
		}
		if strings.HasPrefix(head, "@") {
			strange, text = append(strange, first(head)), behind(rest)
			continue
		}
		body, rest, _ := strings.Cut(rest, "}")
		text = rest
		set := declarations(body)
		for sel := range strings.SplitSeq(head, ",") {
			sel = strings.TrimSpace(sel)
			if !selector().MatchString(sel) {
				strange = append(strange, sel)
				continue
			}
			s.add(sel, set)
		}
	}
}

func (s *sheet) add(selector string, set map[string]string) {
	if s.rules == nil {
		s.rules = map[string]map[string]setting{}
	}
	r := s.rules[selector]
	if r == nil {
		r = map[string]setting{}
		s.rules[selector] = r
	}
	s.count++
	for k, v := range set {
		r[k] = setting{v, s.count}
	}
}

// first is the first word of a rule.
func first(head string) string { w, _, _ := strings.Cut(strings.TrimSpace(head), " "); return w }

// behind is the text behind the brace that closes one open before it.
func behind(text string) string {
	depth := 1
	for i, r := range text {
		switch r {
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return text[i+1:]
			}
		}
	}
	return ""
}

// declarations reads "name: value; ..."; whether one is important is not asked.
func declarations(text string) map[string]string {
	m := map[string]string{}
	for d := range strings.SplitSeq(text, ";") {
		if name, value, ok := strings.Cut(d, ":"); ok {
			value, _, _ = strings.Cut(value, "!")
			m[strings.ToLower(strings.TrimSpace(name))] = strings.TrimSpace(value)
		}
	}
	return m
}

// value is what a property of an element is set to: by its style attribute,
// else by the most special rule, else by its own attribute; "" where by none.
func (s *sheet) value(n *node, property string) string {
	if n.style == nil {
		n.style = s.own(n)
	}
	if v, ok := n.style[property]; ok {
		return v
	}
	return strings.TrimSpace(n.attrs[property])
}

// own is what rules and style attribute set of an element.
func (s *sheet) own(n *node) map[string]string {
	set := map[string]string{}
	put := func(selectors ...string) {
		orders := map[string]int{}
		for _, sel := range selectors {
			for k, v := range s.rules[sel] {
				if v.order > orders[k] {
					set[k], orders[k] = v.value, v.order
				}
			}
		}
	}
	if s.rules != nil {
		var class, both []string
		for c := range strings.FieldsSeq(n.attrs["class"]) {
			class, both = append(class, "."+c), append(both, n.name+"."+c)
		}
		put("*")
		put(n.name)
		put(class...)
		put(both...)
		put("#" + n.attrs["id"])
	}
	for k, v := range declarations(n.attrs["style"]) {
		set[k] = v
	}
	return set
}
