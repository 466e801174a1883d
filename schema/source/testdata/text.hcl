/* A block comment
run "commented" {
}
*/
plan "text" {
  note = <<EOT
run "quoted" {
  # not a comment
  ${let.a} and $${not.this} and %%{nor this}
/* nor this
EOT
  more = <<-MORE
    indented
    %{ if let.a }
plan "inner" {
    %{ else }
    "
    %{ endif }
  MORE
  url = "https://example.invalid/a//b#c"
  odd = "a { b /* c \" ${join("}", ["{", "/*"])} \\"
}

/* a comment directly above */
/* and another */
strip "a" { price = "1 EUR" } // behind
# wide: ünïcödé 🎄 e + U+0301: é
strip "b" /* between */ "c" {
  note = "${
    let.a
  } over ${ upper(
"x") } lines"
}

fixing "ungewöhnlich" {
  größe = "5 mm"
  names = { "a b" = 1, (let.a) = 2, c : 3 }
  list  = [for k, v in let.m : "${k}=${v}" if v != null]
  map   = { for k, v in let.m : k => v... }
  neg   = -let.a * (1 + 2) / 3 % 4
  cond  = let.a >= 1 && !let.b ? let.c[0].d : let.e.*.f
  splat = let.a[*].b
  call  = scale("1 m", least(1, 2)...)
}
