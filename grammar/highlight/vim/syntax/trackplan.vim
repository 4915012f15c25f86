" Written by `python -m trackplan.highlight` from plan.lark: do not edit.
if exists("b:current_syntax")
  finish
endif
syntax match trackplanName /\v\a[[:alnum:]_]*%([-.]+[[:alnum:]_]+)*/
syntax match trackplanNumber /\v%([[:alnum:]_.])@<!%([2-9]x\s*)?%([1-4]\/0|\d+%(\.\d+)?)%(\s*%(degrees|cm\/s|mm\/s|mohm|AWG|m\/s|mm2|mm²|ohm|cm|ft|in|mA|mm|ms|\%|A|C|F|V|m|s)%(\s+%(solid|stranded))?)?%([[:alnum:]_.,\/%])@!/
syntax match trackplanKeyword /\v%([[:alnum:]_.-])@<!%(approach-track|transfer-table|isolated-frog|metal-wheels|movable-frog|sprung-frog|symmetrical|keep-alive|unweighted|automatic|dead-frog|diverging|live-frog|staggered|three-way|turntable|unpowered|contacts|crossing|district|endplate|far-side|reverser|scissors|switched|because|booster|closure|crossed|include|jumpers|segment|through|turnout|accept|around|common|couple|crawls|curved|double|engine|feeder|module|number|single|solder|sprung|block|joint|limit|rails|right|scale|split|stock|train|trips|bond|both|code|dead|frog|from|lamp|left|legs|plan|rail|slip|stop|stub|with|bus|cab|cut|gap|wye|at|in|of|or|to)%([[:alnum:]_.-])@!/
syntax match trackplanStatement /\v^%(approach-track|transfer-table|three-way|turntable|crossing|district|endplate|reverser|scissors|booster|include|segment|turnout|accept|common|couple|engine|feeder|module|solder|block|joint|limit|rails|scale|train|bond|frog|lamp|plan|slip|stub|bus|cab|cut|gap)%([[:alnum:]_.-])@!/
syntax match trackplanArrow /->/
syntax match trackplanText /"[^"]*"/
syntax match trackplanComment /#.*$/ contains=@Spell
highlight default link trackplanName Identifier
highlight default link trackplanNumber Number
highlight default link trackplanKeyword Keyword
highlight default link trackplanStatement Statement
highlight default link trackplanArrow Operator
highlight default link trackplanText String
highlight default link trackplanComment Comment
let b:current_syntax = "trackplan"
