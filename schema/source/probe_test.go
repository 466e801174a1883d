package source
import ("testing";"fmt";"strings")
func TestProbe(t *testing.T){
 states := []string{"mi","run","mid: 5","mid =","mid = 5 +","mid = 5m","mid = 5 volt","mid = a ? 1","mid = supply.","mid = supply.main.","run \"x\"","mid = [1, 2","mid = max(1,","mid = supply[","mid = <<EOT","mid = \"abc","mid = \"${supply.","run \"x","mid = {","run \"x\" {","}","before = 2","/* x","mid = [[1,2],\n    [3,\n  ]","mid = [\n    \"a\",\n    \"b,\n    \"c\",\n  ]","path {\n    x = 1","mid = max(\"abc", "mid = 'x'", "a =\n  b = \n  c = \"x", "} }", "mid = {\n    a = 1\n    b = [\n  }"}
 for _, st := range states {
  for _, crlf := range []bool{false} {
  src := "run \"a\" {\n  x = 1\n}\n\n# doc\nrun \"b\" {\n  before = 1\n  "+st+"\n  after = 3\n\n  path {\n    start = 4\n  }\n}\n\nrun \"c\" {\n  y = 1\n}\n"
  if crlf { src = strings.ReplaceAll(src,"\n","\r\n") }
  f := Parse(NewText("a", []byte(src)))
  fmt.Printf("== %q pieces=%d\n", st, len(f.Pieces))
  for i, p := range f.Pieces {
    for _, b := range p.Body().Blocks {
      var as []string
      for n, a := range b.Body.Attributes { e := a.Expr.Range(); bad := ""; if p.Broken(a.SrcRange.Start.Byte, a.SrcRange.End.Byte) {bad="!"}; as = append(as, n+bad+"="+fmt.Sprintf("%q", p.data[e.Start.Byte:min(e.End.Byte,len(p.data))])) }
      var bs []string
      for _, b := range b.Body.Blocks { bs = append(bs, b.Type+strings.Join(b.Labels,",")+fmt.Sprint(len(b.Body.Attributes))) }
      if i == 1 || len(f.Pieces) != 3 {fmt.Println("  ", i, b.Type, b.Labels, as, bs)}
    }
    for _, pr := range p.Problems() { fmt.Printf("     %d %q %s | %s\n", i, p.data[pr.Start:pr.End], pr.Summary, pr.Detail) }
  }
  }
 }
}
