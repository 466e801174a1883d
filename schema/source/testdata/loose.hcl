top = 1

other = [
  2,
]
a "b" c {}


# last words, and no line end after the block
run "x" {
}