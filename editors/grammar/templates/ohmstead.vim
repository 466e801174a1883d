" Syntax of Ohmstead plans. Written by editors/grammar/build.mjs.
if exists('b:current_syntax')
  finish
endif

syn keyword ohmsteadBlock {{blocks words}} {{nested words}} contained
syn keyword ohmsteadProperty {{attributes words}} contained
syn keyword ohmsteadPlace {{places words}} contained
syn keyword ohmsteadBoolean true false

" A block type stands before labels and a brace, an attribute before "=".
syn match ohmsteadHead /\v<\h[[:alnum:]_-]*\ze%(\s*"[^"]*"){0,2}\s*\{/ contains=ohmsteadBlock
syn match ohmsteadName /\v<\h[[:alnum:]_-]*\ze\s*\=/ contains=ohmsteadProperty
syn match ohmsteadFunction /\v<%({{functions}})>\ze\s*\(/
syn match ohmsteadRoot /\v<%({{blocks}}|catalog)\ze\./
syn match ohmsteadMember /\v\.@1<=\h[[:alnum:]_-]*/ contains=ohmsteadPlace
syn match ohmsteadNumber /\v<\d+%(\.\d+)?>/

syn match ohmsteadEscape /\v\\%([nrt"\\]|u\x{4}|U\x{8})|\$\$\{|\%\%\{/ contained
syn match ohmsteadTemplate /\v%(\$|\%)\{[^}"]*\}?/ contained
syn region ohmsteadString start=/"/ skip=/\\./ end=/"\|$/ contains=ohmsteadEscape,ohmsteadTemplate
syn region ohmsteadString start=/\v\<\<-?\z(\h\w*)$/ end=/\v^\s*\z1$/ contains=ohmsteadTemplate

" A string that is all quantity: "3.2 m", "16 ft 4 in", "60/m", "18 AWG".
syn match ohmsteadQuantity /\v"\s*[-+]?[0-9.][0-9.\/ ]*\s*%({{units vim}})%(\s+[0-9.\/ ]+\s*%({{units vim}}))*\s*"/ contains=ohmsteadUnit
syn match ohmsteadUnit /\v[0-9 ]@1<=%({{units vim}})\ze["[:space:]]/ contained

syn match ohmsteadComment /\v%(#|\/\/).*$/ contains=ohmsteadAllow,@Spell
syn region ohmsteadComment start=/\/\*/ end=/\*\// contains=@Spell
syn match ohmsteadAllow /\vohmstead:\s*allow>%(\s+\h[[:alnum:]_-]*)?%(\s+because)?/ contained

hi def link ohmsteadBlock Statement
hi def link ohmsteadProperty Identifier
hi def link ohmsteadFunction Function
hi def link ohmsteadRoot Type
hi def link ohmsteadPlace Constant
hi def link ohmsteadBoolean Boolean
hi def link ohmsteadNumber Number
hi def link ohmsteadString String
hi def link ohmsteadQuantity Number
hi def link ohmsteadUnit Special
hi def link ohmsteadEscape SpecialChar
hi def link ohmsteadTemplate Error
hi def link ohmsteadComment Comment
hi def link ohmsteadAllow SpecialComment

let b:current_syntax = 'ohmstead'
