autocmd BufRead,BufNewFile *.ohm.hcl if &filetype !=# 'ohmstead' | set filetype=ohmstead | endif
