package source

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// What is read at most. The HCL parser recurses without a bound, and Go ends the whole process when its stack overflows;
// in some shapes its time grows with the square of the size. These limits lie far above what plans need and far below
// where either begins to hurt.
const (
	MaxFile       = 4 << 20   // bytes of a file
	MaxPieces     = 20_000    // top-level blocks of a file
	MaxPiece      = 256 << 10 // bytes of one top-level block
	MaxDepth      = 200       // brackets, blocks, templates and operators open at one place
	MaxLines      = 2_000     // lines of a heredoc, or parts of a quoted string
	MaxDirectives = 1_000     // "%{" sequences of a top-level block
	MaxDigits     = 1_000     // characters of a number
	MaxExponent   = 308       // of a number; beyond it lies infinity (IEEE 754, binary64)
	MaxComments   = 200       // "/*" of a top-level block behind the last "*/"
	MaxBadBytes   = 100       // bytes of a top-level block that are not UTF-8 text
	MaxProblems   = 8         // syntax errors shown for a top-level block
)

// refuseFile returns why a file must not even be cut into pieces, or nil.
func refuseFile(data []byte) *Problem {
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return &Problem{0, 2, "File is not UTF-8", "It starts with the mark of UTF-16. Save it as UTF-8."}
	}
	if len(data) > MaxFile {
		return tooLarge(int64(len(data)))
	}
	return nil
}

func tooLarge(size int64) *Problem {
	return &Problem{0, 0, "File is too large", fmt.Sprintf(
		"It has %d bytes; at most %d are read. Split the plan into several files of its directory.", size, MaxFile)}
}

// tooManyPieces refuses a file whose block number MaxPieces+1 starts at offset.
func tooManyPieces(offset int) *Problem {
	return &Problem{offset, offset, "File has too many blocks", fmt.Sprintf(
		"More than %d top-level blocks; at most %d are read. Split the plan into several files of its directory.", MaxPieces, MaxPieces)}
}

// refusePiece returns why the bytes of a piece must not be lexed, or nil.
func refusePiece(data []byte) *Problem {
	if len(data) > MaxPiece {
		return &Problem{0, lineEnd(data, 0), "Block is too large", fmt.Sprintf(
			"It reaches over %d bytes; at most %d are read. Split it, or close the brace or quote that lets it run on.", len(data), MaxPiece)}
	}
	open := data[bytes.LastIndex(data, []byte("*/"))+1:]
	if n := bytes.Count(open, []byte("/*")); n > MaxComments {
		at := len(data) - len(open) + bytes.Index(open, []byte("/*"))
		return &Problem{at, at + 2, "Too many open comments", fmt.Sprintf(
			"%d times /* without */ after it; at most %d are read. Close the first one.", n, MaxComments)}
	}
	return nil
}

// withoutBadBytes returns data with an underscore for each byte that is not UTF-8 text, which the lexer would take for
// part of a name that may go on in the next line; a problem for each line with such bytes; and how many they are.
func withoutBadBytes(data []byte) (clean []byte, problems []Problem, count int) {
	if utf8.Valid(data) && bytes.IndexByte(data, 0) < 0 {
		return data, nil, 0
	}
	clean = bytes.Clone(data)
	fresh := true
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		switch {
		case r == '\n':
			fresh = true
		case r == utf8.RuneError && size == 1, r == 0:
			if fresh && r == 0 {
				problems = append(problems, Problem{i, i + 1, "Invalid character", "A NUL byte is not text. Delete it."})
			} else if fresh {
				problems = append(problems, Problem{i, i + 1, "Invalid character encoding",
					fmt.Sprintf("Byte 0x%02X is not UTF-8. Save the file as UTF-8.", data[i])})
			}
			fresh = false
			clean[i] = '_'
			count++
		}
		i += size
	}
	return clean, problems, count
}

// harmless reports whether a look at the bytes suffices to know that [refuseTokens] has nothing to say. It spares most
// pieces a second run of the lexer.
func harmless(data []byte) bool {
	var nesting, lines, digits int
	var before, last byte
	for _, c := range data {
		digit := '0' <= c && c <= '9'
		switch {
		case digit || c == '.':
			digits++
		case nests[c], c == '=' && last == '=':
			nesting++
			if c == '[' {
				nesting++ // an index is a bracket and an operator
			}
			digits = 0
		case c == '\n':
			lines++
			digits = 0
		default:
			digits = 0
		}
		exponent := (last == 'e' || last == 'E') && (digit || c == '+' || c == '-') &&
			('0' <= before && before <= '9' || before == '.')
		if exponent || digits > MaxDigits || nesting > MaxDepth || lines > MaxLines {
			return false
		}
		before, last = last, c
	}
	return true
}

// nests marks the bytes that may open one more level.
var nests = [256]bool{
	'(': true, '[': true, '{': true, '-': true, '!': true, '?': true, '*': true, '/': true, '%': true, '+': true,
	'&': true, '|': true, '<': true, '>': true, '$': true,
}

// level is one bracket, block, template or template sequence that is open.
type level struct {
	open  hclsyntax.TokenType
	loose bool // a "for" expression in braces, whose lines do not end anything
	chain int  // operators and indexes in the expression being read, each of which is one level of the tree
	parts int  // literals of a template
}

// refuseTokens returns why tokens must not be parsed, or nil.
func refuseTokens(tokens hclsyntax.Tokens) *Problem {
	levels := []level{{}}
	depth, directives := 0, 0
	var last hclsyntax.TokenType // leaving out comments and line ends
	for _, token := range tokens {
		top := &levels[len(levels)-1]
		switch t := token.Type; t {
		case hclsyntax.TokenOBrack, hclsyntax.TokenOBrace, hclsyntax.TokenOParen, hclsyntax.TokenOQuote,
			hclsyntax.TokenOHeredoc, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
			if t == hclsyntax.TokenOBrack && endsTerm(last) {
				top.chain++
				depth++
			}
			if t == hclsyntax.TokenTemplateControl {
				if directives++; directives > MaxDirectives {
					return at(token, "Too many template directives", fmt.Sprintf(
						"More than %d in one block; at most %d are read. Remove some.", MaxDirectives, MaxDirectives))
				}
			}
			levels = append(levels, level{open: t})
			depth++
		case hclsyntax.TokenCBrack, hclsyntax.TokenCBrace, hclsyntax.TokenCParen, hclsyntax.TokenCQuote,
			hclsyntax.TokenCHeredoc, hclsyntax.TokenTemplateSeqEnd:
			if closes(t, top.open) {
				depth -= 1 + top.chain
				levels = levels[:len(levels)-1]
			}
		case hclsyntax.TokenComma:
			depth -= top.chain
			top.chain = 0
		case hclsyntax.TokenNewline, hclsyntax.TokenComment:
			lines := top.open == 0 || top.open == hclsyntax.TokenOBrace && !top.loose
			if lines && bytes.HasSuffix(token.Bytes, newline) {
				depth -= top.chain
				top.chain = 0
			}
			continue
		case hclsyntax.TokenMinus, hclsyntax.TokenBang, hclsyntax.TokenQuestion, hclsyntax.TokenStar,
			hclsyntax.TokenSlash, hclsyntax.TokenPercent, hclsyntax.TokenPlus, hclsyntax.TokenAnd, hclsyntax.TokenOr,
			hclsyntax.TokenEqualOp, hclsyntax.TokenNotEqual, hclsyntax.TokenLessThan, hclsyntax.TokenLessThanEq,
			hclsyntax.TokenGreaterThan, hclsyntax.TokenGreaterThanEq:
			top.chain++
			depth++
		case hclsyntax.TokenIdent:
			if last == hclsyntax.TokenOBrace && string(token.Bytes) == "for" {
				top.loose = true
			}
			if last == hclsyntax.TokenTemplateControl {
				template := &levels[len(levels)-2]
				switch string(token.Bytes) {
				case "if", "for":
					template.chain++
					depth++
				case "endif", "endfor":
					if template.chain > 0 {
						template.chain--
						depth--
					}
				}
			}
		case hclsyntax.TokenNumberLit:
			if p := refuseNumber(token); p != nil {
				return p
			}
		case hclsyntax.TokenStringLit, hclsyntax.TokenQuotedLit:
			if top.parts++; top.parts > MaxLines {
				return at(token, "Text is too long", fmt.Sprintf(
					"More than %d lines in one heredoc, or parts in one string; at most %d are read. Shorten it.", MaxLines, MaxLines))
			}
		}
		if depth > MaxDepth {
			return at(token, "Nested too deeply", fmt.Sprintf(
				"%d brackets, blocks, templates and operators are open here; at most %d are read. Give parts of it a name in let.",
				depth, MaxDepth))
		}
		last = token.Type
	}
	return nil
}

// refuseNumber returns why a number must not be converted, or nil.
func refuseNumber(token hclsyntax.Token) *Problem {
	if n := len(token.Bytes); n > MaxDigits {
		return at(token, "Number is too long", fmt.Sprintf(
			"It has %d characters; at most %d are read. Round it, or write it with an exponent.", n, MaxDigits))
	}
	if i := bytes.IndexAny(token.Bytes, "eE"); i >= 0 {
		exponent, err := strconv.Atoi(string(token.Bytes[i+1:]))
		if errors.Is(err, strconv.ErrRange) || exponent > MaxExponent || exponent < -MaxExponent {
			return at(token, "Number is out of range", fmt.Sprintf(
				"Its exponent is %s; -%d to %d are read.", token.Bytes[i+1:], MaxExponent, MaxExponent))
		}
	}
	return nil
}

// at makes a problem of the first line of a token.
func at(token hclsyntax.Token, summary, detail string) *Problem {
	start := token.Range.Start.Byte
	return &Problem{start, start + lineEnd(token.Bytes, 0), summary, detail}
}

// endsTerm reports whether a bracket behind a token is an index rather than a list.
func endsTerm(t hclsyntax.TokenType) bool {
	switch t {
	case hclsyntax.TokenIdent, hclsyntax.TokenNumberLit, hclsyntax.TokenStar, hclsyntax.TokenCBrack, hclsyntax.TokenCBrace,
		hclsyntax.TokenCParen, hclsyntax.TokenCQuote, hclsyntax.TokenCHeredoc:
		return true
	}
	return false
}

func closes(closer, opener hclsyntax.TokenType) bool {
	switch closer {
	case hclsyntax.TokenCBrack:
		return opener == hclsyntax.TokenOBrack
	case hclsyntax.TokenCBrace:
		return opener == hclsyntax.TokenOBrace
	case hclsyntax.TokenCParen:
		return opener == hclsyntax.TokenOParen
	case hclsyntax.TokenCQuote:
		return opener == hclsyntax.TokenOQuote
	case hclsyntax.TokenCHeredoc:
		return opener == hclsyntax.TokenOHeredoc
	case hclsyntax.TokenTemplateSeqEnd:
		return opener == hclsyntax.TokenTemplateInterp || opener == hclsyntax.TokenTemplateControl
	}
	return false
}
