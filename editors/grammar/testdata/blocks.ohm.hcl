plan "porch-arch" {
#<- storage.type.block.ohmstead
#    ^^^^^^^^^^^^ string.quoted.double.label.ohmstead
#                 ^ punctuation.section.block.begin
  title = "Arch over 2 m"
# ^^^^^ variable.other.property.ohmstead
#       ^ keyword.operator.assignment
#         ^^^^^^^^^^^^^^^ string.quoted.double.ohmstead
#                   ^ !constant.numeric
}
#<- punctuation.section.block.end

wire "data"     { gauge = "22 AWG" }
#<- storage.type.block
#                 ^^^^^ variable.other.property
#                          ^^ constant.numeric.quantity
#                             ^^^ keyword.other.unit
#                                  ^ punctuation.section.block.end

run "arch" {
  path {
# ^^^^ storage.type.nested.ohmstead
    line { to = ["0 cm", "140 cm"] }
#   ^^^^ storage.type.nested
#          ^^ variable.other.property
#               ^ punctuation.section.brackets
#                 ^ constant.numeric.quantity
#                   ^^ keyword.other.unit
  }
}

board "mine" {
  pin "4" { use = "good" }
# ^^^ storage.type.nested
#     ^^^ string.quoted.double.label
#         ^ punctuation.section.block.begin
#                  ^^^^ constant.other.choice
}

let {
#<- storage.type.block
  gap   = "16 in"
# ^^^ variable.other.name
  shelf = difference("90 cm", let.gap)
#         ^^^^^^^^^^ support.function
#                   ^ punctuation.section.arguments
#                             ^^^ entity.name.type.reference
#                                 ^^^ variable.other.reference
}

rnu "arch" {
#<- !storage.type
  lenght = 1
# ^^^^^^ !variable.other.property
}

strip "x" {
  channel_current = { R = "20 mA", W = "15 mA" }
# ^^^^^^^^^^^^^^^ variable.other.property
#                   ^ punctuation.section.map.begin
#                     ^ variable.other.name
#                             ^^ keyword.other.unit
#                                ^ punctuation.separator.comma
#                                              ^ punctuation.section.map.end
  clocked = true
#           ^^^^ constant.language.boolean
}
#<- punctuation.section.block.end
