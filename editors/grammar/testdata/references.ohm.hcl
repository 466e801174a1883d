lead "left" {
  from = supply.brick.out
#        ^^^^^^ entity.name.type.reference
#              ^ punctuation.accessor
#               ^^^^^ variable.other.reference
#                     ^^^ constant.language.place
  from = supply.brick.out[2]
#                        ^ punctuation.section.brackets
#                         ^ constant.numeric
  to   = run.arch["1.5 m"]
#        ^^^ entity.name.type.reference
#            ^^^^ variable.other.reference
#                ^ punctuation.section.brackets
#                  ^^^ constant.numeric.quantity
#                      ^ keyword.other.unit
  to   = run.start.start
#            ^^^^^ variable.other.reference
#                  ^^^^^ constant.language.place
  wire = wire.feed-16
# ^^^^ variable.other.property
#        ^^^^ entity.name.type.reference
#             ^^^^^^^ variable.other.reference
  like = catalog.ws2815_12v_60
# ^^^^ variable.other.property
#        ^^^^^^^ entity.name.type.reference
#                ^^^^^^^^^^^^^ variable.other.reference
}

signal "arch" {
  from = controller.brain.port.a
#        ^^^^^^^^^^ entity.name.type.reference
#                        ^ punctuation.accessor
#                         ^^^^ constant.language.place
#                              ^ variable.other.reference
  to   = run.
#        ^^^ entity.name.type.reference
#           ^ punctuation.accessor
  wire = wire.data
# ^^^^ variable.other.property
#             ^^^^ variable.other.reference
}

order "arch" { runs = [run.arch, from_end(run.right)] }
#                      ^^^ entity.name.type.reference
#                                ^^^^^^^^ support.function
#                                         ^^^ entity.name.type.reference
