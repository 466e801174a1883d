let {
  a = "16 ft 4 in"
#     ^^^^^^^^^^^^ string.quoted.double.quantity
#      ^^ constant.numeric.quantity
#         ^^ keyword.other.unit
#            ^ constant.numeric.quantity
#              ^^ keyword.other.unit
  b = "60/m"
#      ^^ constant.numeric.quantity
#        ^^ keyword.other.unit
  c = "5 1/2 in"
#      ^^^^^ constant.numeric.quantity
#            ^^ keyword.other.unit
  d = "2.5 %/degC"
#      ^^^ constant.numeric.quantity
#          ^^^^^^ keyword.other.unit
  e = "0.75 mm2"
#      ^^^^ constant.numeric.quantity
#           ^^^ keyword.other.unit
  f = "-1.5 m"
#      ^^^^ constant.numeric.quantity
  g = "3 furlong"
#     ^^^^^^^^^^^ string.quoted.double.ohmstead
#      ^ !constant.numeric
  h = "1,5 m"
#     ^ !constant.numeric
  i = 42
#     ^^ constant.numeric.ohmstead
#     ^^ !string
  j = "#ffb070"
#      ^^^^^^^ constant.other.colour
  k = "#ffb07"
#      ^^^^^^ !constant.other.colour
#      ^^^^^^ !comment
  l = "1/0 AWG"
#      ^^^ constant.numeric.quantity
#          ^^^ keyword.other.unit
}
