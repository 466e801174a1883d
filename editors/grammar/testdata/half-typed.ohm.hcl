lead "left" {
  length = "1.2 m
#          ^^^^^^ string.quoted.double
  fuse = "7.5 A"
# ^^^^ variable.other.property
#         ^^^ constant.numeric.quantity
  from =
# ^^^^ variable.other.property
  from = supply.
#        ^^^^^^ entity.name.type.reference
  wire
}
#<- punctuation.section.block.end
run "b" {
#<- storage.type.block
