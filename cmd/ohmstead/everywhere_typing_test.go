package main

import (
	"cmp"
	"context"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"ohmstead/calc/thorough"
	"ohmstead/lint"
	"ohmstead/lint/figures"
	"ohmstead/lint/layout"
	"ohmstead/lint/remedy"
	"ohmstead/lint/rules"
	"ohmstead/lint/sizing"
	"ohmstead/lsp/ide"
	"ohmstead/schema"
	"ohmstead/schema/source"
)

// unfinished is a stretch of a text that has not been typed yet, but for its beginning.
type unfinished struct {
	what       string
	start, end int
	typed      string // in its place; the cursor is behind it
	rest       string // behind the cursor
}

func (u unfinished) in(text string) string { return text[:u.start] + u.typed + u.rest + text[u.end:] }
func (u unfinished) at() int               { return u.start + len(u.typed) }

// unfinishedIn are the places of a sound file at which something is typed: of each value, attribute and block nothing, its first
// letter or the next, and an empty line at the end of each block.
func unfinishedIn(f *source.File) (out []unfinished) {
	for i, p := range f.Pieces {
		if len(p.Problems()) > 0 {
			return nil
		}
		without := func(what string, from, to int, begin string) {
			for k := range min(3, len(begin)+1) {
				if !strings.ContainsAny(begin[:k], `" [{(`) {
					out = append(out, unfinished{what, f.Offset(i) + from, f.Offset(i) + to, begin[:k], ""})
				}
			}
		}
		var block func(n *schema.Node)
		block = func(n *schema.Node) {
			if n.TypeAt.Start == n.TypeAt.End { // in runs
				return
			}
			without("block", n.Whole.Start, n.Whole.End, n.Type)
			for _, a := range n.Assigns {
				if strings.Contains(string(n.Inside.Bytes()), "\n") {
					without("attribute", a.Whole.Start, a.Whole.End, a.Name)
				}
				written := string(a.Val.At.Bytes())
				without("value", a.Val.At.Start, a.Val.At.End, written)
				if a.Val.Kind == schema.RefVal {
					for dot := range len(written) {
						if written[dot] == '.' {
							without("step", a.Val.At.Start+dot+1, a.Val.At.End, written[dot+1:])
						}
					}
				}
				if a.Val.Kind == schema.TextVal && a.Val.At.End-a.Val.At.Start > 2 {
					without("text", a.Val.At.Start+1, a.Val.At.End-1, written[1:len(written)-1])
				}
			}
			for _, c := range n.Blocks {
				block(c)
			}
			if inside := string(n.Inside.Bytes()); strings.Contains(inside, "\n") {
				end := f.Offset(i) + n.Inside.Start + strings.LastIndexByte(inside, '\n') + 1
				out = append(out, unfinished{"line", end, end, "  ", "\n"})
			}
		}
		for _, n := range schema.NodesIn(p) {
			if n.Type != "" {
				block(n)
			}
		}
	}
	return out
}

// completes takes what is proposed at the places where a file is typed: what comes of it parses and can be laid out.
func (e *everywhere) completes(p *read, v *ide.View) {
	for _, u := range unfinishedIn(v.File) {
		if e.r.IntN(thorough.Or(1, 3)*e.one) > 0 {
			continue
		}
		text := u.in(v.File.Text.String())
		typed := p.typed(v, text)
		if e.r.IntN(8) == 0 { // with what each choice gives
			typed.Work = func() *figures.Figures { fig, _ := p.fig.Try(context.Background(), typed.Plan); return fig }
		}
		for _, it := range ide.Complete(typed, u.at()) {
			if !offered(text, u.at(), it) || e.r.IntN(min(e.one, 4)) > 0 {
				continue
			}
			kind := "completion: " + u.what
			e.applied[kind]++
			for _, inserts := range []string{it.Text, it.Snippet} {
				if inserts == "" {
					continue
				}
				if out, ok := p.finish(typed, it, inserts, 0); !ok {
					if e.wrong[kind]++; e.wrong[kind] <= 3 {
						e.Errorf("%s: %q, completed by %q, does not parse:\n%s", p.name, line(text, u.at()), inserts, changedLines(p.texts, map[string]string{v.File.Text.Path(): out}))
					}
					break
				}
			}
		}
	}
}

// offered says whether an editor shows an item for what is typed: it compares the beginnings.
func offered(text string, at int, it ide.Item) bool {
	before := text[min(it.Start, at):at]
	return strings.HasPrefix(strings.ToLower(cmp.Or(it.Filter, it.Label)), strings.ToLower(before))
}

func line(text string, at int) string {
	start := strings.LastIndexByte(text[:at], '\n') + 1
	end, _, _ := strings.Cut(text[at:], "\n")
	return text[start:at] + "|" + end
}

// typed is the view of a file with another text.
func (p *read) typed(v *ide.View, text string) *ide.View {
	now := v.File.Update(source.NewText(v.File.Text.Path(), []byte(text)))
	files := slices.Clone(v.Plan.Files)
	files[slices.Index(files, v.File)] = now
	return &ide.View{Plan: schema.Decode(p.plan.Dir, files, nil), File: now, Rules: rules.All}
}

var stops = regexp.MustCompile(`\$\{(\d+):((?:[^}\\]|\\.)*)\}|\$\{(\d+)\|((?:[^|,\\]|\\.)*)(?:,(?:[^|\\]|\\.)*)?\|\}|\$(\d+)`)

// finish inserts an item, its stops filled as they are proposed; where it leaves something open it goes on with what is proposed there.
func (p *read) finish(v *ide.View, it ide.Item, text string, depth int) (string, bool) {
	whole := v.File.Text.String()
	cursor := len(text)
	if text == it.Snippet {
		var b strings.Builder
		last, open := 0, -1
		for _, m := range stops.FindAllStringSubmatchIndex(text, -1) {
			b.WriteString(text[last:m[0]])
			switch {
			case m[4] >= 0:
				b.WriteString(text[m[4]:m[5]])
			case m[8] >= 0:
				b.WriteString(text[m[8]:m[9]])
			case open < 0:
				open = b.Len()
			}
			last = m[1]
		}
		b.WriteString(text[last:])
		text = strings.NewReplacer(`\$`, `$`, `\}`, `}`, `\\`, `\`, `\,`, `,`, `\|`, `|`).Replace(b.String())
		if cursor = open; open < 0 || open > len(text) {
			cursor = len(text)
		}
	}
	out := whole[:it.Start] + text + whole[it.End:]
	if sound(out) {
		return out, true
	}
	if depth == 4 {
		return out, false
	}
	next := p.typed(v, out)
	at := it.Start + cursor
	for _, more := range ide.Complete(next, at) {
		if !offered(out, at, more) {
			continue
		}
		if out, ok := p.finish(next, more, more.Text, depth+1); ok {
			return out, true
		}
	}
	if strings.HasSuffix(out[:at], "= ") { // nothing is there to be named: its writer goes on
		out = out[:at] + "null" + out[at:]
	}
	return out, sound(out)
}

func sound(text string) bool {
	_, err := layout.Format([]byte(text))
	return err == nil
}

// types ends lines and closes blocks again: nothing but blanks is changed, and it is laid out no worse.
func (e *everywhere) types(p *read, v *ide.View) {
	text := v.File.Text.String()
	for at := range len(text) {
		if text[at] != '\n' && text[at] != '}' || e.r.IntN(e.one) > 0 {
			continue
		}
		now, offset, key := text, at+1, text[at:at+1]
		if key == "\n" { // one more
			now, offset = text[:at+1]+"\n"+text[at+1:], at+2
		}
		typed := p.typed(v, now)
		edits := ide.FormatTyped(typed, offset, key)
		if len(edits) == 0 {
			continue
		}
		kind := "typed: " + map[string]string{"\n": "a line end", "}": "a brace"}[key]
		e.applied[kind]++
		q := &read{texts: map[string]string{v.File.Text.Path(): now}}
		after, err := q.with(edits)
		is := after[v.File.Text.Path()]
		if err != nil || strings.Join(strings.Fields(is), "") != strings.Join(strings.Fields(now), "") || sound(now) != sound(is) {
			if e.wrong[kind]++; e.wrong[kind] <= 3 {
				e.Errorf("%s: %s at %d changes words: %v\n%s", p.name, kind, at, err, changedLines(q.texts, after))
			}
		}
	}
}

// sizes takes the action that looks for the cheapest sizes, or drafts a first supply and wires.
func (e *everywhere) sizes(p *read) {
	if e.r.IntN(e.one) > 0 || len(p.plan.Problems) > 0 {
		return
	}
	ctx := context.Background()
	var sized sizing.Sized
	var err error
	plan := p.plan
	if sizing.Bare(plan) {
		plan, sized, err = remedy.First(ctx, p.fig, rules.All, sizing.Options{LeastWork: true, Judged: 20})
	} else {
		sized, err = remedy.New(plan, p.fig, p.found, rules.All).Size(ctx, sizing.Options{Judged: 20})
	}
	if err != nil || sized.Draft == nil {
		return // it says what is in the way
	}
	texts, err := plan.Edited(remedy.LaidOut(sized.Edits()))
	if err != nil {
		e.Errorf("%s: sizes: %v", p.name, err)
		return
	}
	kind := "refactor.rewrite: sizes"
	var edits []ide.TextEdit
	for name, text := range texts {
		edits = append(edits, ide.TextEdit{Location: ide.Location{Path: name, End: len(p.texts[name])}, New: string(text)})
	}
	e.change(p, "sizes", kind, edits, func(after *read) (wrong []string) {
		before := p.ills(lint.Warning, false)
		for k, n := range after.ills(lint.Warning, false) {
			if n > before[k] {
				wrong = append(wrong, fmt.Sprintf("adds %s of %s", k[0], k[1]))
			}
		}
		return wrong
	})
}

// inFiles cuts a plan into several files at its blocks.
func inFiles(text string, n int) map[string]string {
	f := source.Parse(source.NewText("", []byte(text)))
	names := []string{"plan", "more", "rest"}[:n]
	out := map[string]string{}
	for i, name := range names {
		from, to := len(f.Pieces)*i/n, len(f.Pieces)*(i+1)/n
		end := len(text)
		if to < len(f.Pieces) {
			end = f.Offset(to)
		}
		out[path.Join("demo", name+".ohm.hcl")] = text[f.Offset(from):end]
	}
	return out
}
