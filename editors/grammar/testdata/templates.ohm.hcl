plan "a" {
  title = "for ${let.name}"
#              ^^^^^^^^^^^ invalid.illegal.template
#                         ^ !invalid.illegal
  note  = "costs $${5} or %%{6}"
#                ^^^ constant.character.escape
#                ^^^^^^^^^^^^^ !invalid.illegal
  note  = "a \"quoted\" word"
#            ^^ constant.character.escape
#                       ^^^^ string.quoted.double
  note = <<-EOT
#        ^^^^^^ punctuation.definition.heredoc
    Key with the caretaker, run.arch { 3 m
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ string.unquoted.heredoc
#                           ^^^ !entity.name
    %{ if x }
#   ^^^^^^^^^ invalid.illegal.template
  EOT
# ^^^ punctuation.definition.heredoc
  rate = "40 Hz"
# ^^^^ variable.other.property
}
