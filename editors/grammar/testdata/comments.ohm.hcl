# a comment with run.arch and "3 m"
#<- punctuation.definition.comment
#           ^^^^^^^^ comment.line.number-sign
#           ^^^^^^^^ !entity.name
// another
#<- punctuation.definition.comment
#  ^^^^^^^ comment.line.double-slash
/* over
   two lines { */
#  ^^^^^^^^^^^^ comment.block
# ohmstead: allow rate-low because one frame a second is plenty
#<- punctuation.definition.comment
# ^^^^^^^^^ keyword.control.directive
#           ^^^^^ keyword.control.allow
#                 ^^^^^^^^ entity.name.rule
#                          ^^^^^^^ keyword.control.because
#                                  ^^^ string.unquoted.reason
#                 ^^^^^^^^ comment.line.allow
// ohmstead: allow rate-low
#            ^^^^^ keyword.control.allow
#                  ^^^^^^^^ entity.name.rule
run "arch" { # the long one
#<- storage.type.block
#            ^^^^^^^^^^^^^^ comment.line
  length = "3 m" # measured
#           ^ constant.numeric.quantity
#                ^^^^^^^^^^ comment.line
}
