set terminal svg size 400,300 name "plot"
set output "gnuplot.svg"
unset border; unset tics; unset key
set xrange [0:2*pi]; set yrange [-1.1:1.1]
set samples 60
plot sin(x) lw 2, cos(x)*0.5 lw 2
