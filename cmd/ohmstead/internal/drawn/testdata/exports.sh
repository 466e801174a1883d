#!/bin/sh
# Writes the drawings of vector programs beside it anew from sources/. Run it in
# this directory on Debian 12 with: dia fig2dev gnuplot-nox graphviz inkscape ipe
# libreoffice-draw plotutils poppler-utils potrace. Then run lengths.py.
set -eu
export QT_QPA_PLATFORM=offscreen
dia -n -e dia.svg -t svg sources/dia.dia
fig2dev -L svg sources/fig2dev.fig fig2dev.svg
gnuplot sources/gnuplot.gp
dot -Tsvg sources/graphviz.dot -o graphviz.svg
inkscape sources/inkscape.svg --actions="select-by-id:moon;object-to-path;select-clear;select-by-id:path7;transform-rotate:30;select-clear;select-by-id:frame;object-to-path;select-clear;select-by-id:swell;transform-translate:10,-5;export-filename:inkscape.svg;export-do"
iperender -svg sources/ipe.ipe ipe.svg
soffice --headless --convert-to svg --outdir . sources/libreoffice.fodg
pdftocairo -svg sources/pdftocairo.pdf pdftocairo.svg
graph -T svg -C -g 0 < sources/plotutils.txt > plotutils.svg
potrace -s sources/potrace.pbm -o potrace.svg
