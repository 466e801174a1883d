" Drives the real server from Vim with ALE, and says how each step went:
"
"   OHMSTEAD_BIN=…/ohmstead PLAN=DIR vim -es -u NONE -i NONE -n -N -S check.vim
"
" DIR is a copy of editors/testdata/broken. Each step prints a line "ok: …" or
" "FAIL: …"; the exit code is 1 when one failed. A Vim without ALE prints only
" "lacks: …".
let s:here = expand('<sfile>:p:h')
let s:failed = 0

function! s:Print(line) abort
  new
  call setline(1, substitute(a:line, '\s*\n\s*', ' | ', 'g'))
  print
  bwipeout!
endfunction

function! s:Say(good, text) abort
  let s:failed = s:failed || !a:good
  call s:Print((a:good ? 'ok: ' : 'FAIL: ') . a:text)
endfunction

" Waits until an expression holds, for 3 min at most.
function! s:Await(expression) abort
  for l:i in range(9000)
    if eval(a:expression)
      return 1
    endif
    sleep 20m
  endfor
  return 0
endfunction

function! s:At(pattern) abort
  return filter(copy(ale#engine#GetLoclist(bufnr('%'))), {_, d -> getline(d.lnum) =~# a:pattern})
endfunction

execute 'set runtimepath+=' . fnameescape(s:here)
" Without a vimrc Vim is not told of the packages of a distribution.
execute 'set packpath+=/usr/share/vim/vimfiles'
let g:ale_ohmstead_executable = $OHMSTEAD_BIN
let g:ale_linters_explicit = 1
let g:ale_linters = {'ohmstead': ['ohmstead']}
let g:ale_lint_delay = 50
silent! packadd ale
if exists(':ALEHover') != 2
  call s:Print('lacks: the plugin ALE (vim-ale in Debian)')
  cquit
endif
filetype plugin on
syntax on
execute 'edit ' . fnameescape($PLAN . '/porch.ohm.hcl')

call s:Say(&filetype ==# 'ohmstead', 'file type ' . &filetype)
call search('16 AWG')
call s:Say(synIDattr(synID(line('.'), col('.') + 3, 1), 'name') ==# 'ohmsteadUnit', 'AWG is coloured as a unit')

" In script mode Vim is never idle: ask for the first look.
call ale#Queue(0)
call s:Await('!empty(s:At("length = 1.2$"))')
let s:found = s:At('length = 1.2$')
call s:Say(!empty(s:found), 'diagnostic ' . (empty(s:found) ? 'missing' : s:found[0].lnum . ':' . s:found[0].col . ' ' . s:found[0].text))

" A change must reach the server: the length gets its unit by hand.
call search('length = 1.2$')
call setline('.', '  length = "1.2 m"')
call ale#Queue(0)
call s:Say(s:Await('empty(filter(s:At("length = \"1.2 m\""), "v:val.type ==# \"E\""))'), 'the diagnostic goes when the unit is there')

" Nor is a script ever in insert mode, where alone ALE takes a completion.
call ale#util#Mode()
function! ale#util#Mode(...) abort
  return 'i'
endfunction
let s:words = []
call search('wire = wire\.data')
call cursor(line('.'), strlen('  wire = wire.') + 1)
call ale#completion#GetCompletions('ale-callback', {
\   'prefix': '',
\   'callback': {found -> extend(s:words, map(copy(found), 'v:val.word'))},
\})
call s:Await('!empty(s:words)')
call s:Say(index(s:words, 'feed') >= 0 && index(s:words, 'data') >= 0, 'completion ' . join(s:words))

execute s:failed ? 'cquit' : 'qall!'
