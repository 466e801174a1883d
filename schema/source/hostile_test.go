package source
import ("testing";"fmt";"strings";"time";"runtime")
func TestHostileProbe(t *testing.T){
 rep := strings.Repeat
 in := map[string]func(n int) string{
  "( closed": func(n int) string { return "a = "+rep("(",n)+"1"+rep(")",n)+"\n" },
  "( open": func(n int) string { return "a = "+rep("(",n) },
  "[ closed": func(n int) string { return "a = "+rep("[",n)+rep("]",n)+"\n" },
  "[ open": func(n int) string { return "a = "+rep("[",n) },
  "{ closed": func(n int) string { return "a = "+rep("{b=",n)+"1"+rep("}",n)+"\n" },
  "{ open": func(n int) string { return "a = "+rep("{b=",n) },
  "for closed": func(n int) string { return "a = "+rep("[for x in ",n)+"y"+rep(": x]",n)+"\n" },
  "for open": func(n int) string { return "a = "+rep("[for x in ",n) },
  "tmpl closed": func(n int) string { return "a = "+rep("\"${",n)+"y"+rep("}\"",n)+"\n" },
  "tmpl open": func(n int) string { return "a = "+rep("\"${",n) },
  "f( closed": func(n int) string { return "a = "+rep("f(",n)+rep(")",n)+"\n" },
  "f( open": func(n int) string { return "a = "+rep("f(",n) },
  "b[ closed": func(n int) string { return "a = "+rep("b[",n)+"1"+rep("]",n)+"\n" },
  "b[ open": func(n int) string { return "a = "+rep("b[",n) },
  "blocks col1": func(n int) string { return rep("a {\n",n)+rep("}\n",n) },
  "blocks col1 open": func(n int) string { return rep("a {\n",n) },
  "blocks ind": func(n int) string { return rep(" a {\n",n)+rep(" }\n",n) },
  "blocks ind open": func(n int) string { return rep(" a {\n",n) },
  "splat": func(n int) string { return "a = b"+rep("[*]",n)+"\n" },
  "minus": func(n int) string { return "a = "+rep("-",n)+"1\n" },
  "bang": func(n int) string { return "a = "+rep("!",n)+"1\n" },
  "cond": func(n int) string { return "a = "+rep("c ? 1 : ",n)+"1\n" },
  "cond2": func(n int) string { return "a = "+rep("c ? ",n)+"1"+rep(": 1",n)+"\n" },
  "plus": func(n int) string { return "a = 1"+rep(" + 1",n)+"\n" },
  "if heredoc": func(n int) string { return "a = <<E\n"+rep("%{ if x }",n)+rep("%{ endif }",n)+"\nE\n" },
  "if string open": func(n int) string { return "a = \""+rep("%{ if x }",n)+"\"\n" },
  "heredoc": func(n int) string { return "a = <<E\n"+rep("x\n",n)+"E\n" },
  "heredoc open": func(n int) string { return "a = <<E\n"+rep("x\n",n) },
  "comments": func(n int) string { return rep("/*",n) },
  "comments lines": func(n int) string { return rep("/*\n",n) },
  "comments str": func(n int) string { return "a = \"abc\n \""+rep("/* ",n) },
  "heredocs": func(n int) string { var b strings.Builder; for i := range n { fmt.Fprintf(&b, "a = <<E%d\n", i)}; return b.String() },
  "heredoc blocks": func(n int) string { var b strings.Builder; for i := range n { fmt.Fprintf(&b, "a {\nx = <<E%d\n", i)}; return b.String() },
  "digits": func(n int) string { return "a = "+rep("1",n)+"\n" },
  "exp": func(n int) string { return "a = 1e"+fmt.Sprint(n*1000)+"\n" },
  "attrs": func(n int) string { return rep("a = 1\n",n) },
  "attrs in block": func(n int) string { return "b {\n"+rep("  a = 1\n",n)+"}\n" },
  "bad chars": func(n int) string { return "b {\n"+rep("^",n)+"}\n" },
  "bad escapes": func(n int) string { return "b {\nx = \""+rep("\\q",n)+"\"\n}\n" },
  "badutf8": func(n int) string { return "b {\n"+rep("\xff",n)+"}\n" },
  "nul": func(n int) string { return "b {\n"+rep("\x00",n)+"}\n" },
  "dollars": func(n int) string { return "b {\n x = \""+rep("$a",n)+"\"\n}\n" },
  "quotes": func(n int) string { return "b {\n"+rep("\"\n",n)+"}\n" },
  "stray": func(n int) string { return "b {\n"+rep("}",n)+"}\n" },
  "stray lines": func(n int) string { return "b {\n"+rep("}\n",n)+"}\n" },
  "junk braces": func(n int) string { return rep("a {\n}{\n",n) },
  "blocks": func(n int) string { return rep("a {}\n",n) },
  "for obj lines": func(n int) string { return "a = {for x in y : x => "+rep("-\n",n)+"1}\n" },
  "indent": func(n int) string { var b strings.Builder; b.WriteString("a {\n"); for i := range min(n,700) { b.WriteString(rep(" ",i+1)+"b = [\n") }; return b.String() },
  "open lists": func(n int) string { return "a {\n"+rep("  b = [1,\n", n)+"}\n" },
  "open lists2": func(n int) string { return rep("a {\n"+rep("  b = [1,\n", 1000)+"}\n", n/1000) },
  "spaces": func(n int) string { return rep(" \n",n) },
  "dots": func(n int) string { return "a = b"+rep(".c",n)+"\n" },
  "star": func(n int) string { return "a = b"+rep(".*",n)+"\n" },
  "labels": func(n int) string { return "a "+rep("\"x\" ",n)+" {}\n" },
 }
 for name, mk := range in { for _, n := range []int{1000,20000,100000,1000000} {
  src := mk(n)
  t0 := time.Now()
  f := Parse(NewText("a", []byte(src)))
  t1 := time.Since(t0)
  np := 0; var first *Problem
  if f.Refused() != nil { first = f.Refused(); np=1 }
  for _, p := range f.Pieces { p.Body(); for _, x := range p.Problems() { if first == nil {first=&x}; np++ }; p.Tokens() }
  d := time.Since(t0)
  mark := ""
  if d > 300*time.Millisecond { mark="SLOW" }
  if first == nil { first = &Problem{} ; mark += " NONE" }
  fmt.Printf("%-16s %8d %8d B cut %v all %v pieces %d problems %d %s %q %s\n", name, n, len(src), t1.Round(time.Millisecond/10), d.Round(time.Millisecond/10), len(f.Pieces), np, first.Summary, first.Detail[:min(70,len(first.Detail))], mark)
 }
 runtime.GC()
 }
}
