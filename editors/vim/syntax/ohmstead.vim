" Syntax of Ohmstead plans. Written by editors/grammar/build.mjs.
if exists('b:current_syntax')
  finish
endif

syn keyword ohmsteadBlock plan policy let usual strip diffuser wire fixing surface supply board controller joint holder consumable run runs lead signal chain feed assembly order universes case reading marking arc branch circle copy curve edge hop keepout line path pin polygon port rectangle contained
syn keyword ohmsteadProperty accuracy ambient ampacity amps angle at away backup_data because bend_plane bend_radius beside bit_rate bits board buffer cap_price capacitance capacitor caps carries case ceiling centre channel_current channels chip circuit clocked closed coldest color cores corner count cover cut data data_enters density depth derate derate_from diffuser digits distance drop efficiency enclosure ends error every exposure first fixing for form forward from fuse gauge gauges group have have_pieces heading headroom heat_limit height held hint holder holds holds_down_to holds_up_to idle_current inner_width input input_voltage inrush insert insulation joinable kind lanes latch length level like limited load logic logic_high logic_voltage long mains material max_temperature max_voltage min_temperature min_voltage minus mirror mitred needs note occupied off ohms on order output outputs overload own_power pack parallel piece pin pixels plus power_factor price priority push_limit pwm_rate radius rail rail_current rate rating reel resistance resistor row_shift rows runs selector series series_resistor shape shift side sides slack slot source spacing spare stack start stock stranded strip sweep tail taken through times title to tolerance toward trim turn use voltage volts warning ways weight what whole_pixels why width wire within contained
syn keyword ohmsteadPlace out power port start end contained
syn keyword ohmsteadBoolean true false

" A block type stands before labels and a brace, an attribute before "=".
syn match ohmsteadHead /\v<\h[[:alnum:]_-]*\ze%(\s*"[^"]*"){0,2}\s*\{/ contains=ohmsteadBlock
syn match ohmsteadName /\v<\h[[:alnum:]_-]*\ze\s*\=/ contains=ohmsteadProperty
syn match ohmsteadFunction /\v<%(difference|from_end|greatest|round_to|in_turn|least|scale|sum)>\ze\s*\(/
syn match ohmsteadRoot /\v<%(consumable|controller|universes|assembly|diffuser|marking|reading|surface|fixing|holder|policy|signal|supply|board|chain|joint|order|strip|usual|case|feed|lead|plan|runs|wire|let|run|catalog)\ze\./
syn match ohmsteadMember /\v\.@1<=\h[[:alnum:]_-]*/ contains=ohmsteadPlace
syn match ohmsteadNumber /\v<\d+%(\.\d+)?>/

syn match ohmsteadEscape /\v\\%([nrt"\\]|u\x{4}|U\x{8})|\$\$\{|\%\%\{/ contained
syn match ohmsteadTemplate /\v%(\$|\%)\{[^}"]*\}?/ contained
syn region ohmsteadString start=/"/ skip=/\\./ end=/"\|$/ contains=ohmsteadEscape,ohmsteadTemplate
syn region ohmsteadString start=/\v\<\<-?\z(\h\w*)$/ end=/\v^\s*\z1$/ contains=ohmsteadTemplate

" A string that is all quantity: "3.2 m", "16 ft 4 in", "60/m", "18 AWG".
syn match ohmsteadQuantity /\v"\s*[-+]?[0-9.][0-9.\/ ]*\s*%(ohm\/kft|\%\/degC|\%\/degF|Mbit\/s|kbit\/s|mohm\/m|ohm\/ft|ohm\/km|bit\/s|lb\/ft|ohm\/m|oz\/ft|W\/ft|degC|degF|kg\/m|kohm|mohm|turn|\%\/K|\/cm|\/ft|\/in|AUD|AWG|CAD|CHF|CZK|DKK|EUR|GBP|JPY|MHz|NOK|PLN|SEK|USD|W\/m|deg|fps|g\/m|kHz|min|mm2|ohm|rad|\/m|Hz|cm|ft|in|kV|kW|kg|km|lb|mA|mF|mV|mW|mm|ms|nF|ns|oz|uA|uF|us|yd|\%|A|F|K|V|W|g|h|m|s)%(\s+[0-9.\/ ]+\s*%(ohm\/kft|\%\/degC|\%\/degF|Mbit\/s|kbit\/s|mohm\/m|ohm\/ft|ohm\/km|bit\/s|lb\/ft|ohm\/m|oz\/ft|W\/ft|degC|degF|kg\/m|kohm|mohm|turn|\%\/K|\/cm|\/ft|\/in|AUD|AWG|CAD|CHF|CZK|DKK|EUR|GBP|JPY|MHz|NOK|PLN|SEK|USD|W\/m|deg|fps|g\/m|kHz|min|mm2|ohm|rad|\/m|Hz|cm|ft|in|kV|kW|kg|km|lb|mA|mF|mV|mW|mm|ms|nF|ns|oz|uA|uF|us|yd|\%|A|F|K|V|W|g|h|m|s))*\s*"/ contains=ohmsteadUnit
syn match ohmsteadUnit /\v[0-9 ]@1<=%(ohm\/kft|\%\/degC|\%\/degF|Mbit\/s|kbit\/s|mohm\/m|ohm\/ft|ohm\/km|bit\/s|lb\/ft|ohm\/m|oz\/ft|W\/ft|degC|degF|kg\/m|kohm|mohm|turn|\%\/K|\/cm|\/ft|\/in|AUD|AWG|CAD|CHF|CZK|DKK|EUR|GBP|JPY|MHz|NOK|PLN|SEK|USD|W\/m|deg|fps|g\/m|kHz|min|mm2|ohm|rad|\/m|Hz|cm|ft|in|kV|kW|kg|km|lb|mA|mF|mV|mW|mm|ms|nF|ns|oz|uA|uF|us|yd|\%|A|F|K|V|W|g|h|m|s)\ze["[:space:]]/ contained

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
