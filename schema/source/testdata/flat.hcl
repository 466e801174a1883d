run "arch" {
strip = strip.arch
path {
start = ["0 cm", "0 cm"]
line { to = ["0 cm", "140 cm"] }
arc {
radius = "45 cm"
}
# the way down
line {
to = [
"90 cm",
"0 cm",
]
}
}
length = "3.6 m"
}
// nothing between these two
wire "feed" {
gauge = "16 AWG"
}
wire "data" {
}
let {
shares = {
G = 1
R = 0.5
}
names = [
for run in {
a = 1
} : run
if true
]
more = [for x
in { a = 1 } : x
if { b = true }.b
]
}
