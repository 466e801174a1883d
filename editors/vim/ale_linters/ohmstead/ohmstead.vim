" Ohmstead for ALE.
call ale#Set('ohmstead_executable', 'ohmstead')
call ale#Set('ohmstead_settings', {})

function! s:Root(buffer) abort
  let l:folder = fnamemodify(bufname(a:buffer), ':p:h')
  let l:git = finddir('.git', escape(l:folder, ' ,') . ';')
  return empty(l:git) ? l:folder : fnamemodify(l:git, ':p:h:h')
endfunction

call ale#linter#Define('ohmstead', {
\   'name': 'ohmstead',
\   'lsp': 'stdio',
\   'language': 'ohmstead',
\   'executable': {buffer -> ale#Var(buffer, 'ohmstead_executable')},
\   'command': '%e lsp',
\   'lsp_config': {buffer -> {'ohmstead': ale#Var(buffer, 'ohmstead_settings')}},
\   'project_root': function('s:Root'),
\})
