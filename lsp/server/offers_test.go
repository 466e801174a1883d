package server

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// asksFor says which structures and properties a client must have asked for,
// and where. Of several capabilities one is enough.
var asksFor = map[string]string{
	"InsertReplaceEdit":                            "textDocument.completion.completionItem.insertReplaceSupport",
	"CompletionItem.labelDetails":                  "textDocument.completion.completionItem.labelDetailsSupport",
	"CompletionItem.tags":                          "textDocument.completion.completionItem.tagSupport",
	"CompletionItem.deprecated":                    "textDocument.completion.completionItem.deprecatedSupport",
	"CompletionItem.preselect":                     "textDocument.completion.completionItem.preselectSupport",
	"CompletionItem.insertTextMode":                "textDocument.completion.completionItem.insertTextModeSupport",
	"CompletionItem.commitCharacters":              "textDocument.completion.completionItem.commitCharactersSupport",
	"CompletionItem.textEditText":                  "textDocument.completion.completionList.itemDefaults",
	"CompletionList.itemDefaults":                  "textDocument.completion.completionList.itemDefaults",
	"CompletionList.applyKind":                     "textDocument.completion.completionList.applyKindSupport",
	"CodeAction":                                   "textDocument.codeAction.codeActionLiteralSupport",
	"CodeAction.isPreferred":                       "textDocument.codeAction.isPreferredSupport",
	"CodeAction.disabled":                          "textDocument.codeAction.disabledSupport",
	"CodeAction.data":                              "textDocument.codeAction.dataSupport",
	"CodeAction.tags":                              "textDocument.codeAction.tagSupport",
	"CodeActionOptions":                            "textDocument.codeAction.codeActionLiteralSupport",
	"CodeActionOptions.documentation":              "textDocument.codeAction.documentationSupport",
	"DocumentSymbol":                               "textDocument.documentSymbol.hierarchicalDocumentSymbolSupport",
	"DocumentSymbol.tags":                          "textDocument.documentSymbol.tagSupport",
	"SymbolInformation.tags":                       "textDocument.documentSymbol.tagSupport|workspace.symbol.tagSupport",
	"SymbolOptions.label":                          "textDocument.documentSymbol.labelSupport",
	"WorkspaceSymbolOptions.resolve":               "workspace.symbol.resolveSupport",
	"WorkspaceEdit.documentChanges":                "workspace.workspaceEdit.documentChanges",
	"WorkspaceEdit.changeAnnotations":              "workspace.workspaceEdit.changeAnnotationSupport",
	"AnnotatedTextEdit":                            "workspace.workspaceEdit.changeAnnotationSupport",
	"SnippetTextEdit":                              "workspace.workspaceEdit.snippetEditSupport",
	"CreateFile":                                   "workspace.workspaceEdit.resourceOperations",
	"RenameFile":                                   "workspace.workspaceEdit.resourceOperations",
	"DeleteFile":                                   "workspace.workspaceEdit.resourceOperations",
	"ApplyWorkspaceEditParams.metadata":            "workspace.workspaceEdit.metadataSupport",
	"Diagnostic.relatedInformation":                "textDocument.publishDiagnostics.relatedInformation|textDocument.diagnostic.relatedInformation",
	"Diagnostic.tags":                              "textDocument.publishDiagnostics.tagSupport|textDocument.diagnostic.tagSupport",
	"Diagnostic.codeDescription":                   "textDocument.publishDiagnostics.codeDescriptionSupport|textDocument.diagnostic.codeDescriptionSupport",
	"Diagnostic.data":                              "textDocument.publishDiagnostics.dataSupport|textDocument.diagnostic.dataSupport",
	"PublishDiagnosticsParams.version":             "textDocument.publishDiagnostics.versionSupport",
	"SignatureInformation.activeParameter":         "textDocument.signatureHelp.signatureInformation.activeParameterSupport",
	"FoldingRange.collapsedText":                   "textDocument.foldingRange.foldingRange.collapsedText",
	"DocumentLink.tooltip":                         "textDocument.documentLink.tooltipSupport",
	"PrepareRenameDefaultBehavior":                 "textDocument.rename.prepareSupportDefaultBehavior",
	"RenameOptions":                                "textDocument.rename.prepareSupport",
	"DiagnosticOptions":                            "textDocument.diagnostic",
	"TextDocumentContentOptions":                   "workspace.textDocumentContent",
	"DocumentRangeFormattingOptions.rangesSupport": "textDocument.rangeFormatting.rangesSupport",
	"RelativePattern":                              "workspace.didChangeWatchedFiles.relativePatternSupport",
}

// has reports whether the client says yes at a path, or has something there.
func (c *conversation) has(path string) bool {
	for _, one := range strings.Split(path, "|") {
		v := c.can
		for _, name := range strings.Split(one, ".") {
			v = of(v, name)
		}
		if v != nil && v != false {
			return true
		}
	}
	return false
}

// list is a list of the client's capabilities.
func (c *conversation) list(path string) []string {
	v := c.can
	for _, name := range strings.Split(path, ".") {
		v = of(v, name)
	}
	var out []string
	all, _ := v.([]any)
	for _, x := range all {
		out = append(out, fmt.Sprint(x))
	}
	return out
}

// taken reports whether a client takes a value: it is in its list, or among
// those of the first version of the protocol, which it need not name.
func (c *conversation) taken(list string, v any, first int64) bool {
	if all := c.list(list); all != nil {
		return slices.Contains(all, fmt.Sprint(v))
	}
	return number(v) <= first
}

// registers holds a registration against what can be registered.
func (c *conversation) registers(params any) {
	all, _ := of(params, "registrations").([]any)
	for _, r := range all {
		method := text(of(r, "method"))
		m := c.model.messages[method]
		if m == nil || m.ClientCapability == "" {
			c.say("%s cannot be registered", method)
			continue
		}
		if !c.has(m.ClientCapability + ".dynamicRegistration") {
			c.say("%s is registered with a client that does not take that", method)
		}
		if m.RegistrationOptions != nil {
			v := c.model.judge(method, m.RegistrationOptions, of(r, "registerOptions"))
			for _, w := range v.wrong {
				c.say("registration of %s", w)
			}
			c.limits(&exchange{method: method}, v.made)
		}
	}
}

// limits holds structures against what the client can take.
func (c *conversation) limits(a *exchange, made []structured) {
	for _, s := range made {
		need := func(what string) {
			if path := asksFor[what]; path != "" && !c.has(path) {
				c.say("%s: %s: %s is for clients with %s", a.method, s.path, what, path)
			}
		}
		need(s.name)
		for k, v := range s.value {
			if v != false {
				need(s.name + "." + k)
			}
		}
		v := s.value
		wrong := func(format string, args ...any) {
			c.say("%s: %s: %s", a.method, s.path, fmt.Sprintf(format, args...))
		}
		switch s.name {
		case "CompletionItem":
			if k := v["kind"]; k != nil && !c.taken("textDocument.completion.completionItemKind.valueSet", k, 18) {
				wrong("the client does not know the kind %v", k)
			}
			if fmt.Sprint(v["insertTextFormat"]) == "2" && !c.has("textDocument.completion.completionItem.snippetSupport") {
				wrong("a snippet")
			}
			c.tags(wrong, v["tags"], "textDocument.completion.completionItem.tagSupport.valueSet")
		case "DocumentSymbol", "SymbolInformation", "WorkspaceSymbol":
			list := "textDocument.documentSymbol.symbolKind.valueSet"
			if a.method == "workspace/symbol" {
				list = "workspace.symbol.symbolKind.valueSet"
			}
			if !c.taken(list, v["kind"], 18) {
				wrong("the client does not know the kind %v", v["kind"])
			}
			if text(v["name"]) == "" {
				wrong("no name")
			}
		case "Diagnostic":
			if _, plain := v["message"].(string); !plain && !c.has("textDocument.diagnostic.markupMessageSupport") {
				wrong("a message in markup")
			}
			if a.method != "textDocument/codeAction" { // which gives the client's own back
				c.tags(wrong, v["tags"], "textDocument.publishDiagnostics.tagSupport.valueSet", "textDocument.diagnostic.tagSupport.valueSet")
			}
		case "LocationLink":
			if m := c.model.messages[a.method]; !c.has(m.ClientCapability + ".linkSupport") {
				wrong("a link")
			}
		case "MarkupContent":
			list := map[string]string{
				"textDocument/completion":    "textDocument.completion.completionItem.documentationFormat",
				"completionItem/resolve":     "textDocument.completion.completionItem.documentationFormat",
				"textDocument/hover":         "textDocument.hover.contentFormat",
				"textDocument/signatureHelp": "textDocument.signatureHelp.signatureInformation.documentationFormat",
			}[a.method]
			if list != "" && v["kind"] == "markdown" && !slices.Contains(c.list(list), "markdown") {
				wrong("Markdown")
			}
		case "FoldingRange":
			if kinds := c.list("textDocument.foldingRange.foldingRangeKind.valueSet"); kinds != nil && v["kind"] != nil && !slices.Contains(kinds, text(v["kind"])) {
				wrong("the client does not know the kind %v", v["kind"])
			}
			if c.has("textDocument.foldingRange.lineFoldingOnly") && (v["startCharacter"] != nil || v["endCharacter"] != nil) {
				wrong("columns for a client that folds lines")
			}
		case "Command":
			own, _ := of(c.offers, "executeCommandProvider", "commands").([]any)
			name := v["command"]
			if name != "" && !slices.Contains(own, name) && (name != of(c.options, "suggestCommand") || name == nil) {
				wrong("the command %v, which nobody has", name)
			}
		case "SignatureInformation":
			c.signature(wrong, v)
		case "TextDocumentEdit":
			doc := canonical(text(of(v, "textDocument", "uri")))
			said := of(v, "textDocument", "version")
			if open, ok := a.texts[doc]; ok && (said == nil || number(said) != open.number) {
				wrong("version %v of %s, which is at %d", said, doc, open.number)
			} else if !ok && said != nil {
				wrong("version %v of %s, which is not open", said, doc)
			}
			c.apart(wrong, v["edits"])
		case "WorkspaceEdit":
			byDoc, _ := v["changes"].(map[string]any)
			for _, edits := range byDoc {
				c.apart(wrong, edits)
			}
			if len(byDoc) == 0 && v["documentChanges"] == nil {
				wrong("an edit of nothing")
			}
		case "SelectionRange":
			if p := v["parent"]; p != nil && !encloses(of(p, "range"), v["range"]) {
				wrong("not within its parent")
			}
		}
		if s.name == "DocumentSymbol" {
			if !encloses(v["range"], v["selectionRange"]) {
				wrong("what is selected is not within it")
			}
			children, _ := v["children"].([]any)
			for _, child := range children {
				if !encloses(v["range"], of(child, "range")) {
					wrong("%v is not within it", of(child, "name"))
				}
			}
		}
		if s.name == "CallHierarchyItem" && !encloses(v["range"], v["selectionRange"]) {
			wrong("what is selected is not within it")
		}
	}
}

func (c *conversation) tags(wrong func(string, ...any), tags any, lists ...string) {
	all, _ := tags.([]any)
	for _, t := range all {
		if !slices.ContainsFunc(lists, func(list string) bool { return slices.Contains(c.list(list), fmt.Sprint(t)) }) {
			wrong("the client does not know the tag %v", t)
		}
	}
}

// signature holds the labels of parameters against that of the call. Offsets
// count UTF-16 units, whatever the encoding of positions; a label that is the
// same in every encoding is right for all readings of that sentence.
func (c *conversation) signature(wrong func(string, ...any), v map[string]any) {
	label := text(v["label"])
	params, _ := v["parameters"].([]any)
	for _, p := range params {
		switch l := of(p, "label").(type) {
		case string:
			if !strings.Contains(label, l) {
				wrong("%q is no part of %q", l, label)
			}
		case []any:
			if !c.has("textDocument.signatureHelp.signatureInformation.parameterInformation.labelOffsetSupport") {
				wrong("offsets of a label")
			}
			if start, end := number(l[0]), number(l[1]); start >= end || end > int64(len(label)) || strings.IndexFunc(label, func(r rune) bool { return r > 126 }) >= 0 {
				wrong("%d to %d of %q", start, end, label)
			}
		}
	}
}

// apart holds edits of one document against one another: the protocol allows
// no overlap.
func (c *conversation) apart(wrong func(string, ...any), edits any) {
	list, _ := edits.([]any)
	list = slices.SortedStableFunc(slices.Values(list), func(a, b any) int { return before(of(a, "range", "start"), of(b, "range", "start")) })
	for i := 1; i < len(list); i++ {
		if before(of(list[i-1], "range", "end"), of(list[i], "range", "start")) > 0 {
			wrong("edits overlap: %v and %v", list[i-1], list[i])
		}
	}
}

func before(p, q any) int {
	return cmp.Or(cmp.Compare(number(of(p, "line")), number(of(q, "line"))), cmp.Compare(number(of(p, "character")), number(of(q, "character"))))
}

func encloses(outer, inner any) bool {
	return before(of(outer, "start"), of(inner, "start")) <= 0 && before(of(inner, "end"), of(outer, "end")) <= 0
}

// holds reports whether a range holds a position, its end included.
func holds(r, p any) bool {
	return p == nil || before(of(r, "start"), p) <= 0 && before(p, of(r, "end")) <= 0
}

// answers holds a result against what was asked.
func (c *conversation) answers(a *exchange, v any) {
	wrong := func(format string, args ...any) { c.say("%s: %s", a.method, fmt.Sprintf(format, args...)) }
	at, doc := of(a.params, "position"), canonical(text(of(a.params, "textDocument", "uri")))
	if at != nil {
		lines, ok := c.textOf(a, doc)
		if at = nil; ok {
			at = lines.clamped(of(a.params, "position")) // a client may ask behind the end of a line
		}
	}
	list, _ := v.([]any)
	switch a.method {
	case "initialize":
		offered := c.list("general.positionEncodings")
		if e := text(of(v, "capabilities", "positionEncoding")); e != "" && e != "utf-16" && !slices.Contains(offered, e) {
			wrong("positions are counted in %s, which the client does not offer", e)
		}
	case "textDocument/hover":
		if r := of(v, "range"); r != nil && !holds(r, at) {
			wrong("about %v, asked at %v", r, at)
		}
	case "textDocument/prepareRename":
		r := of(v, "range")
		if r == nil {
			r = v
		}
		if of(r, "start") != nil && !holds(r, at) {
			wrong("about %v, asked at %v", r, at)
		}
	case "textDocument/completion":
		if list == nil {
			list, _ = of(v, "items").([]any)
		}
		for _, i := range list {
			r := of(i, "textEdit", "range")
			if r == nil {
				continue
			}
			if of(r, "start", "line") != of(r, "end", "line") || !holds(r, at) {
				wrong("%v replaces %v, asked at %v", of(i, "label"), r, at)
			}
		}
	case "completionItem/resolve":
		before, _ := a.params.(map[string]any)
		c.resolved(wrong, before, v, "textDocument.completion.completionItem.resolveSupport.properties", "documentation", "detail")
	case "textDocument/codeAction":
		c.actions(wrong, a, list)
	case "codeAction/resolve":
		before, _ := a.params.(map[string]any)
		c.resolved(wrong, before, v, "textDocument.codeAction.resolveSupport.properties")
	case "codeLens/resolve":
		before, _ := a.params.(map[string]any)
		c.resolved(wrong, before, v, "textDocument.codeLens.resolveSupport.properties", "command")
	case "textDocument/selectionRange":
		asked, _ := of(a.params, "positions").([]any)
		if v != nil && len(list) != len(asked) {
			wrong("%d ranges for %d positions", len(list), len(asked))
		}
		for i, r := range list {
			if lines, ok := c.textOf(a, doc); ok && i < len(asked) && !holds(of(r, "range"), lines.clamped(asked[i])) {
				wrong("about %v, asked at %v", of(r, "range"), asked[i])
			}
		}
	case "textDocument/foldingRange":
		if most := of(c.can, "textDocument", "foldingRange", "rangeLimit"); most != nil && int64(len(list)) > number(most) {
			wrong("%d ranges, at most %v are taken", len(list), most)
		}
	case "textDocument/formatting", "textDocument/rangeFormatting", "textDocument/onTypeFormatting", "textDocument/rangesFormatting":
		c.apart(wrong, v)
	case "textDocument/signatureHelp":
		if v == nil {
			return
		}
		signatures, _ := of(v, "signatures").([]any)
		active := number(of(v, "activeSignature"))
		if active >= int64(len(signatures)) {
			wrong("the signature %d of %d", active, len(signatures))
		}
	case "textDocument/semanticTokens/full", "textDocument/semanticTokens/range":
		c.tokensIn(wrong, a, v)
	case "textDocument/semanticTokens/full/delta":
		if of(v, "data") != nil {
			c.tokensIn(wrong, a, v)
			return
		}
		n, known := c.tokens[text(of(a.params, "previousResultId"))]
		edits, _ := of(v, "edits").([]any)
		grown := n
		for _, e := range edits {
			data, _ := of(e, "data").([]any)
			gone := int(number(of(e, "deleteCount")))
			if known && int(number(of(e, "start")))+gone > n {
				wrong("an edit behind the end of %d numbers: %v", n, e)
			}
			grown += len(data) - gone
		}
		if grown%5 != 0 {
			wrong("leaves %d numbers", grown)
		}
		c.tokens[text(of(v, "resultId"))] = grown
	}
}

// resolved holds an item against what stood there before: only what the client
// said may come later has come, and nothing else has changed. Always are those
// that may come where it says nothing.
func (c *conversation) resolved(wrong func(string, ...any), before map[string]any, now any, list string, always ...string) {
	after, _ := now.(map[string]any)
	may := c.list(list)
	if may == nil {
		may = always
	}
	for _, k := range slices.Sorted(maps.Keys(after)) {
		if !reflect.DeepEqual(before[k], after[k]) && !slices.Contains(may, k) {
			wrong("%s of %v changes from %v to %v, and only %v may", k, before["label"], before[k], after[k], may)
		}
	}
}

func (c *conversation) actions(wrong func(string, ...any), a *exchange, list []any) {
	only, _ := of(a.params, "context", "only").([]any)
	var said []string
	if all, ok := of(c.offers, "codeActionProvider", "codeActionKinds").([]any); ok {
		for _, k := range all {
			said = append(said, text(k))
		}
	}
	under := func(kind, parent string) bool {
		return parent == "" || kind == parent || strings.HasPrefix(kind, parent+".")
	}
	for _, x := range list {
		if _, command := of(x, "command").(string); command {
			continue // a bare command has no kind
		}
		title, kind := of(x, "title"), text(of(x, "kind"))
		if len(only) > 0 && !slices.ContainsFunc(only, func(o any) bool { return under(kind, text(o)) }) {
			wrong("%v is of the kind %s, asked for %v", title, kind, only)
		}
		if said != nil && !slices.ContainsFunc(said, func(s string) bool { return under(kind, s) }) {
			wrong("%v is of the kind %s, which the server does not offer", title, kind)
		}
		later := of(x, "data") != nil && slices.Contains(c.list("textDocument.codeAction.resolveSupport.properties"), "edit")
		if of(x, "edit") == nil && of(x, "command") == nil && of(x, "disabled") == nil && !later {
			wrong("%v does nothing", title)
		}
	}
}

// tokensIn holds semantic tokens against the legend and the text.
func (c *conversation) tokensIn(wrong func(string, ...any), a *exchange, v any) {
	data, _ := of(v, "data").([]any)
	if id := text(of(v, "resultId")); id != "" {
		c.tokens[id] = len(data)
	}
	if len(data)%5 != 0 {
		wrong("%d numbers", len(data))
		return
	}
	types, _ := of(c.offers, "semanticTokensProvider", "legend", "tokenTypes").([]any)
	modifiers, _ := of(c.offers, "semanticTokensProvider", "legend", "tokenModifiers").([]any)
	lines, known := c.textOf(a, canonical(text(of(a.params, "textDocument", "uri"))))
	var line, char, end int64
	for i := 0; i < len(data); i += 5 {
		if dl := number(data[i]); dl > 0 {
			line, char, end = line+dl, 0, 0
		}
		char += number(data[i+1])
		length, kind, marks := number(data[i+2]), number(data[i+3]), number(data[i+4])
		if kind >= int64(len(types)) || marks >= 1<<len(modifiers) {
			wrong("type %d or modifiers %d are not in the legend", kind, marks)
		}
		if char < end || length == 0 {
			wrong("a token of %d at %d:%d overlaps the one before, which ends at %d", length, line, char, end)
		}
		end = char + length
		place := func(n int64) map[string]any {
			return map[string]any{"line": json.Number(fmt.Sprint(line)), "character": json.Number(fmt.Sprint(n))}
		}
		if known && len(c.rangeIn(a, canonical(text(of(a.params, "textDocument", "uri"))), place(char), place(end))) > 0 {
			wrong("the token at %d:%d to %d is not in the text of %d lines", line, char, end, len(lines.starts))
		}
	}
}
